"""The check standard of the bench, and its readings in order."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.readings.table import Labels, ReadingTable


@dataclass(frozen=True, slots=True)
class CheckStandard:
    """A stable resistor that is read again and again to see whether the bench is as it was.

    `value` (ohm) with its `standard_uncertainty` is what its calibration says, None where it was never calibrated;
    `first` is how many of the first checks set the limits, None for the usual number.
    """

    name: str = "check standard"
    value: float | None = None
    standard_uncertainty: float | None = None
    first: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class CheckTable:
    """Every row of `check.csv` in the order in which it was read.

    Parameters
    ----------
    table
        The rows; specimen and condition are one and the same.
    date
        Date of each row, whose rows together are one check; None where no dates are written.
    unused
        Headings of columns that are not used.
    """

    table: ReadingTable
    date: Labels | None
    unused: tuple[str, ...] = ()
