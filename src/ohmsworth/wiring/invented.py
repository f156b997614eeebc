"""Adapters of the invented scenario."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ohmsworth.wiring.kept_papers import paper_ports, paper_reader
from ohmsworth.wiring.outside import read_built, read_study_folder, with_history
from ohmsworth.wiring.ports import shop
from ohmsworth.wiring.records import open_records

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import date, datetime
    from pathlib import Path

    from ohmsworth.work.fill_season import InventedSeason
    from ohmsworth.work.papers.kept.ports import PaperPorts
    from ohmsworth.work.papers.ports import FoundPaper, IssuePorts


def write_demo_study(folder: Path) -> None:
    """Write the invented scenario's study folder."""
    from ohmsworth.adapters.simulated import write_hall

    write_hall(folder)


def write_demo_shop(bench: Path, plan: Path, lot: Path, earlier: Path) -> None:
    """Write the folders of the shop that measured the scenario: its bench, its next job, a lot, and an earlier study."""
    from ohmsworth.adapters.simulated import write_earlier, write_next_hall, write_shop_bench, write_shop_lot

    write_shop_bench(bench)
    write_next_hall(plan)
    write_shop_lot(lot)
    write_earlier(earlier)


def write_demo_takes(folder: Path) -> None:
    """Write the folder of one of the scenario's contacts over frequency, recordings and all."""
    from ohmsworth.adapters.audio import write_recording
    from ohmsworth.adapters.files import load_tones, plan_bytes
    from ohmsworth.adapters.simulated import write_tarnished
    from ohmsworth.resistance.impedance.circuit import Circuit
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import plan_for

    def plan_of(place: Path) -> tuple[TonePlan, Circuit, str]:
        wishes = load_tones(place).wishes
        plan = plan_for(wishes)
        return plan, wishes.circuit, plan_bytes(plan).decode()

    write_tarnished(folder, plan_of, write_recording)


def write_demo_capacitance(folder: Path) -> None:
    """Write the folder of a broken wire that was measured from both ends with tones, recordings and all."""
    from ohmsworth.adapters.audio import write_recording
    from ohmsworth.adapters.files import plan_bytes
    from ohmsworth.adapters.simulated.broken_wire import write_broken_wire
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import plan_for
    from ohmsworth.wiring.capacitance import load_capacitance

    def plan_of(place: Path) -> tuple[TonePlan, str]:
        plan = plan_for(load_capacitance(place).wishes)
        return plan, plan_bytes(plan).decode()

    write_broken_wire(folder, plan_of, write_recording)


def write_demo_cable(folder: Path) -> None:
    """Write the folder of a cable that the shop built, as it was measured."""
    from ohmsworth.adapters.simulated import write_cable

    write_cable(folder)


def write_demo_known(folder: Path) -> tuple[Path, ...]:
    """Write the season's studies of dark contacts into `folder`, each in a folder of its own; return those that were cleaned."""
    from ohmsworth.adapters.simulated.season import SHOWN, VISITS, write_visit
    from ohmsworth.adapters.simulated.season.visits import CLEANED

    for visit in VISITS:
        write_visit(folder / visit.name, visit, SHOWN)
    return tuple(folder / visit.name for visit in VISITS if CLEANED in visit.treatments)


def write_demo_care(folder: Path) -> None:
    """Write the folder that asks what to do with one of the dark contacts."""
    from ohmsworth.adapters.simulated.season import write_care

    write_care(folder)


def write_demo_order(folder: Path) -> tuple[tuple[Path, ...], Path, Path]:
    """Write an order of two cables into `folder`; the folders of the cables, the reels and the prices."""
    from ohmsworth.adapters.simulated.season import write_order

    return write_order(folder), folder / "reels.csv", folder / "prices.toml"


def write_demo_taken(folder: Path) -> None:
    """Write an invented study whose contacts were measured with tones, recordings and all."""
    from ohmsworth.adapters.audio import write_recording
    from ohmsworth.adapters.files import plan_bytes
    from ohmsworth.adapters.simulated import write_taken

    write_taken(folder, lambda plan: plan_bytes(plan).decode(), write_recording)


