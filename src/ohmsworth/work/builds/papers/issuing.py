"""The papers of a cable in the records: what they rest on, and how one is made of its rows."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.folder import texts_of
from ohmsworth.work.builds.log import DESCRIBED, MEASURED, PUT_BACK, WITHDRAWN, CableState, fold
from ohmsworth.work.cable_ports import WrittenRow
from ohmsworth.work.papers.issue import IssueAsked, Issued, issue
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.held import TextsNow
from ohmsworth.work.papers.kept.papered import Papered, Stand
from ohmsworth.work.papers.kept.ports import PaperPorts
from ohmsworth.work.records import Line

if TYPE_CHECKING:
    from ohmsworth.report.papers.kinds import Paper
    from ohmsworth.report.papers.verification import CheckAnswer
    from ohmsworth.work.papers.ports import FoundPaper

_CHANGING = frozenset((DESCRIBED, MEASURED, WITHDRAWN, PUT_BACK))


def papered_cable(desk: CableDesk, ports: PaperPorts, cable: int) -> Papered:
    """The cable as its papers see it; raises NoSuchCard."""
    state = desk.state(cable)

    def make(form: PaperForm, old: FoundPaper | None) -> Issued:
        issuing = ports.issuing()
        readings = desk.teller.ports.test_csv(state.written).decode() if state.counted else None
        return issue(IssueAsked(ports.with_paper(state.toml, form), readings, old), issuing)

    def same(paper: Paper) -> CheckAnswer:
        from ohmsworth.work.papers.compared import same_now

        return same_now(paper, texts_of(state, desk.teller.ports.test_csv), ports.verifying())

    return Papered(
        desk.records, ports, cable, "cable", "its rows", state.toml, _stand_of(state),
        tuple(row.at for row in state.counted), _CHANGING, lambda lines: _stand_of(fold(lines)), desk.face, make, same,
    )  # fmt: skip


def _stand_of(state: CableState) -> Stand:
    return Stand((state.toml, state.written), state.papers)


def cable_texts_now(test_csv: Callable[[Sequence[WrittenRow]], bytes]) -> TextsNow:
    """The texts of a cable's folder out of its log."""

    def now(_: int, lines: Sequence[Line]) -> dict[str, str]:
        return texts_of(fold(lines), test_csv)

    return now
