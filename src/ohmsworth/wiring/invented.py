"""Adapters of the invented scenario."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ohmsworth.wiring.cable_papers import paper_reader
from ohmsworth.wiring.outside import read_built, read_study_folder, with_history
from ohmsworth.wiring.ports import shop
from ohmsworth.wiring.records import open_records

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


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


def write_demo_cable(folder: Path) -> None:
    """Write the folder of a cable that the shop built, as it was measured."""
    from ohmsworth.adapters.simulated import write_cable

    write_cable(folder)


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
