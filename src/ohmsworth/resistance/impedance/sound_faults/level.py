"""A level that wastes what the converter could tell apart."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.heard import Heard

#: Decibels below full scale from which on a peak is low, and where it should be.
_LOW, _WANTED = -24.0, -6.0


def level_low(sound: Heard) -> list[Doubt]:
    """The louder input peaks far below full scale."""
    peak = float(sound.peak.max())
    if not peak or (decibels := 20 * np.log10(peak)) >= _LOW:
        return []
    words = f"the louder input peaks at {decibels:.0f} dB of full scale: {_WANTED - decibels:.0f} dB could be gained"
    mend = "Turn the gain of both inputs up alike, until the level check peaks at half of full scale, and record again."
    return [Doubt("LEVEL_LOW", words, (), mend)]
