"""What is told of a cable of the records: read as the folder that it would be exported as, each part once.

A new row costs no more than itself: what the description says, and how earlier rows were read, is kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from ohmsworth.cables.build import Place
from ohmsworth.cables.request import CableRow
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.work.builds.folder import folder_files
from ohmsworth.work.builds.log import FIRST_LINE, CableState
from ohmsworth.work.cable_ports import CablePorts, Described, WrittenRow
from ohmsworth.work.cable_study import CableAhead, cable_ahead, cable_study
from ohmsworth.work.ports import LoadedCable

#: Descriptions and answers held ready; rows that were read.
MOST, MOST_ROWS = 32, 20_000


#: Contacts on either side, in no order.
Between = frozenset[frozenset[Place]]


def between(row: CableRow) -> Between:
    """What two rows have alike of which the later one replaces the earlier."""
    return frozenset((frozenset(row.one), frozenset(row.other)))


class Teller:
    """Answers about cables, from their descriptions and rows alone; safe between threads."""

    def __init__(self, ports: CablePorts) -> None:
        self.ports = ports
        self._described = lru_cache(maxsize=MOST)(ports.described)
        self._ahead = lru_cache(maxsize=MOST)(self._look_ahead)
        self._told = lru_cache(maxsize=MOST)(self._tell)
        self._row = lru_cache(maxsize=MOST_ROWS)(self._read_row)
        self._between = lru_cache(maxsize=MOST_ROWS)(lambda toml, one: between(self._row(toml, one)))

    def described(self, toml: str) -> Described:
        """What a description says; raises InputRefused with every fault of it."""
        return self._described(toml)

    def ahead(self, toml: str) -> CableAhead:
        """What it says of every measurement; raises InputRefused."""
        return self._ahead(toml)

    def row(self, toml: str, written: WrittenRow) -> CableRow:
        """One row as it is read in a test.csv by itself; raises InputRefused."""
        return self._row(toml, written)

    def between(self, toml: str, written: WrittenRow) -> Between:
        """Between which contacts a row was measured, whichever side is named first; raises InputRefused."""
        return self._between(toml, written)

    def answer(self, toml: str, written: Sequence[WrittenRow]) -> CableAnswer:
        """The answer as the folder would give it; without rows it is the sheet.

        Raises
        ------
        InputRefused
            With every fault of that folder.
        """
        return self._told(toml, tuple(written))

    def leading(self, toml: str) -> CableAnswer:
        """The answer where nothing is measured yet and measuring begins: it names the first measurement.

        Raises
        ------
        InputRefused
            With every fault of the description.
        """
        return cable_study(LoadedCable(self.described(toml).request, (), ()), self.ahead(toml))

    def files(self, state: CableState) -> dict[str, bytes]:
        """The files of the folder that a cable is exported as."""
        return folder_files(state, self.ports.test_csv)

    def _look_ahead(self, toml: str) -> CableAhead:
        return cable_ahead(self.described(toml).request)

    def _tell(self, toml: str, written: tuple[WrittenRow, ...]) -> CableAnswer:
        of = self.described(toml)
        rows = self._rows(toml, written) if written else None
        return cable_study(LoadedCable(of.request, rows, ()), self.ahead(toml))

    def _rows(self, toml: str, written: tuple[WrittenRow, ...]) -> tuple[CableRow, ...]:
        """The rows on the lines of the whole file."""
        try:
            read = [self.row(toml, one) for one in written]
        except InputRefused:
            self.ports.tested(self.ports.test_csv(written), self.described(toml))  # says on which lines
            raise
        return tuple(replace(one, line=FIRST_LINE + i) for i, one in enumerate(read))

    def _read_row(self, toml: str, written: WrittenRow) -> CableRow:
        rows = self.ports.tested(self.ports.test_csv([written]), self.described(toml)).rows
        if not rows:
            mend = "Withdraw the row, and measure it again."
            raise InputRefused((Fault("resistance", "nothing", "a resistance, or open", mend),))
        return rows[0]
