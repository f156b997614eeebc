"""Adapters of study folders, bench folders and other single files."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from ohmsworth.consequence.twoport import OnePort, TwoPort
    from ohmsworth.materials import Construction
    from ohmsworth.readings.study import Study, UseRequest
    from ohmsworth.report.sheet import SheetRow
    from ohmsworth.work.care.known_studies import NamedStudy
    from ohmsworth.work.care_ports import LoadedCare
    from ohmsworth.work.ports import LoadedBench, LoadedCable, LoadedLot, LoadedNetwork, LoadedStudy
    from ohmsworth.work.workshop.loaded import LoadedWorkshop


def load_study(folder: Path) -> LoadedStudy:
    """Read a study folder."""
    from ohmsworth.adapters.files import load_study as load
    from ohmsworth.wiring.recordings import open_recording

    return load(folder, open_recording)


def load_studies(folders: Sequence[Path]) -> tuple[NamedStudy, ...]:
    """Read several study folders that are asked about together."""
    from ohmsworth.adapters.files import load_studies as load

    return load(folders, load_study)


def load_question(folder: Path) -> Study:
    """Read the question of a study folder, without its readings."""
    from ohmsworth.adapters.files import load_question as load

    return load(folder)


def load_bench(folder: Path) -> LoadedBench:
    """Read what a folder holds of the bench."""
    from ohmsworth.adapters.files import load_bench as load

    return load(folder)


def load_lot(folder: Path) -> LoadedLot:
    """Read a question about a lot, with the readings of its sample where there are any."""
    from ohmsworth.adapters.files import load_lot as load

    return load(folder)


def load_cable(folder: Path) -> LoadedCable:
    """Read the folder of a cable, with what was measured at it where there is anything."""
    from ohmsworth.adapters.files import load_cable as load

    return load(folder)


def load_care(folder: Path) -> LoadedCare:
    """Read the folder that asks what to do with a contact, with what was read and recorded beside."""
    from ohmsworth.adapters.files import load_care as load

    return load(folder)


def load_workshop(folders: Sequence[Path], reels: Path | None, prices: Path | None) -> LoadedWorkshop:
    """Read the folders of cables with the reels and the prices of the shop, as far as they are named."""
    from ohmsworth.adapters.files.workshop import load_workshop as load

    return load(folders, reels, prices)


def load_uses(path: Path) -> tuple[UseRequest, ...]:
    """Read the circuits of a file."""
    from ohmsworth.adapters.files import load_uses as load

    return load(path)


def typed_uses(kinds: Sequence[str], values: Sequence[str], folder: Path) -> tuple[UseRequest, ...]:
    """Circuits by kind, with values as they are typed."""
    from ohmsworth.adapters.files import typed_uses as read

    return read(kinds, values, folder)


def filled_use(kind: str, values: Mapping[str, str], own_cables: Sequence[Construction] = ()) -> UseRequest:
    """A circuit out of a form."""
    from ohmsworth.adapters.files import filled_use as fill

    return fill(kind, values, own_cables)


def write_new_study(folder: Path) -> tuple[Path, Path]:
    """Write a commented study to start from."""
    from ohmsworth.adapters.files import write_new_study as write

    return write(folder)


def write_file(path: Path, data: bytes) -> None:
    """Write a file whole or not at all."""
    from ohmsworth.adapters.files import write_file as write

    write(path, data)


def write_files(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all of `files` whole, or none."""
    from ohmsworth.adapters.files import write_files as write

    write(files)


def load_network(path: Path) -> LoadedNetwork:
    """Read a Touchstone file of one or two ports."""
    from ohmsworth.adapters.files import read_touchstone

    return read_touchstone(path)


def as_touchstone(
    network: OnePort | TwoPort, reference: float | tuple[float, float] = 50.0, remarks: tuple[str, ...] = ()
) -> bytes:
    """The one-port or two-port as a Touchstone file."""
    from ohmsworth.adapters.files import write_touchstone

    return write_touchstone(network, reference, remarks)


def as_sheet(path: Path, rows: Sequence[SheetRow], study: Study) -> bytes:
    """The bench sheet as it is to be written to `path`."""
    from ohmsworth.adapters.files import sheet_bytes

    return sheet_bytes(path, rows, study)
