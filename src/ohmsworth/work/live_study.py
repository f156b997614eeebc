"""The answer so far of a study in the records."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.readings.check_standard import split_check_standard
from ohmsworth.readings.entries import table_as_asked
from ohmsworth.readings.study import Study
from ohmsworth.report.live_answer import LiveAnswer
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import planned_on_sheet
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import home_in_records, kept_lines, lines_set_aside
from ohmsworth.work.study_log import StudyState


def live_study(desk: Desk, study: int, state: StudyState) -> LiveAnswer | None:
    """What the readings that are kept say by now; None before the first one of a contact.

    A study that has only begun is no folder that could be answered: its readings go straight into the table.

    Raises
    ------
    InputRefused
        When the question cannot be read.
    """
    question = desk.question(study, state)
    loaded = _begun(question, state)
    if loaded is None:
        return None
    return live_answer(loaded, planned_on_sheet(state.sheet, question.check.name))


def _begun(question: Study, state: StudyState) -> LoadedStudy | None:
    if not state.counted:
        return None
    table = table_as_asked(question, [one.entry for one in state.counted])
    contacts, _ = split_check_standard(table, question.check.name)
    marked = replace(
        question,
        keep=frozenset(kept_lines(state)),
        set_aside=lines_set_aside(state),
        home=home_in_records(state),
    )
    return LoadedStudy(marked, contacts, ()) if len(contacts) else None
