"""Papers over the kept records: one number where two benches give it in the same moment, and whole after opening again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from threading import Barrier, Thread

from tests.papers_made import issue_ports
from tests.unit.work.builds.papered import FORM, PaperedShop
from tests.unit.work.cards.shops import new_shop

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.paper_lines import papers_of
from ohmsworth.work.papers.kept.form import PaperForm
from ohmsworth.work.papers.kept.issuing import PaperSending, issue_paper, kept_paper
from ohmsworth.work.papers.ports import IssuePorts


class Benches:
    """Two benches that both have looked whether a number is free before either keeps its paper."""

    def __init__(self, address: str, folder: Path) -> None:
        self.address, self.folder = address, folder
        self.looked = Barrier(2, timeout=20)
        self.kept: list[int] = []
        self.refused: list[str] = []

    def _ready(self) -> IssuePorts:
        self.looked.wait()
        return issue_ports()

    def _issue(self, cable: int, form: PaperForm, by: str) -> None:
        ports = replace(wiring.paper_ports(self.folder / "shop.key"), issuing=self._ready)
        with wiring.open_records(self.address) as records:
            desk = CableDesk(replace(new_shop(), records=records))
            try:
                sending = PaperSending(by, f"{by} sends {form.number}", desk.state(cable).last)
                self.kept.append(issue_paper(papered_cable(desk, ports, cable), form, sending).number)
            except InputRefused as refused:
                self.refused += [fault.where for fault in refused.faults]

    def issue(self, *wishes: tuple[int, PaperForm]) -> None:
        """Issue both at once."""
        threads = [
            Thread(target=self._issue, args=(cable, form, by))
            for (cable, form), by in zip(wishes, ("Ada", "Lee"), strict=True)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(120)


def test_of_two_that_give_a_number_at_once_one_gets_it(address: str, tmp_path: Path) -> None:
    with wiring.open_records(address) as records:
        shop = PaperedShop(tmp_path, shop=replace(new_shop(), records=records))
        other = shop.another()
    for cables, number in (((shop.cable, other), "1"), ((shop.cable, shop.cable), "2")):
        benches = Benches(address, tmp_path)
        forms = (replace(FORM, number=number, customer=customer) for customer in ("The Hall", "The Club"))
        benches.issue(*zip(cables, forms, strict=True))
        assert len(benches.kept) == 1
        assert benches.refused == ["number"]
    with wiring.open_records(address) as records:
        assert records.check() == ()
        desk = CableDesk(replace(new_shop(), records=records))
        given = [paper.number for cable in (shop.cable, other) for paper in papers_of(desk.state(cable))]
        assert sorted(given) == ["1", "2"]


def test_of_two_that_correct_a_paper_at_once_one_does(address: str, tmp_path: Path) -> None:
    with wiring.open_records(address) as records:
        shop = PaperedShop(tmp_path, shop=replace(new_shop(), records=records))
        content = records.content(shop.cable, shop.issue().number)
    corrected = replace(FORM, supersedes="2026-001", reason="A slip.")
    benches = Benches(address, tmp_path)
    benches.issue(*((shop.cable, replace(corrected, number=number)) for number in ("2026-002", "2026-003")))
    assert len(benches.kept) == 1
    assert benches.refused == ["supersedes"]
    with wiring.open_records(address) as records:
        desk = CableDesk(replace(new_shop(), records=records))
        new, old = papers_of(desk.state(shop.cable))
        assert (old.later, new.current) == (new.number, True)
        assert kept_paper(records, shop.ports.reader, shop.cable, old).content == content
