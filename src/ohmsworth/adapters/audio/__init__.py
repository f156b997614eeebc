"""Files of sound: the drive written, takes read."""

from ohmsworth.adapters.audio.reading import open_recording
from ohmsworth.adapters.audio.writing import staged_drive, write_recording

__all__ = ["open_recording", "staged_drive", "write_recording"]
