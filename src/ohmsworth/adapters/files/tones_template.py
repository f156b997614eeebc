"""A tones.toml to start from, with every key explained."""

from __future__ import annotations

TONES_TEMPLATE = """\
# The impedance of a contact over frequency, with a two-channel audio interface. Lines that begin with # are remarks.
# After every change: ohmsworth tones FOLDER

contact = "10 mΩ"           # about what you expect of it
current = "20 mA"           # largest through the contact (peak); or current_rms = "5 mA"
# uncertainty = "1 µΩ"      # what noise may leave at any tone: the card then says how long that takes
# turned = true             # every take once more with the contact's sense leads exchanged: takes out crosstalk

[tones]
lowest = "20 Hz"
highest = "20 kHz"
number = 11                 # evenly spaced on a logarithmic scale, up to 31
way = "together"            # "together", or "in turn": one after the other, less noise from the same time and peak
time = "60 s"               # of each take, shared by the tones if they come in turn
rate = "48 kHz"             # of the interface: 44.1, 48, 88.2, 96, 176.4 or 192 kHz
# period = "1 s"            # left out: the shortest of 1, 2 and 4 s that has such tones
# level_check = "10 s"      # before the tones, to set the gains by

[output]
full_scale = "1.4 V"        # peak of the open output at full scale, its volume control as you will leave it
channels = 2                # of drive.wav: 2 alike, or 1

[inputs]
noise = "2 µV"              # of each input from 20 Hz to 20 kHz; or noise_density = "14 nV/√Hz"
crosstalk = "-100 dB"       # of one input into the other at most; or a share, such as "0.001 %"
# full_scale = "0.2 V"      # peak that reads as full scale with the gain that you set; leave out if not known
# distortion = "-100 dB"    # harmonics that an input makes of a tone at full scale, at most
# channels = [1, 2]         # of the recordings that hold input 1 and input 2, where they have more than two

[circuit]
series = "47 Ω"             # resistor in the row, with the output's own resistance added
bridge = "0.82 Ω"           # across shunt and contact, keeps an opening contact below 20 mV; left out: none

[circuit.shunt]
resistance = "100 mΩ"       # four-wire, best from its calibration
tolerance = "±1 %"          # temperature included
# inductance = "5 nH"       # between its sense points, with the next line; it matters at the highest tones
# inductance_tolerance = "±2 nH"

# What follows is for 'ohmsworth takes FOLDER'; take the # from what applies.

# [limit]
# resistance = "3 mΩ"
# source = "whose limit it is"

# [direct]                  # the same contact, in the same mating, by direct current
# resistance = "9.1 mΩ"
# uncertainty = "20 µΩ"     # standard uncertainty
# current = "10 mA"
# reversed = true           # read with the current forward and reversed

# [load]                    # the known resistor of load-straight.wav and load-swapped.wav
# resistance = "10 mΩ"
# tolerance = "±0.5 %"

# [calibration]
# date = "2026-03-03"       # of the recordings of short, load and open
"""
