"""What a person types for one reading, as an entry; every field at fault is told at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import cast

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry, Sign, Typed
from ohmsworth.units import Decimal
from ohmsworth.work.typed import read_typed

#: Names and figures longer than this are a slip of the clipboard.
LONGEST = 200
LABELS = ("specimen", "condition", "contact", "mating")
FIGURES = ("voltage", "current", "resistance", "temperature")
SIGNS = ("+", "-", "0", "")
#: A reading cannot have waited longer than this to be sent.
LONGEST_WAIT = 30 * 24 * 3600.0


@dataclass(frozen=True, slots=True)
class Draft:
    """One reading as text.

    Parameters
    ----------
    labels
        By column: specimen, condition, contact, mating, and further columns of the study.
    polarity
        "+", "-", "0" or "".
    figures
        Text and remembered unit by quantity; one without text was not read.
    before
        The same as before: quantities that were left empty and hold what was read last.
    elapsed
        Seconds since it was typed, where it had to wait.
    needed
        Columns that may not be left empty.
    """

    labels: Mapping[str, str]
    polarity: str
    figures: Mapping[str, tuple[str, str]]
    before: Mapping[str, Typed] = field(default_factory=dict)
    note: str = ""
    operator: str = ""
    step: int | None = None
    elapsed: float = 0.0
    needed: tuple[str, ...] = ("specimen", "condition")


@dataclass(frozen=True, slots=True)
class ReadDraft:
    """The entry, how each figure was read where that is worth saying, and the decimal mark that was seen."""

    entry: Entry
    said: Mapping[str, str]
    mark: Decimal | None


def read_draft(draft: Draft, mark: Decimal, now: datetime, *, typed: bool = True) -> ReadDraft:
    """Read what was typed.

    Parameters
    ----------
    draft
        The texts.
    mark
        The decimal mark of the shop, "either" where it is not known.
    now
        The moment at which it arrives.
    typed
        False for a reading whose figures the meters will say: what stands in their fields is left out.

    Raises
    ------
    InputRefused
        With every field at fault; `where` of each fault is the field's name.
    """
    faults = _label_faults(draft)
    figures: dict[str, Typed] = {}
    said: dict[str, str] = {}
    seen: Decimal | None = None
    for name in FIGURES if typed else ("temperature",):
        text, unit = draft.figures.get(name, ("", ""))
        if not text.strip():
            continue
        try:
            read = read_typed(text, name, name, unit, mark)
        except InputRefused as refused:
            faults += refused.faults
            continue
        figures[name], said[name], seen = read.typed, read.said, read.mark or seen
    off = draft.polarity == "0"
    for name, one in draft.before.items() if typed and not off else ():
        if name not in figures and not draft.figures.get(name, ("", ""))[0].strip():
            figures[name], said[name] = one, f"{one.text} {one.unit}, as before."
    faults += _missing(figures, {fault.where for fault in faults}, off) if typed else []
    if faults:
        raise InputRefused(tuple(faults))
    return ReadDraft(_entry(draft, figures, now), {n: words for n, words in said.items() if words}, seen)


def _entry(draft: Draft, figures: Mapping[str, Typed], now: datetime) -> Entry:
    labels = {name: " ".join(text.split()) for name, text in draft.labels.items()}
    waited = min(max(draft.elapsed, 0.0), LONGEST_WAIT)
    return Entry(
        specimen=labels.get("specimen", ""),
        condition=labels.get("condition", ""),
        contact=labels.get("contact", ""),
        mating=labels.get("mating", ""),
        polarity=cast(Sign, draft.polarity),
        voltage=figures.get("voltage"),
        current=figures.get("current"),
        resistance=figures.get("resistance"),
        temperature=figures.get("temperature"),
        time=now - timedelta(seconds=waited),
        operator=" ".join(draft.operator.split()),
        note=" ".join(draft.note.split()),
        step=draft.step,
        others={name: text for name, text in labels.items() if name not in LABELS and text},
    )


def _label_faults(draft: Draft) -> list[Fault]:
    faults = []
    for name in draft.needed:
        if not draft.labels.get(name, "").strip():
            faults.append(Fault(name, "nothing", f"which {name} is read", "Write its name."))
    for name, text in (*draft.labels.items(), ("note", draft.note), ("operator", draft.operator)):
        if len(text) > LONGEST:
            faults.append(
                Fault(
                    name,
                    f"{len(text)} letters",
                    f"at most {LONGEST}",
                    "Shorten it; long notes go with the study.",
                )
            )
    if draft.polarity not in SIGNS:
        faults.append(Fault("polarity", repr(draft.polarity[:9]), "+, − or 0", "Choose one."))
    return faults


def _missing(figures: Mapping[str, Typed], bad: set[str], off: bool) -> list[Fault]:
    """Voltage and current, or a resistance, and nothing half; no current where it is off."""
    have = {*figures, *bad}
    if "resistance" in have:
        return []
    return [
        Fault(name, "nothing", f"the {name} that the meter shows", "Type it and press Enter.")
        for name in (("voltage",) if off else ("voltage", "current"))
        if name not in have
    ]
