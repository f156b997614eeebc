"""The shop that measured the hall: its bench, the plan for its next job, and a lot of connectors that it may sell.

Invented from end to end, on the very meters of the hall. What is true of each stands in the `Truth` beside it, so that what
the program says can be held against it.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Mating, Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.folder import (
    CHECK,
    OPENING,
    READINGS,
    STUDY,
    bench_text,
    figures,
    readings_text,
    write_folder,
)

SEED = 8
SHUNT = "1 mΩ shunt"
#: True value of the shunt (ohm), half an uncertainty below what its calibration says, and how its daily checks scatter.
SHUNT_TRUTH = Truth({SHUNT: Surface(1.0021e-3, response=0.0, mating=0.0015, reading=0.0005)}, specimen=0.0)
DAYS = 24
OWNER, APPRENTICE = "owner", "apprentice"
#: The apprentice reads one per cent higher; both repeat to two per cent.
PEOPLE_TRUTH = Truth(
    {
        OWNER: Surface(2.4e-3, response=0.003, mating=0.02, reading=0.003),
        APPRENTICE: Surface(2.424e-3, response=0.003, mating=0.02, reading=0.003),
    },
    specimen=0.15,
)
CONNECTORS = ("A", "B", "C", "D", "E", "F")
TRIALS = 3
LOT = "new connectors"
PIECES, SIZE = 76, 200
#: One piece in five thousand of such a supply is over 3 mΩ.
LOT_TRUTH = Truth({LOT: Surface(2.3e-3, response=0.0, mating=0.03, reading=0.003)}, specimen=0.075)
#: When the meters that read it had last been calibrated, by their use.
CALIBRATED = {
    "voltmeter": OPENING.date() - timedelta(days=47),
    "ammeter": OPENING.date() - timedelta(days=47),
}

_LIMIT = """\
[limit]
resistance = "3 mΩ"
source = "the connector's datasheet: contact resistance of a mated pair"
"""
STANDARD = f"""\
# One shunt, read every morning before the work: its readings stand in check.csv.
[check_standard]
name = "{SHUNT}"
value = "1.0023 mΩ"             # from its calibration, with the next line
standard_uncertainty = "0.4 µΩ"
"""
_BENCH = """\
# The bench of the shop that measured the hall. Everything is invented: a seeded simulator made it.
#
# check.csv holds {days} mornings of the check standard; in readings.csv the owner and the apprentice each read six connectors
# three times, mated anew each time.

question = "Is the bench fit, and can it judge 3 mΩ?"

{limit}
{standard}
{bench}
"""
_PLAN = """\
# What the shop asks before it drives to the next hall: how many connectors it has to measure there, before and after cleaning.
# The scatter is taken from the hall that it has measured: ohmsworth plan plan --from study

question = "Does cleaning help in the next hall too, by a fifth or more?"
reference = "cleaned"

[plan]
goal = "detect"
effect = "20 %"                 # the smallest difference that the shop wants to see
conditions = ["as found", "cleaned"]
assignment = "before and after" # the same connectors, cleaned in between
chance = 0.9

{standard}
{limit}
{bench}
"""
_LOT = """\
# A bag of {size} new connectors: may the shop sell them as "3 mΩ or less"?
# Each of the {pieces} that the plan asks for was mated twice.

question = "Can I sell this bag of connectors?"

{limit}
[lot]
name = "three-pin plugs"
number = "B-77"                 # on the bag
size = {size}
drawn = "by random numbers, from the whole bag"
acceptable = "1 %"              # of the pieces over the limit: still good
rejectable = "6 %"              # too bad

[certificate]                   # for: ohmsworth certify
number = "L-001"
shop = "The Cable Bench"
address = "1 Mill Lane, Millbrook"
tested_by = "{owner}"
date = {date}

{bench}
"""


def check_text(seed: int = SEED) -> str:
    """The check standard's readings as ``check.csv``: one morning after another, up to the day on which the hall was read."""
    matings = [Mating(SHUNT, SHUNT, day, pairs=2, rest=24 * 3600) for day in range(1, DAYS + 1)]
    lines = ["date,polarity,voltage [mV],current [mA]"]
    for reading in read_bench(SHUNT_TRUTH, matings, seed):
        date = OPENING.date() - timedelta(days=DAYS - reading.mating)
        sign = "+" if reading.forward else "-"
        lines.append(f"{date},{sign},{figures(reading, SHUNT_TRUTH)}")
    return "\n".join([*lines, ""])


def write_shop_bench(folder: Path, seed: int = SEED) -> None:
    """Write the bench's folder: ``check.csv``, and ``readings.csv`` by two operators.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    people = [(connector, who) for connector in CONNECTORS for who in (OWNER, APPRENTICE)]
    readings = read_bench(PEOPLE_TRUTH, rounds(people, TRIALS, 2, seed), seed)
    study = _BENCH.format(days=DAYS, limit=_LIMIT, standard=STANDARD, bench=bench_text(PEOPLE_TRUTH))
    contents = {
        STUDY: study,
        READINGS: readings_text(readings, PEOPLE_TRUTH, "operator"),
        CHECK: check_text(seed),
    }
    write_folder(folder, contents)


def write_next_hall(folder: Path) -> None:
    """Write the folder of the next job: a question, and nothing read yet.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    study = _PLAN.format(limit=_LIMIT, standard=STANDARD, bench=bench_text(SHUNT_TRUTH))
    write_folder(folder, {STUDY: study})


def write_shop_lot(folder: Path, seed: int = SEED) -> None:
    """Write the folder of the lot: its question and the readings of its sample.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    pieces = [(f"piece {number}", LOT) for number in range(1, PIECES + 1)]
    readings = read_bench(LOT_TRUTH, rounds(pieces, 2, 1, seed), seed)
    said = {
        "owner": f"The {OWNER}",
        "date": OPENING.date(),
        "limit": _LIMIT,
        "bench": bench_text(LOT_TRUTH, CALIBRATED),
    }
    study = _LOT.format(size=SIZE, pieces=PIECES, **said)
    write_folder(folder, {STUDY: study, READINGS: readings_text(readings, LOT_TRUTH)})
