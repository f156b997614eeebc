"""The whole answer of a study in the records, which says when its sheet was not read to the end."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import WarningAnswer
from ohmsworth.work.report_study import Told, report_study
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import kept_reasons
from ohmsworth.work.study_log import StudyState


def answer_record(desk: Desk, study: int, state: StudyState) -> Told:
    """The answer to the readings as they stand, and its documents.

    Raises
    ------
    InputRefused
        While the readings cannot be answered.
    """
    return desk.once(("told", *desk.stand(study, state)), lambda: _told(desk, study, state))


def _told(desk: Desk, study: int, state: StudyState) -> Told:
    if not state.counted and not state.counted_takes:
        mend = (
            "Take the readings of the sheet; the answer so far stands beside the bench from the first one on."
        )
        raise InputRefused(
            (Fault("the study", "no readings and no takes", "readings of its contacts", mend),)
        )
    told = replace(report_study(desk.loaded(study, state)), kept=kept_reasons(state))
    warning = _unfinished(state)
    if warning is None:
        return told
    return replace(told, answer=replace(told.answer, warnings=(*told.answer.warnings, warning)))


def steps_left(state: StudyState) -> int:
    """Steps of the sheet that are neither read nor skipped."""
    return len({row.step for row in state.sheet} - state.answered - set(state.skipped))


def _unfinished(state: StudyState) -> WarningAnswer | None:
    """Whoever stops when the answer looks settled is wrong more often than the answer says (decision 0030)."""
    left = steps_left(state)
    if not left:
        return None
    words = (
        f"{left} of the {len(state.sheet)} steps of the bench sheet were neither read nor skipped. The verdicts here are those "
        "of a study that is looked at once: if reading stopped because the answer looked settled, they are a little less sure "
        "than they say."
    )
    mend = "Finish the sheet, or go by the answer so far beside the bench, which allows for looking early."
    return WarningAnswer("SHEET_NOT_FINISHED", words, (), mend, False)
