"""What the files of a measurement over frequency are called; all of them stand in one folder."""

from __future__ import annotations

#: What is wished for, what is played and in which order, and the sound of it.
WISHES, PLAN, DRIVE = "tones.toml", "plan.json", "drive.wav"
#: The card that says how to connect and what to do.
CARD_PAGE, CARD_PDF = "wiring.html", "wiring.pdf"
#: The recordings: shunt on the first input and contact on the second, and exchanged; both again with the contact's sense leads
#: exchanged.
STRAIGHT, SWAPPED = "straight.wav", "swapped.wav"
STRAIGHT_TURNED, SWAPPED_TURNED = "straight-turned.wav", "swapped-turned.wav"
RECORDINGS = (STRAIGHT, SWAPPED, STRAIGHT_TURNED, SWAPPED_TURNED)
