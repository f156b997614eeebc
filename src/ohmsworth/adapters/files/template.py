"""A study to start from, with every key explained."""

from __future__ import annotations

import os
from pathlib import Path

from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.writing import write_file
from ohmsworth.errors import OutputFault

STUDY_TEMPLATE = """\
# One question, its limit, its meters and its uses. Lines that begin with # are remarks.

question = "Do the tarnished contacts matter on a microphone line?"

# The condition (a word in the column 'condition' of readings.csv) that the others are compared against.
reference = "new"

# Two things asked at once, such as new or tarnished on contact 1 and on contact 2? Give each a column in readings.csv, and put
# these in place of the reference above:
#   factors = ["condition", "contact"]   # the columns, two or more
#   reference = ["new", "1"]             # one level of each, in the same order
#   scatter_by = ["operator"]            # columns of what else scatters: operator, day, meter; left out: nothing else

# compare = "all pairs"   # every two conditions, or levels of a factor; left out: each with the reference
# scale = "log"           # "log" (default): medians and ratios; "linear": means and differences
# scatter = "auto"        # "auto" (default), "equal" or "by condition"
# coverage = 0.95         # of intervals, and the confidence that a verdict needs
# margin = "10 mΩ"        # the smallest change that matters; left out, the uses below say it
# wires = ["0.22 mm²", "24 AWG"]   # for equivalent lengths
# plating = "silver"      # gold, silver, tin, nickel, copper
# temperature = "20 °C"   # of the air at the bench
# history = []            # folders of past studies of the same kind, such as "../last year": their scatter narrows intervals
# keep = [15]             # lines of readings.csv that stay in spite of a warning
# set_aside = [{ row = 14, reason = "probe slipped" }]   # lines that you leave out, each with its reason

[limit]
resistance = "3 mΩ"
source = "datasheet of the connector"

[bench]
# open_circuit_voltage = "20 mV"   # of the current source
# emf_allowance = "3 µV"           # for readings in one polarity only

# From the meters' specifications: ± (percent of reading + counts of the last digit).
[bench.voltmeter]
percent_of_reading = 0.05
counts = 5
resolution = "0.1 µV"

[bench.ammeter]
percent_of_reading = 0.2
counts = 3
resolution = "10 µA"

# A circuit in which the contacts are used; as many as you like.
[[use]]
kind = "dynamic microphone"        # or "balanced line", "headphone", "video" ...: 'ohmsworth meaning' names them all
# length = "20 m"                # of the cable

# What follows is for the other commands: take the # away from a line in [brackets] and from all the keys below it.

# One stable low resistor, read again and again: 'ohmsworth fitness' charts it, 'ohmsworth plan' puts it on the bench sheet,
# and the answer says whether the bench was as it was. Its readings stand in check.csv, or in readings.csv with this
# name as their condition.
#   [check_standard]
#   name = "check bar"
#   value = "1.0023 mΩ"              # from its calibration, with the next line; leave both out if it has none
#   standard_uncertainty = "0.5 µΩ"

# How many to measure: 'ohmsworth plan FOLDER', before there is a readings.csv.
#   [plan]
#   goal = "detect"                  # or "equivalence" (with a margin), "limit" (with 'expected' instead of 'effect')
#   effect = "30 %"                  # the smallest difference that you want to see
#   conditions = ["tarnished", "new"]
#   specimen = "15 %"                # how you think that specimens, matings and readings scatter; or --from a past study
#   mating = "10 %"
#   reading = "1 %"
#   days = 1

# Whether a lot may be sold: 'ohmsworth lot FOLDER', once for the plan, and again when its sample is in readings.csv.
#   [lot]
#   size = 200                       # pieces in the lot
#   acceptable = "1 %"               # share over the limit that is still good
#   rejectable = "6 %"               # share that is too bad
#   condition = "new"                # which condition of readings.csv is the lot, where there are several

# Contacts measured over frequency with an audio interface go into such a study too: 'ohmsworth tones FOLDER' makes the plan and
# the wiring card, and takes.csv (columns specimen, condition, mating, straight, swapped) names the recordings of each mating, in
# place of readings.csv or beside it. A table [frequencies] with at = ["1 kHz", "20 kHz"] says which frequencies are asked about.
"""

READINGS_TEMPLATE = """\
specimen,condition,mating,polarity,voltage [mV],current [mA],note
N1,new,1,+,0.2513,100.02,replace these rows by your own
N1,new,1,-,-0.2489,-100.01,
N1,new,2,+,0.2547,100.02,
N1,new,2,-,-0.2524,-100.02,
N2,new,1,+,0.2391,100.01,
N2,new,1,-,-0.2366,-100.02,
N2,new,2,+,0.2443,100.02,
N2,new,2,-,-0.2418,-100.01,
N3,new,1,+,0.2608,100.02,
N3,new,1,-,-0.2586,-100.02,
N3,new,2,+,0.2571,100.01,
N3,new,2,-,-0.2545,-100.02,
T1,tarnished,1,+,0.4718,100.02,
T1,tarnished,1,-,-0.4691,-100.01,
T1,tarnished,2,+,0.5267,100.02,
T1,tarnished,2,-,-0.5241,-100.02,
T2,tarnished,1,+,0.3984,100.01,
T2,tarnished,1,-,-0.3961,-100.02,
T2,tarnished,2,+,0.4342,100.02,
T2,tarnished,2,-,-0.4319,-100.01,
T3,tarnished,1,+,0.6121,100.02,
T3,tarnished,1,-,-0.6094,-100.02,
T3,tarnished,2,+,0.5633,100.01,
T3,tarnished,2,-,-0.5608,-100.02,
"""


def write_new_study(folder: Path) -> tuple[Path, Path]:
    """Write a commented study into `folder`, which must not hold one yet.

    Raises
    ------
    OutputFault
        When a file is there already or cannot be written.
    """
    paths = folder / STUDY, folder / READINGS
    for path in paths:
        if os.path.lexists(path):
            raise OutputFault(f"{path} is there already; choose another folder, nothing was changed.")
    for path, text in zip(paths, (STUDY_TEMPLATE, READINGS_TEMPLATE), strict=True):
        write_file(path, text.encode())
    return paths
