"""Files of sound: the drive of a plan written."""

from ohmsworth.adapters.audio.writing import staged_drive

__all__ = ["staged_drive"]
