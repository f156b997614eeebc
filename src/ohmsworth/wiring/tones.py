"""Adapters of a measurement over frequency."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from contextlib import AbstractContextManager
    from pathlib import Path

    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.ports import LoadedTones


def load_tones(folder: Path) -> LoadedTones:
    """Read what is wished for in a folder, which may be new."""
    from ohmsworth.adapters.files import load_tones as load

    return load(folder)


def as_plan_file(plan: TonePlan) -> bytes:
    """The plan as plan.json has it."""
    from ohmsworth.adapters.files import plan_bytes

    return plan_bytes(plan)


def staged_drive(path: Path, plan: TonePlan, channels: int) -> AbstractContextManager[None]:
    """Write the drive of a plan; it takes its place once all else has gone well."""
    from ohmsworth.adapters.audio import staged_drive as stage

    return stage(path, plan, channels)


def load_takes(folder: Path) -> LoadedTakes:
    """Read the folder of a measurement over frequency, and open its recordings."""
    from ohmsworth.adapters.files import load_takes as load
    from ohmsworth.wiring.recordings import open_recording

    return load(folder, open_recording)
