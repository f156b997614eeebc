"""Sound files: takes read from WAV and FLAC."""

from ohmsworth.adapters.audio.reading import open_recording

__all__ = ["open_recording"]
