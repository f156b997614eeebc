"""Cards of the shop that are picked on a study's form: what they say is written into its fields."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.cards.choices import Choice, choices, labels
from ohmsworth.work.cards.said import CheckStandardCard, LimitCard, MeterCard
from ohmsworth.work.records import Records
from ohmsworth.work.study_form import MeterForm, StudyForm

#: What the meter of each field measures, as its card says it.
MEASURED = {"voltmeter": "voltage", "ammeter": "current", "ohmmeter": "four-wire resistance"}
#: What is picked beside the meters, with the field beside which a fault is told.
FIELDS = {
    **{name: f"{name}.accuracy" for name in MEASURED},
    "limit": "limit",
    "check": "check_name",
    "job": "job",
}

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Offered:
    """What can be picked for each field: values with their labels; `form` is what each value fills in."""

    options: Mapping[str, Options]
    forms: Mapping[tuple[str, str], Mapping[str, Any]] = field(default_factory=dict)


def offered(records: Records) -> Offered:
    """The cards in use, as the form offers them."""
    options: dict[str, list[tuple[str, str]]] = {name: [] for name in FIELDS}
    forms: dict[tuple[str, str], Mapping[str, Any]] = {}
    for one in choices(records, "meter"):
        for name, value, label, filled in _ranges(one):
            options[name].append((value, label))
            forms[name, value] = filled
    for one in choices(records, "limit"):
        if isinstance(one.said, LimitCard):
            options["limit"].append((str(one.card), one.label))
            source = one.typed("source") or one.said.name
            forms["limit", str(one.card)] = {"limit": one.typed("resistance"), "limit_source": source}
    for one in choices(records, "check standard"):
        if isinstance(one.said, CheckStandardCard):
            options["check"].append((str(one.card), one.label))
            forms["check", str(one.card)] = _check(one, one.said)
    options["job"] = [(str(number), label) for number, label in labels(records, "job")]
    return Offered({name: tuple(found) for name, found in options.items()}, forms)


def _ranges(one: Choice) -> list[tuple[str, str, str, Mapping[str, Any]]]:
    """A meter's ranges: its field, the value, the label, what is filled in."""
    meter, rows = one.said, one.texts.get("ranges")
    if not isinstance(meter, MeterCard) or not isinstance(rows, Sequence):
        return []
    name = next(name for name, measured in MEASURED.items() if measured == meter.measures)
    found: list[tuple[str, str, str, Mapping[str, Any]]] = []
    for number, row in enumerate(rows, 1):
        up_to, accuracy, resolution = (str(row.get(key) or "") for key in ("up_to", "accuracy", "resolution"))
        called = f"{meter.name}, up to {up_to}"
        filled = {name: MeterForm(accuracy, resolution, called)}
        found.append((name, f"{one.card}.{number}", f"{called}: {accuracy}", filled))
    return found


def _check(one: Choice, said: CheckStandardCard) -> Mapping[str, str]:
    """A value without its uncertainty is no calibration, and stays out of the question."""
    known = said.uncertainty is not None
    return {
        "check_name": said.name,
        "check_value": one.typed("value") if known else "",
        "check_uncertainty": one.typed("uncertainty") if known else "",
    }


def with_cards(form: StudyForm, picked: Mapping[str, str], known: Offered) -> StudyForm:
    """The form with what the picked cards say in place of what was typed beside them.

    Raises
    ------
    InputRefused
        When a card that was picked is not offered any more.
    """
    gone = [name for name, value in picked.items() if value and value not in dict(known.options[name])]
    if gone:
        mend = "Choose another one, or type it beside the list."
        expected = "one of the list"
        raise InputRefused(
            tuple(Fault(FIELDS[name], "a card that is not in use any more", expected, mend) for name in gone)
        )
    for name, value in picked.items():
        form = replace(form, **known.forms.get((name, value), {}))
    return form
