"""Adapters of a measurement of capacitance."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from ohmsworth.work.capacitance.loaded import LoadedCapacitance


def load_capacitance(folder: Path) -> LoadedCapacitance:
    """Read the folder of a measurement of capacitance, which may be new, and open its recordings."""
    from ohmsworth.adapters.files.capacitance.folder import load_capacitance as load
    from ohmsworth.wiring.recordings import open_recording

    return load(folder, open_recording)
