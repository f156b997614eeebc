"""A study whose contacts were measured with tones: the invented one, in other sizes."""

from pathlib import Path
from typing import Any

from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import plan_bytes
from ohmsworth.adapters.simulated.taken import PLAN, STUDY, TRUE, write_taken

__all__ = ["PLAN", "STUDY", "TRUE", "taken"]


def taken(folder: Path, **sizes: Any) -> Path:
    """The folder of the study."""
    write_taken(folder, lambda plan: plan_bytes(plan).decode(), write_recording, **sizes)
    return folder
