"""The fields that say what is connected, at the bench and where takes are recorded."""

from __future__ import annotations

from ohmsworth.web.bench_form import OTHER, BenchForm
from ohmsworth.web.filters import sentence
from ohmsworth.work.columns import Columns
from ohmsworth.work.study_log import StudyState


def label_fields(form: BenchForm, columns: Columns) -> tuple[tuple[str, str, str], ...]:
    """Name, label and text of the fields that the sheet fills in; not what other columns make up."""
    plain = [("contact", "Contact", form.contact), ("mating", "Mating", form.mating)]
    if columns.condition or form.condition:
        plain.insert(0, ("condition", "Condition", form.condition))
    if not columns.paired:
        plain.insert(0, ("specimen", "Specimen", form.specimen))
    return tuple(plain)


def further_fields(form: BenchForm, columns: Columns) -> tuple[tuple[str, str, str], ...]:
    """The same of the further columns, which the sheet does not fill in."""
    return tuple((f"{OTHER}{name}", sentence(name), form.others.get(name, "")) for name in columns.further)


def known_names(state: StudyState) -> dict[str, tuple[str, ...]]:
    """Names that the study has, to choose from."""
    rows = [(row.specimen, row.condition) for row in state.sheet]
    rows += [(one.entry.specimen, one.entry.condition) for one in state.counted]
    return {
        "specimen": tuple(dict.fromkeys(name for name, _ in rows)),
        "condition": tuple(dict.fromkeys(name for _, name in rows)),
    }
