"""What is worth a word beside an entry and need not be answered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ohmsworth.readings.entry import Entry
from ohmsworth.readings.study import Study
from ohmsworth.resistance import SINGLE, Resistances

TURN = "Now turn the current round and read again: the thermal EMF then cancels."
#: Forward and reversed currents that differ by more were not one setting.
_SAME_CURRENT = 0.02


def find_notes(
    study: Study,
    earlier: Sequence[Entry],
    entry: Entry,
    resistances: Resistances,
    own: int | None,
    moved: bool,
) -> Iterator[str]:
    """The notes on `entry`, which made entry `own` of `resistances`; `moved`: its mating moved while it was read."""
    mate = next((one for one in reversed(earlier) if one.cell == entry.cell), None)
    if own is not None and entry.current is not None and entry.polarity in ("+", "-"):
        if resistances.form[own] == SINGLE:
            yield TURN
        elif mate and mate.current is not None and _differ(entry.current.value, mate.current.value):
            yield "Forward and reversed current differ by more than 2 %: set the same current both ways."
    if moved:
        yield "This mating moved while it was read; its first readings are not yet its resistance."
    if mate and _digits(mate) == _digits(entry):
        yield "The same digits as the reading before. Was it read afresh?"
    missing = study.bench.unstated(entry.resistance is not None)
    if missing:
        meters = " and ".join(missing)
        yield (
            f"The accuracy of the {meters} is not stated: of it this reading's uncertainty has the last digit alone, the answer "
            "how far readings scatter. An error that all readings share is in neither."
        )


def _differ(one: float, other: float) -> bool:
    return abs(abs(one) - abs(other)) > _SAME_CURRENT * max(abs(one), abs(other))


def _digits(entry: Entry) -> tuple[str | None, ...]:
    return tuple(
        None if typed is None else typed.text.lstrip("-")
        for typed in (entry.voltage, entry.current, entry.resistance)
    )