def fill_demo_records(address: str, studies: Sequence[Path], cables: Sequence[Path] = ()) -> int:
    """Fill records with the shop of the invented scenario, and studies and cables from their folders; the number of cards."""
    from ohmsworth.adapters.simulated.records import invented_shop
    from ohmsworth.work.builds.desk import CableDesk
    from ohmsworth.work.builds.taking_in import take_built
    from ohmsworth.work.fill_shop import fill_shop

    folders = [read_study_folder(folder) for folder in studies]
    invented = invented_shop()
    with open_records(address) as records:
        fill_shop(shop(records), invented, folders, with_history)
        desk = CableDesk(shop(records))
        for folder in map(read_built, cables):
            take_built(desk, folder, invented.by, paper_reader())
        return records.count()


def fill_demo_season(address: str, key: Path, hall: Sequence[Path], last: date) -> int:
    """Fill records with a season of work of the invented shop, which ends on the day `last`; the number of cards.

    Records that hold one are left as they are; one that was interrupted goes on, and ends on the day that it was to end on.

    Parameters
    ----------
    address
        Of the records.
    key
        File of the shop's key; made where it is not there.
    hall
        Folders of studies that have days of their own, those that others name as their history first.
    last
        The last day.
    """
    from dataclasses import replace
    from datetime import UTC, date, datetime, time

    from ohmsworth.adapters.records import open_records as open_at
    from ohmsworth.work.fill_season import ENDS, TurnedClock, fill_season, season_is_whole

    clock = TurnedClock(datetime.combine(last, time(9), UTC))
    with open_at(address, clock=clock) as records:
        if not season_is_whole(records):
            begun = records.settings().get(ENDS)
            last = last if begun is None else date.fromisoformat(begun)
            season = _season(hall, last)
            clock.at = season.deeds[0].at
            if begun is None:
                records.write_setting(ENDS, last.isoformat(), season.owner)
            ports = replace(shop(records), clock=clock)
            fill_season(ports, _papers(key, clock), season, with_history, clock)
        return records.count()


def demo_paper(address: str) -> FoundPaper:
    """The certificate of one of the season's cables, as the records keep it."""
    from ohmsworth.adapters.simulated.season import CERTIFIED
    from ohmsworth.work.builds.desk import CableDesk
    from ohmsworth.work.paper_lines import papers_of
    from ohmsworth.work.papers.kept.issuing import kept_paper

    with open_records(address) as records:
        desk = CableDesk(shop(records))
        (card,) = records.cards("cable", search=CERTIFIED)
        paper = papers_of(desk.state(card.number))[0]
        return kept_paper(records, paper_reader(), card.number, paper)


def _season(hall: Sequence[Path], last: date) -> InventedSeason:
    """The season, its studies read from folders as those of anybody are."""
    from pathlib import Path
    from tempfile import TemporaryDirectory

    from ohmsworth.adapters.simulated.season import AGEING, VISITS, invented_season, write_ageing, write_visit

    with TemporaryDirectory() as made:
        place = Path(made)
        for visit in VISITS:
            write_visit(place / visit.name, visit, last)
        again = {
            name: [place / f"{name} again {number}" for number in range(1, len(backs) + 1)]
            for name, backs in AGEING.items()
        }
        for name, folders in again.items():
            for number, folder in enumerate(folders, 1):
                write_ageing(folder, name, last, number)
        visits = {visit.name: read_study_folder(place / visit.name) for visit in VISITS}
        ageing = {name: tuple(map(read_study_folder, folders)) for name, folders in again.items()}
        return invented_season(last, tuple(map(read_study_folder, hall)), visits, ageing)


def _papers(key: Path, clock: Callable[[], datetime]) -> PaperPorts:
    """What issues papers, at the time that `clock` tells."""
    from dataclasses import replace

    ports = paper_ports(key)

    def issuing() -> IssuePorts:
        return replace(ports.issuing(), clock=clock)

    return replace(ports, issuing=issuing)
