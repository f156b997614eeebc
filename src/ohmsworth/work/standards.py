"""The shop's check standards, and every check of one of them over all studies and days."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime

import numpy as np

from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.check_standard import checks_of
from ohmsworth.readings.entries import table_of_entries
from ohmsworth.readings.entry import Entry
from ohmsworth.readings.names import clean_name
from ohmsworth.work.cards.log import WRITTEN, fold_card
from ohmsworth.work.cards.said import CheckStandardCard
from ohmsworth.work.readable import in_ohms, in_volts
from ohmsworth.work.records import Found, Records
from ohmsworth.work.study_log import TAKEN

#: Readings of one check standard that are looked at: three a day for twenty years.
MOST_READINGS = 40_000
#: More check standards than a bench has.
MOST_STANDARDS = 50
_PAGE = 1000


@dataclass(frozen=True, slots=True)
class Standard:
    """A check standard of the shop.

    `names` are all that its card ever had, the present one first: its readings stand under the name that it had then.
    `value` and `uncertainty` are its calibration as typed; `since` is the day from which its checks are charted.
    """

    card: int
    said: CheckStandardCard
    names: tuple[str, ...]
    value: str
    uncertainty: str
    since: date | None = None


@dataclass(frozen=True, slots=True)
class TakenCheck:
    """A reading of a check standard: the study, the line, the reading as last corrected, and when it was read."""

    study: int
    number: int
    entry: Entry
    at: datetime

    @property
    def day(self) -> date:
        """On the clock of this machine."""
        return self.at.astimezone().date()

    @property
    def mark(self) -> Hashable:
        """Another one when it is corrected."""
        entry = self.entry
        return (
            self.study,
            self.number,
            entry.polarity,
            entry.voltage,
            entry.current,
            entry.resistance,
            self.at,
        )


def since_setting(card: int) -> str:
    """The shop's setting that says from which day on a check standard is charted."""
    return f"check standard {card} charted since"


def standards(records: Records) -> tuple[Standard, ...]:
    """The check standards in use whose cards can be read, by name."""
    cards = records.cards("check standard", state="open", most=MOST_STANDARDS)
    settings = records.settings() if cards else {}
    found = []
    for card in cards:
        lines = records.lines(card.number)
        state = fold_card("check standard", lines)
        if not isinstance(state.said, CheckStandardCard):
            continue
        earlier = [line.fields.get("name") for line in reversed(lines) if line.kind == WRITTEN]
        names = (state.said.name, *(clean_name(name) for name in earlier if isinstance(name, str) and name))
        value, uncertainty = (str(state.texts.get(key) or "") for key in ("value", "uncertainty"))
        since = _day(settings.get(since_setting(card.number), ""))
        found.append(
            Standard(card.number, state.said, tuple(dict.fromkeys(names)), value, uncertainty, since)
        )
    return tuple(sorted(found, key=lambda one: (one.said.name.casefold(), one.card)))


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def checks_taken(records: Records, standard: Standard) -> tuple[TakenCheck, ...]:
    """Every reading of a check standard that counts, in the order of time, from the day from which it is charted.

    Takes over frequency are left out: they tell of shunt and audio interface, and the chart is one of the meters.
    """
    found = []
    for name in standard.names:
        for first in range(0, MOST_READINGS, _PAGE):
            page = records.readings_under(name, first, _PAGE)
            found += [_taken(one) for one in page if one.line.kind == TAKEN and one.line.entry is not None]
            if len(page) < _PAGE:
                break
    kept = [one for one in found if standard.since is None or one.day >= standard.since]
    return tuple(sorted(kept, key=lambda one: (one.at, one.study, one.number)))


def _taken(one: Found) -> TakenCheck:
    """A reading that says no time was read when it was kept; a time without its zone is that of this machine."""
    entry, line = one.line.entry, one.line
    assert entry is not None
    return TakenCheck(one.study, line.number, entry, (entry.time or line.at).astimezone(UTC))


def check_tables(taken: Iterable[TakenCheck]) -> tuple[CheckTable, ...]:
    """The checks as tables: one of voltages with currents, one of resistances, as far as there are any.

    A mating of one study on one day is one check, named by its day. Line numbers say nothing here.
    """
    taken = tuple(taken)
    kinds = ([one for one in taken if fits(one.entry)] for fits in (in_volts, in_ohms))
    return tuple(_table(kind) for kind in kinds if any(one.entry.polarity != "0" for one in kind))


def _table(taken: list[TakenCheck]) -> CheckTable:
    entries = [replace(one.entry, mating=f"{one.entry.mating} of {one.study}") for one in taken]
    moment = np.array([one.at.timestamp() for one in taken])
    found = checks_of(table_of_entries(entries), moment, [one.day.isoformat() for one in taken])
    # Rows of many studies: what one study sets aside by line has nothing to do with them.
    return replace(found, among_contacts=False)
