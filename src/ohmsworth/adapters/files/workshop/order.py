"""Folders of cables with the reels and the prices of the shop, read together: every fault of all of them at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.files.cable_toml import FILE, read_cable
from ohmsworth.adapters.files.folder import refuse_no_folder
from ohmsworth.adapters.files.workshop.prices_toml import read_prices
from ohmsworth.adapters.files.workshop.reels_csv import read_reels
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.workshop.loaded import LoadedWorkshop, OrderedCable


def load_workshop(folders: Sequence[Path], reels: Path | None, prices: Path | None) -> LoadedWorkshop:
    """Read ``cable.toml`` of each folder, and what the shop has and asks for, as far as it is named.

    Raises
    ------
    InputRefused
        With every fault of all files; nothing was written.
    """
    faults: list[Fault] = []
    cables: list[OrderedCable] = []
    for folder in folders:
        try:
            refuse_no_folder(folder)
        except InputRefused as error:
            faults += error.faults
            continue
        read = read_cable(folder / FILE)
        faults += _in_folder(read.faults, folder) if len(folders) > 1 else read.faults
        if read.request is not None:
            cables.append(OrderedCable(folder.resolve().name, read.request))
    in_stock, unused, more = ((), (), []) if reels is None else read_reels(reels)
    faults += more
    price_list, more = (None, []) if prices is None else read_prices(prices)
    faults += more
    if faults:
        raise InputRefused(tuple(faults))
    return LoadedWorkshop(tuple(cables), None if reels is None else in_stock, price_list, unused)


def _in_folder(faults: Sequence[Fault], folder: Path) -> list[Fault]:
    """Of several files of one name, which."""
    return [replace(fault, where=f"{folder.name}/{fault.where}") for fault in faults]
