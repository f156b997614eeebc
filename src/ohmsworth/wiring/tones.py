"""Adapters of a measurement over frequency."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from contextlib import AbstractContextManager
    from pathlib import Path

    from ohmsworth.errors import Fault
    from ohmsworth.resistance.impedance.known import Known
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import Wishes
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.ports import LoadedTones
    from ohmsworth.work.tone_form import ToneForm


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


def tones_text(form: ToneForm, before: str = "") -> str:
    """The text of a tones.toml for a filled-in form, with what `before` says beside."""
    from ohmsworth.adapters.files import tones_text as write

    return write(form, before)


def tone_form(text: str) -> ToneForm:
    """What a tones.toml says of the fields of the form."""
    from ohmsworth.adapters.files import tone_form as read

    return read(text)


def tone_field(fault: Fault) -> str | None:
    """The field of the form that a fault of tones.toml is about."""
    from ohmsworth.adapters.files import tone_field as find

    return find(fault)


def read_tones_text(toml: str, plan: bytes | None = None) -> tuple[Wishes, Known, TonePlan | None]:
    """Read a tones.toml from its text, with the plan.json beside it."""
    from ohmsworth.adapters.files import read_tones_text as read

    return read(toml, plan)


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file."""
    from ohmsworth.adapters.files import sha_of

    return sha_of(path)
