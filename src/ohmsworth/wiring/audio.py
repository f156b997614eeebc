"""Adapters of playing and recording from here."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ohmsworth.work.record_take import RecordingPorts


def recording_ports() -> RecordingPorts:
    """What plays, records and keeps takes; the library for it is loaded when it is first used."""
    from ohmsworth.adapters.audio import LiveDevices, staged_recording
    from ohmsworth.wiring.recordings import open_recording
    from ohmsworth.work.record_take import RecordingPorts

    return RecordingPorts(LiveDevices(), staged_recording, open_recording)
