"""A capacitance.toml to start from, with every key explained."""

from __future__ import annotations

CAPACITANCE_TEMPLATE = """\
# The capacitance of a cable's wires, with a two-channel audio interface. Lines that begin with # are remarks.
# After every change, and after every recording: ohmsworth capacitance FOLDER

leads = "2 pF"              # by how much the leads change when they are moved, at most

[resistor]
resistance = "10 kΩ"        # between output and wire; 1 kΩ for cables of more than about 20 nF
tolerance = "±1 %"          # a value read with a good meter is better than the print

[tones]
lowest = "200 Hz"
highest = "12 kHz"
number = 9
time = "10 s"               # of each recording
rate = "48 kHz"             # of the interface: 44.1, 48, 88.2, 96, 176.4 or 192 kHz
level_check = "4 s"

[output]
level = "25 %"              # peak of what is played, of full scale
channels = 2                # of drive.wav: 2 alike, or 1

[inputs]
crosstalk = "-80 dB"        # of one input into the other at most; or a share, such as "0.01 %"
# channels = [1, 2]         # of the recordings that hold input 1 and input 2, where they have more than two

# One table for each wire and end. Beside them, in the order of the card: both.wav, open.wav, and last open-again.wav.
[[measured]]
take = "near"               # the recording near.wav
wire = "core 2"             # as in cable.toml
to = "the screen"           # what it is measured against: best everything else, joined
end = "A"

[[measured]]
take = "far"
wire = "core 2"
to = "the screen"
end = "B"

# [[measured]]              # or, where only one end can be reached: a whole wire beside the broken one
# take = "fellow"
# wire = "core 1"
# to = "the screen"
# end = "A"
# whole = true
"""
