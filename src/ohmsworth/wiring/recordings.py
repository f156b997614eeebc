"""Adapters of sound files."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from ohmsworth.resistance.impedance.recording import Recording


def open_recording(paths: Sequence[Path], inputs: tuple[int, int] | None = None) -> Recording:
    """A take from one stereo file, or from the two mono files of its inputs."""
    from ohmsworth.adapters.audio import open_recording as opened

    return opened(paths, inputs)
