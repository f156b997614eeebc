"""Which doubts about a recording leave no number that can be relied on."""

from __future__ import annotations

#: With one of these the impedance may be off by far more than its uncertainty says: nothing is judged by it.
GRAVE = ("CLIPPED", "DROPPED_OUT", "INPUTS_EXCHANGED", "LOSSY", "PROCESSED")
