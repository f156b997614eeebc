"""Which readings of a study in the records count for the cards of their specimens: those that its answer rests on.

Slips, and matings that still moved, are told by the readings around them: the whole study decides, though a card holds a few of
its readings alone.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from ohmsworth.errors import OhmsworthError, QuantityFault
from ohmsworth.readings.check import UNNAMED, CheckStandard
from ohmsworth.readings.check_standard import split_check_standard
from ohmsworth.readings.entries import FIRST_LINE, table_as_asked
from ohmsworth.readings.names import clean_name, column_name
from ohmsworth.readings.once import once_each
from ohmsworth.readings.study import Limit, Study
from ohmsworth.report.words import count, listed
from ohmsworth.units import parse_quantity
from ohmsworth.work.readable import in_ohms, in_volts
from ohmsworth.work.readings_check import SLIPS, find_left_out
from ohmsworth.work.study_lines import rows_of
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.taken_reading import TakenReading

#: Why a reading is left out that is no slip.
MOVED = "MOVED"
#: What is said of one reading, and of several.
_WORDS = {
    "UNIT_SLIP": ("looks like a slip of a unit or decimal mark", "look like slips of a unit or decimal mark"),
    "SWAPPED": (
        "seems to have voltage and current exchanged",
        "seem to have voltage and current exchanged",
    ),
    MOVED: (
        "comes from a mating that had not come to rest",
        "come from matings that had not come to rest",
    ),
}


def counted_in(state: StudyState) -> tuple[TakenReading, ...]:
    """The used readings of direct current without those that the answer leaves out, in the order in which they were taken."""
    left_out = left_out_of(state)
    return tuple(one for one in state.counted if one.state == "used" and one.number not in left_out)


def left_out_words(whys: Iterable[str]) -> str:
    """How many readings are left out and why, as part of a sentence; "" for none."""
    found = Counter(whys)
    several = [f"{number} {_WORDS[why][number > 1]}" for why, number in found.items()]
    if len(found) > 1:
        return f"{count(found.total(), 'reading')} left out: {listed(several)}"
    return "".join(
        f"{count(number, 'reading')} left out, which {_WORDS[why][number > 1]}"
        for why, number in found.items()
    )


@once_each
def left_out_of(state: StudyState) -> Mapping[int, str]:
    """Why used readings (takes, where there are no readings) do not count, by the number of each; empty where all do."""
    study = _asked(state.question)
    used = [one for one in rows_of(state) if one.state == "used"]
    found: dict[int, str] = {}
    for kind in (in_volts, in_ohms):
        found |= _left_out(study, [one for one in used if kind(one.entry)])
    return found


def _left_out(study: Study, readings: Sequence[TakenReading]) -> dict[int, str]:
    """The same, of readings that can stand in one table."""
    if all(one.entry.polarity == "0" for one in readings):
        return {}
    kept = frozenset(line for line, one in enumerate(readings, FIRST_LINE) if one.kept is not None)
    try:
        table = table_as_asked(study, [one.entry for one in readings])
    except OhmsworthError:
        return {}  # what cannot stand together has no answer, and nothing that it leaves out
    contacts, _ = split_check_standard(table, study.check.name)
    if not len(contacts):
        return {}
    found = find_left_out(replace(study, keep=kept), contacts)
    slips = {row: doubt.code for doubt in found.slips if doubt.code in SLIPS for row in doubt.rows}
    return {readings[line - FIRST_LINE].number: slips.get(line, MOVED) for line in sorted(found.lines)}


def _asked(toml: str) -> Study:
    """As much of the question as the table of its readings needs, where that can be told.

    Cards are written where nothing but the log is at hand; what is wrong with a question is told on the study's own pages.
    """
    try:
        table = tomllib.loads(toml)
    except tomllib.TOMLDecodeError:
        table = {}
    return Study(
        "",
        limit=_limit(_inside(table, "limit").get("resistance")),
        check=CheckStandard(_check_standard(table)),
        factors=_columns(table.get("factors")),
        scatter_by=_columns(table.get("scatter_by")),
    )


def _check_standard(table: Mapping[str, Any]) -> str | None:
    name = _inside(table, "check_standard").get("name") or _inside(table, "plan").get("check_standard")
    if isinstance(name, str) and clean_name(name):
        return clean_name(name)
    return UNNAMED if "check_standard" in table else None


def _limit(text: object) -> Limit | None:
    try:
        return Limit(parse_quantity(text, "resistance"), "") if isinstance(text, str) else None
    except QuantityFault:
        return None


def _columns(names: object) -> tuple[str, ...]:
    found = names if isinstance(names, list) else []
    return tuple(dict.fromkeys(column_name(name) for name in found if isinstance(name, str)))


def _inside(table: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    found = table.get(name)
    return found if isinstance(found, dict) else {}
