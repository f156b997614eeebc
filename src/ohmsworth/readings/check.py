"""The check standard of the bench, and its readings in order."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.readings.table import Array, Labels, ReadingTable

#: What it is called where nobody names it.
UNNAMED = "check standard"


@dataclass(frozen=True, slots=True)
class CheckStandard:
    """A stable resistor that is read again and again to see whether the bench is as it was.

    Parameters
    ----------
    name
        Its name, which rows of readings.csv that hold its readings carry as their condition; None where the study names
        none, so that no row is one of its readings.
    value, standard_uncertainty
        What its calibration says (ohm); None where it was never calibrated.
    first
        How many of the first checks set the limits; None for the usual number.
    """

    name: str | None = None
    value: float | None = None
    standard_uncertainty: float | None = None
    first: int | None = None

    @property
    def called(self) -> str:
        """What to call it."""
        return self.name or UNNAMED


@dataclass(frozen=True, slots=True, eq=False)
class CheckTable:
    """Readings of the check standard from one file, in the order in which they were read.

    Parameters
    ----------
    table
        The rows.
    date
        Name of the check that each row belongs to: its date as a rule; None where every resistance is a check.
    moment
        Seconds from one fixed moment that all files share; None where the rows do not say on which date they were read.
    unused
        Headings of columns that are not used.
    among_contacts
        Whether the rows stand in readings.csv among those of the contacts.
    """

    table: ReadingTable
    date: Labels | None
    moment: Array | None = None
    unused: tuple[str, ...] = ()
    among_contacts: bool = False
