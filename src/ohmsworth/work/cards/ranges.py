"""The ranges of a meter as they are typed: up to where, the accuracy stated, the size of one count."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.meters import Accuracy, accuracy_from_text
from ohmsworth.units import EXAMPLES, parse_quantity, tidy
from ohmsworth.work.cards.said import StatedRange
from ohmsworth.work.marks import one_line

#: More than any meter has.
MOST_RANGES = 20
PARTS = ("up_to", "accuracy", "resolution")
LABELS = {"up_to": "up to", "accuracy": "accuracy", "resolution": "one count"}
_LONGEST = 80


def read_ranges(
    given: Any, dimension: str, faults: list[Fault]
) -> tuple[list[dict[str, str]], tuple[StatedRange, ...]]:
    """What is kept of the ranges in their order, and the ranges that could be read, smallest first."""
    rows = [row for row in map(_row, given if isinstance(given, Sequence) else ()) if any(row.values())]
    if len(rows) > MOST_RANGES:
        faults.append(
            Fault("ranges", f"{len(rows)} of them", f"at most {MOST_RANGES}", "Leave out what is not used.")
        )
        rows = rows[:MOST_RANGES]
    found: dict[float, StatedRange] = {}
    for number, row in enumerate(rows, 1):
        one = _RangeReader(f"range {number}", dimension, faults).read(row)
        if one is not None and one.up_to in found:
            faults.append(
                Fault(
                    f"range {number}, up to",
                    f"{row['up_to']} a second time",
                    "each range once",
                    "Remove one.",
                )
            )
        elif one is not None:
            found[one.up_to] = one
    return rows, tuple(found[size] for size in sorted(found))


def _row(given: Any) -> dict[str, str]:
    row = given if isinstance(given, Mapping) else {}
    return {part: tidy(one_line(text)) if isinstance(text := row.get(part), str) else "" for part in PARTS}


class _RangeReader:
    """Reads one row; what is wrong with it gathers in `faults`."""

    def __init__(self, where: str, dimension: str, faults: list[Fault]) -> None:
        self.where, self.dimension, self.faults = where, dimension, faults

    def read(self, row: Mapping[str, str]) -> StatedRange | None:
        before = len(self.faults)
        for part, text in row.items():
            if len(text) > _LONGEST:
                self._fault(part, f"a text of {len(text)} characters", f"at most {_LONGEST}", "Shorten it.")
        if len(self.faults) > before:
            return None
        up_to = self._quantity("up_to", row["up_to"], needed=True)
        resolution = self._quantity("resolution", row["resolution"], needed=False)
        gain, counts = self._accuracy(row["accuracy"])
        if counts and not row["resolution"]:
            example = {"voltage": "1 µV", "current": "10 µA"}.get(self.dimension, "1 µΩ")
            self._fault("resolution", "nothing", f"the size of one count, such as {example}", "Fill it in.")
        if len(self.faults) > before or up_to is None:
            return None
        return StatedRange(up_to, Accuracy(gain, counts, resolution or 0.0))

    def _quantity(self, part: str, text: str, *, needed: bool) -> float | None:
        if self.dimension not in EXAMPLES or (not text and not needed):
            return None  # without a dimension what the meter measures is at fault, and told there
        try:
            value = parse_quantity(text, self.dimension)
        except QuantityFault as error:
            self._fault(part, error.found, error.expected, error.mend)
            return None
        if value <= 0:
            self._fault(part, shorten(text), "more than zero", "Check the value.")
            return None
        return value

    def _accuracy(self, text: str) -> tuple[float, float]:
        try:
            if text:
                return accuracy_from_text(text)
            self._fault(
                "accuracy", "nothing", '"0.5 % + 3 counts"', "Copy it from the meter's specification."
            )
        except QuantityFault as error:
            self._fault("accuracy", error.found, error.expected, error.mend)
        return 0.0, 0.0

    def _fault(self, part: str, found: str, expected: str, mend: str) -> None:
        self.faults.append(Fault(f"{self.where}, {LABELS[part]}", found, expected, mend))
