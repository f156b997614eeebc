"""The papers of a lot in the records: what they rest on, and how one is made of its study."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from ohmsworth.errors import InputRefused
from ohmsworth.work.papers.issue import Issued
from ohmsworth.work.papers.issue_lot import LotIssueAsked, issue_lot
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.held import TextsNow
from ohmsworth.work.papers.kept.papered import Papered, Stand
from ohmsworth.work.papers.kept.ports import PaperPorts
from ohmsworth.work.papers.lot_body import LOT_FILES, STUDY_FILE
from ohmsworth.work.ports import FolderOf
from ohmsworth.work.records import Line, Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk, said_in
from ohmsworth.work.study_lines import home_in_records, rows_of
from ohmsworth.work.study_log import (
    FILE,
    KEPT,
    PUT_BACK,
    QUESTION,
    SET_ASIDE,
    TAKEN,
    WITHDRAWN,
    StudyState,
    fold,
)
from ohmsworth.work.taken_reading import CORRECTED

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper
    from ohmsworth.report.papers.verification import CheckAnswer
    from ohmsworth.work.papers.ports import FoundPaper

_CHANGING = frozenset((QUESTION, TAKEN, CORRECTED, WITHDRAWN, PUT_BACK, KEPT, SET_ASIDE, FILE))


def papered_lot(desk: Desk, shop: Shop, ports: PaperPorts, study: int) -> Papered:
    """The lot of a study as its papers see it; raises NoSuchCard."""
    state = desk.state(study)
    home = home_in_records(state)

    def texts() -> dict[str, str]:
        return _texts(desk.folder(study, state))

    def make(form: PaperForm, old: FoundPaper | None) -> Issued:
        issuing = ports.issuing()
        with said_in(home):
            files = texts()
            files[STUDY_FILE] = ports.with_paper(files[STUDY_FILE], form)
            return issue_lot(LotIssueAsked(files, old), issuing)

    def same(paper: Paper) -> CheckAnswer:
        from ohmsworth.work.papers.compared import same_now

        return same_now(paper, texts(), ports.verifying())

    return Papered(
        shop.records, ports, study, "lot", "its readings", state.question, _stand_of(state),
        tuple(one.at for one in rows_of(state)), _CHANGING, lambda lines: _stand_of(fold(lines)), study_face, make, same,
    )  # fmt: skip


def _stand_of(state: StudyState) -> Stand:
    """The question, the readings as they count, and the files beside; a note on a reading changes nothing in a paper."""
    readings = tuple((one.number, one.entry, one.state, one.kept, one.reason) for one in state.readings)
    beside = tuple(one.number for one in state.files if one.beside)
    return Stand((state.question, readings, beside), state.papers)


def _texts(files: Mapping[str, bytes]) -> dict[str, str]:
    return {name: files[name].decode("utf-8", "replace") for name in LOT_FILES if name in files}


def lot_texts_now(records: Records, folder_of: FolderOf) -> TextsNow:
    """The texts of a study's folder out of its log; the question alone where the rest makes no folder."""

    def now(study: int, lines: Sequence[Line]) -> dict[str, str]:
        state = fold(lines)
        content: Callable[[int], bytes] = lambda number: records.content(study, number)  # noqa: E731
        try:
            return _texts(folder_of(state, content))
        except InputRefused:
            return {STUDY_FILE: state.question}

    return now
