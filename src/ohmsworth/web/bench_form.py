"""The form of the bench: what it is filled with, what it sends, and how that becomes a draft."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import cast

from fastapi import Request

from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.units import Decimal
from ohmsworth.web.forms import Sent
from ohmsworth.work.columns import Columns
from ohmsworth.work.drafts import FIGURES, LABELS, SIGNS, Draft
from ohmsworth.work.next_step import NextStep
from ohmsworth.work.study_log import StudyState

#: Units of a bench that nobody has used yet.
FIRST_UNITS = {"voltage": "mV", "current": "mA", "resistance": "mΩ", "temperature": "°C"}
#: Before the name of a further column in the name of its field.
OTHER = "other."
#: Units that a form offers.
UNITS: dict[str, tuple[str, ...]] = {
    "voltage": ("µV", "mV", "V"),
    "current": ("µA", "mA", "A"),
    "resistance": ("µΩ", "mΩ", "Ω"),
    "temperature": ("°C", "°F", "K"),
}


def units_beside(quantity: str, unit: str) -> tuple[str, ...]:
    """The units that a field offers, among them the one that it has."""
    return UNITS[quantity] if unit in UNITS[quantity] else (unit, *UNITS[quantity])


@dataclass(frozen=True, slots=True)
class BenchForm:
    """The fields as text; `resistance_meter` where the bench reads ohms instead of volts and amperes."""

    step: int | None = None
    specimen: str = ""
    condition: str = ""
    contact: str = ""
    mating: str = ""
    polarity: str = "+"
    others: Mapping[str, str] = field(default_factory=dict)
    texts: Mapping[str, str] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=lambda: dict(FIRST_UNITS))
    temperature: str = ""
    temperature_unit: str = "°C"
    note: str = ""
    free: bool = False
    elapsed: float = 0.0


def read_bench_form(sent: Sent) -> BenchForm:
    """The form as it was sent."""
    others = {
        name.removeprefix(OTHER): text.strip() for name, text in sent.first.items() if name.startswith(OTHER)
    }
    units = {name: sent.text(f"{name}_unit") or FIRST_UNITS[name] for name in FIGURES}
    return BenchForm(
        sent.number("step"),
        **{name: sent.text(name) for name in LABELS},
        polarity=sent.text("polarity"),
        others=others,
        texts={name: sent.text(name) for name in ("voltage", "current", "resistance")},
        units=units,
        temperature=sent.text("temperature"),
        temperature_unit=units["temperature"],
        note=sent.text("note"),
        free=sent.text("volunteered") == "yes",
        elapsed=_seconds(sent.text("elapsed")),
    )


def _seconds(text: str) -> float:
    """Seconds that a page says a reading has waited; a page that says nonsense has not waited."""
    try:
        value = float(text)
    except ValueError:
        return 0.0
    return value if 0 <= value < 1e9 else 0.0


def draft_of(form: BenchForm, state: StudyState, columns: Columns, operator: str) -> Draft:
    """What the form says as a draft; a current left empty is the one read before."""
    figures = {
        name: (form.texts.get(name, ""), form.units[name]) for name in ("voltage", "current", "resistance")
    }
    figures["temperature"] = (form.temperature, form.temperature_unit)
    labels = columns.completed({name: str(getattr(form, name)) for name in LABELS} | dict(form.others))
    last = last_entry(state)
    before = {}
    if last is not None and last.current is not None and form.texts.get("voltage"):
        before = {"current": as_polarity(last.current, form.polarity)}
    return Draft(
        labels,
        form.polarity,
        figures,
        before,
        form.note,
        operator,
        form.step,
        form.elapsed,
        columns.needed,
    )


def as_polarity(typed: Typed, polarity: str) -> Typed:
    """A current of the same size, with no sign of its own: the polarity says which way it flows."""
    return replace(typed, text=typed.text.lstrip("+-")) if polarity in SIGNS else typed


def last_entry(state: StudyState) -> Entry | None:
    """The entry taken last."""
    return state.counted[-1].entry if state.counted else None


def last_typed(state: StudyState) -> Entry | None:
    """The entry that somebody typed last."""
    return next((one.entry for one in reversed(state.counted) if not one.read_by), None)


def reads_ohms(state: StudyState, form: BenchForm) -> bool:
    """Whether a resistance is read, instead of voltage and current: as before, or as the bench of the question says."""
    last = last_entry(state)
    if form.texts.get("resistance"):
        return True
    if last is not None:
        return last.resistance is not None
    return "[bench.ohmmeter]" in state.question and "[bench.voltmeter]" not in state.question


def form_of(entry: Entry) -> BenchForm:
    """The form as if the entry had been typed."""
    typed = {name: one for name in FIGURES if (one := getattr(entry, name)) is not None}
    units = FIRST_UNITS | {name: one.unit for name, one in typed.items()}
    return BenchForm(
        entry.step,
        entry.specimen,
        entry.condition,
        entry.contact,
        entry.mating,
        entry.polarity,
        entry.others,
        {name: one.text for name, one in typed.items() if name != "temperature"},
        units,
        typed["temperature"].text if "temperature" in typed else "",
        units["temperature"],
        entry.note,
        entry.step is None,
    )


def form_for(state: StudyState, columns: Columns, step: NextStep | None, do: str) -> BenchForm:
    """The form for a step: its labels, and the units, temperature and further columns of the last entry."""
    last = last_entry(state)
    others = columns.last_said(last.others if last is not None else {})
    form = replace(_remembering(last, last_typed(state)), others=others)
    if step is None:
        labels = {name: getattr(last, name) for name in LABELS} if last is not None and do != "free" else {}
        return replace(form, free=True, **labels)
    row = step.row
    return replace(
        form,
        step=row.step or None,
        specimen=row.specimen,
        condition=row.condition,
        contact=step.contact,
        mating=str(row.mating) if row.mating else "",
        polarity=row.polarity,
        free=not row.step,
    )


def _remembering(last: Entry | None, by_hand: Entry | None) -> BenchForm:
    """Units as somebody typed them last: those that a meter sends are not what a person types."""
    if last is None:
        return BenchForm()
    units = dict(FIRST_UNITS)
    for name in FIGURES:
        # The temperature is typed beside what the meters send.
        typed = getattr(last if name == "temperature" else by_hand, name, None)
        if typed is not None:
            units[name] = typed.unit
    warm = last.temperature
    return BenchForm(
        units=units, temperature=warm.text if warm else "", temperature_unit=units["temperature"]
    )


def form_after(state: StudyState, columns: Columns, step: NextStep | None, sent: BenchForm) -> BenchForm:
    """The form after a reading was taken: units stay as they were chosen, or as they were typed behind a figure."""
    form = form_for(state, columns, step, "on")
    entry = last_entry(state)
    typed = {name: one.unit for name in FIGURES if entry and (one := getattr(entry, name)) is not None}
    units = {**sent.units, **(typed if last_typed(state) is entry else {})}
    return replace(
        form,
        units=units,
        temperature=sent.temperature,
        temperature_unit=units["temperature"],
    )


def mark_of(request: Request) -> Decimal:
    """The decimal mark that this screen has shown for certain."""
    mark = request.cookies.get("mark", "")
    return cast(Decimal, mark) if mark in ("point", "comma") else "either"
