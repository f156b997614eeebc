"""The papers of a cable that still hold, and what the cable's rows or its description say otherwise by now."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ohmsworth.errors import InputRefused
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.folder import texts_of
from ohmsworth.work.builds.papers.issuing import kept_paper
from ohmsworth.work.builds.papers.kept import of_cable, papers_of
from ohmsworth.work.builds.papers.ports import CablePaperPorts

if TYPE_CHECKING:
    from ohmsworth.report.papers.certificate import Certificate


def holding_papers(desk: CableDesk, ports: CablePaperPorts, cable: int) -> dict[int, Certificate]:
    """Papers whose place no other has taken, by their line, the last first.

    One that cannot be read is left out: opening it says why.
    """
    found: dict[int, Certificate] = {}
    for paper in papers_of(desk.state(cable)):
        if paper.later:
            continue
        try:
            found[paper.line] = of_cable(kept_paper(desk, ports, cable, paper))
        except InputRefused:
            continue
    return found


def outdated_papers(
    desk: CableDesk, ports: CablePaperPorts, cable: int, holding: Mapping[int, Certificate]
) -> dict[int, tuple[str, ...]]:
    """Of `holding` those that no longer say what the cable does, with what differs."""
    from ohmsworth.report.papers.verification import CABLE, FAILS
    from ohmsworth.work.papers.compared import same_cable

    now = texts_of(desk.state(cable), desk.teller.ports.test_csv)
    checks = {
        line: same_cable(CABLE, "records", (paper, now), ports.verifying()) for line, paper in holding.items()
    }
    return {line: check.details for line, check in checks.items() if check.result == FAILS}
