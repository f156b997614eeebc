"""Where the readings of a study in the records stand in its readings.csv, and which of them its study.toml marks.

The rows of a study of takes alone are those of its takes.csv; beside readings no take has a mark.
"""

from __future__ import annotations

from ohmsworth.readings.home import Home
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.taken_reading import TakenReading

#: Line of readings.csv on which the first reading stands, below the heading.
FIRST_LINE = 2
#: What stands as the reason where nobody gave one.
NO_REASON = "no reason given"


def rows_of(state: StudyState) -> tuple[TakenReading, ...]:
    """What the study is answered from, in the order of its rows: its readings, or its takes where it has no readings."""
    return state.counted or tuple(one.reading for one in state.counted_takes)


def takes_in_file(state: StudyState) -> tuple[RecordedTake, ...]:
    """The takes that stand in takes.csv, in their order.

    Beside readings.csv, whose lines the marks of study.toml number, one that is set aside stands in the log alone.
    """
    takes = state.counted_takes
    return takes if not state.counted else tuple(one for one in takes if one.reading.state != "set aside")


def line_of(state: StudyState) -> dict[int, int]:
    """The line of readings.csv by the number of the reading; withdrawn ones stand on none."""
    return {one.number: FIRST_LINE + i for i, one in enumerate(rows_of(state))}


def reading_at(state: StudyState) -> dict[int, int]:
    """The number of the reading by its line of readings.csv."""
    return {line: number for number, line in line_of(state).items()}


def home_in_records(state: StudyState) -> Home:
    """The records, with the number of each reading on the pages by its line of readings.csv, and of takes by that of takes.csv."""
    return Home(
        "records",
        {FIRST_LINE + i: one.nth for i, one in enumerate(rows_of(state))},
        {FIRST_LINE + i: one.reading.nth for i, one in enumerate(takes_in_file(state))},
        "take" if state.takes and not state.counted else "reading",
    )


def kept_lines(state: StudyState) -> tuple[int, ...]:
    """Lines of readings.csv that somebody keeps in spite of a warning."""
    lines = line_of(state)
    return tuple(
        lines[one.number] for one in rows_of(state) if one.kept is not None and one.state != "set aside"
    )


def lines_set_aside(state: StudyState) -> dict[int, str]:
    """Lines of readings.csv that somebody leaves out, each with the reason."""
    lines = line_of(state)
    return {
        lines[one.number]: one.reason.strip() or NO_REASON
        for one in rows_of(state)
        if one.state == "set aside"
    }


def kept_reasons(state: StudyState) -> dict[int, str]:
    """Why readings are kept in spite of a warning, by their line, where somebody said why."""
    lines = line_of(state)
    return {
        lines[one.number]: one.kept.strip()
        for one in rows_of(state)
        if one.kept and one.kept.strip() and one.state != "set aside"
    }
