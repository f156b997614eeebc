"""Files of sound: the drive written, takes read; and takes played and recorded from here."""

from ohmsworth.adapters.audio.live import LiveDevices
from ohmsworth.adapters.audio.reading import open_recording
from ohmsworth.adapters.audio.taking import staged_recording
from ohmsworth.adapters.audio.writing import staged_drive, write_recording

__all__ = ["LiveDevices", "open_recording", "staged_drive", "staged_recording", "write_recording"]
