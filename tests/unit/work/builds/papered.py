"""A cable in the records that is measured whole, with a key that is always the same: for tests of its papers."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.papers_made import MADE, issue_ports
from tests.unit.work.builds.built import BuiltShop

from ohmsworth import wiring
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.builds.writing import open_cable
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper
from ohmsworth.work.papers.kept.ports import PaperPorts
from ohmsworth.work.records import Line

FORM = PaperForm("2026-001", "Ada", "2026-03-02", "The Hall", shop="The Cable Bench", address="1 Mill Lane")


def ports(folder: Path) -> PaperPorts:
    """As the bench has them, but for the key and the clock."""
    return replace(wiring.paper_ports(folder / "shop.key"), issuing=issue_ports)


class PaperedShop(BuiltShop):
    """A measured cable, and how papers are issued."""

    def __init__(self, folder: Path, **given: object) -> None:
        super().__init__(**given)  # type: ignore[arg-type]
        self.ports = ports(folder)
        self.whole()

    def issue(self, form: PaperForm = FORM, key: str = "", cable: int = 0, seen: int = 0) -> Line:
        """Issue a paper, on all that there is of a cable unless `seen` says what was looked at."""
        which = cable or self.cable
        sending = PaperSending("Ada", key or self.shop.new_key(), seen or self.desk.state(which).last)
        return issue_paper(papered_cable(self.desk, self.ports, which), form, sending)

    def another(self) -> int:
        """A second cable, measured by the same rows, and its card."""
        toml = self.toml.replace("no. 12", "no. 13")
        first, self.cable = self.cable, open_cable(self.desk, toml, "Lee", "another cable")
        self.whole()
        second, self.cable = self.cable, first
        return second


__all__ = ["FORM", "MADE", "PaperedShop", "ports"]
