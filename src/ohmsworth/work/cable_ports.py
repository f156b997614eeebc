"""A row of test.csv as somebody wrote it, and what reads and writes a cable's folder: the ports of these use cases."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ohmsworth.readings.entry import Typed

# For their names alone: the first page of the day does not wait for what they bring along.
if TYPE_CHECKING:
    from ohmsworth.cables.request import CableRequest, CableRow
    from ohmsworth.work.cable_form import CableForm


@dataclass(frozen=True, slots=True)
class WrittenRow:
    """Contacts on either side of the meter as written, and the resistance as typed; None for no path."""

    one: str
    other: str
    resistance: Typed | None


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A measurement that is still to be made: contacts on either side as written, and what the meter should show."""

    one: str
    other: str
    note: str


@dataclass(frozen=True, slots=True, eq=False)
class Described:
    """What a cable.toml says: the cable, and the contacts of each end by its name."""

    request: CableRequest
    contacts: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class ReadTest:
    """A test.csv: what it means row by row, the same rows as written, and headings that are not used."""

    rows: tuple[CableRow, ...]
    written: tuple[WrittenRow, ...]
    unused: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CablePorts:
    """What reads and writes the folder of a cable.

    Parameters
    ----------
    described
        Reads the text of a cable.toml; raises InputRefused with every fault.
    tested
        Reads the bytes of a test.csv of such a cable; raises InputRefused, also where no meter is stated.
    test_csv
        Writes one.
    sheet_csv
        Writes one to be filled in: rows that were measured, and below them those that are left.
    cable_toml
        Writes a cable.toml out of a plain form.
    """

    described: Callable[[str], Described]
    tested: Callable[[bytes, Described], ReadTest]
    test_csv: Callable[[Sequence[WrittenRow]], bytes]
    sheet_csv: Callable[[Sequence[WrittenRow], Sequence[SheetRow]], bytes]
    cable_toml: Callable[[CableForm], str]
