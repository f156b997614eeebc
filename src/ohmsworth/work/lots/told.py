"""The lot of a study in the records: whether one is stated, and what is told of it, each answer found once."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState

if TYPE_CHECKING:
    from ohmsworth.report.document import Document
    from ohmsworth.report.lot_answer import LotAnswer


def states_lot(state: StudyState) -> bool:
    """Whether the question has a table [lot]; one that cannot be read has none."""
    try:
        return isinstance(tomllib.loads(state.question).get("lot"), dict)
    except tomllib.TOMLDecodeError:
        return False


def lot_answer(desk: Desk, study: int, state: StudyState) -> LotAnswer:
    """The plan, or the verdict where pieces were read: what the command says of the study's folder.

    Raises
    ------
    InputRefused
        With every fault of the study, or where no plan holds its risks.
    """
    from ohmsworth.work.lot_study import lot_study  # brings the computing along

    loaded = desk.lot(study, state)
    return desk.once(("lot answer", *desk.stand(study, state)), lambda: lot_study(loaded))


def lot_document(desk: Desk, study: int, state: StudyState) -> Document:
    """The report of the lot; raises as `lot_answer`."""
    from ohmsworth.report.lot_pages import lot_report

    return lot_report(lot_answer(desk, study, state), desk.lot(study, state).study.home)


def paper_ahead(desk: Desk, study: int, state: StudyState) -> str:
    """Which paper the lot gets as it stands, "certificate" or "test report"; "" before its sample is complete.

    Raises as `lot_answer`.
    """
    from ohmsworth.work.papers.issue_lot import is_complete
    from ohmsworth.work.papers.lot_body import kind_of

    answer = lot_answer(desk, study, state)
    return kind_of(answer) if is_complete(answer) else ""
