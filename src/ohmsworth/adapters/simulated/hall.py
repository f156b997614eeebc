"""The scenario that Ohmsworth is shown with: the stage connectors of a concert hall in a hot-spring town.

Invented from end to end. Three flaws are planted, each of a kind that happens at a bench, so that a reader can see
what becomes of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Cell, Mating, Reading, Surface, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.folder import (
    CHECK,
    READINGS,
    STUDY,
    bench_text,
    readings_text,
    write_folder,
)
from ohmsworth.adapters.simulated.shop import STANDARD, check_text

AS_FOUND, CLEANED, NEW = "as found", "cleaned", "new"
#: Channels of the stage snake that were measured, and connectors fresh from the bag.
STAGE = ("ch 02", "ch 05", "ch 08", "ch 11", "ch 17", "ch 22")
FRESH = ("new 1", "new 2", "new 3", "new 4")
#: Chosen among many for an ordinary outcome: each median near its truth.
SEED = 8
TRUTH = Truth(
    {
        AS_FOUND: Surface(9.0e-3, response=0.08, mating=0.07, reading=0.006),
        CLEANED: Surface(2.4e-3, response=0.05, mating=0.05, reading=0.003),
        NEW: Surface(2.3e-3, response=0.05, mating=0.05, reading=0.003),
    },
    specimen=0.05,
)

#: A cleaned contact's reading typed ten times too large: the last of the mating (specimen, condition, mating).
SLIPPED = ("ch 08", CLEANED, 2)
#: A dark contact that was still coming down while it was read, over twice the usual number of readings.
UNSETTLED = ("ch 17", AS_FOUND, 1)
#: A first reading whose reversed partner was never taken.
LONE = ("new 3", NEW, 3)

_MATINGS, _PAIRS = 3, 2
_UNSETTLED_PAIRS, _EXCESS = 4, 0.6
_OVERNIGHT = 22 * 3600
_SLIP = 1

_STUDY = """\
# Ohmsworth's demonstration. Town, hall, owner and readings are invented: a seeded simulator made them.
#
# The stage snake of a concert hall in a hot-spring town lay for years in humid, sulphurous air, and the silvered pins
# of its connectors went dark. The hall asks whether that harms its microphone lines, and whether cleaning helps.
# Pin 2 of six of the dark connectors was read as found, then cleaned and read again: the same six both times. Four
# new connectors of the same type were read for comparison. Every connector was mated three times; in each mating the
# current was sent forward and reversed, twice over.

question = "The stage connectors have gone dark: do they need cleaning, and does it matter for the microphones?"
reference = "cleaned"          # the condition that the others are compared against
coverage = 0.95                # of the intervals, and what a verdict needs
plating = "silver"
temperature = "23 °C"          # of the bench
wires = ["0.22 mm²", "24 AWG"] # "as much as so many centimetres of this wire"

[limit]
resistance = "3 mΩ"
source = "the connector's datasheet: contact resistance of a mated pair"

[bench]
# The current source is clamped, so that it cannot break through a film on an open contact.
open_circuit_voltage = "20 mV"

# From the meters' specifications: ± (per cent of reading + counts).
{bench}

{standard}
# No margin is stated: the uses say how large a change of resistance would matter.
[[use]]
kind = "dynamic microphone"
name = "vocal microphone over the snake"
length = "60 m"
conductor = "0.22 mm²"
contacts_near = 2              # at the microphone and at the stage box
contacts_far = 2               # at the snake's tail and at the console

[[use]]
kind = "phantom microphone"
name = "choir microphone on phantom power"
length = "60 m"
conductor = "0.22 mm²"
contacts_near = 2
contacts_far = 2
current = "4 mA"               # that the microphone draws
needed_volts = "24 V"
"""


def write_hall(folder: Path, seed: int = SEED) -> None:
    """Write the scenario's ``study.toml``, ``readings.csv`` and ``check.csv`` into `folder`.

    Parameters
    ----------
    folder
        New, empty, or holding these very files.
    seed
        Of everything that chance decides; the same seed writes the same bytes.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    readings = list(_flawed(read_bench(TRUTH, _plan(seed), seed)))
    contents = {
        STUDY: _STUDY.format(bench=bench_text(TRUTH), standard=STANDARD),
        READINGS: readings_text(readings, TRUTH),
        CHECK: check_text(seed),
    }
    write_folder(folder, contents)


def _plan(seed: int) -> list[Mating]:
    """The first day what came from the stage and what is new, in mixed order; the second day what was cleaned."""
    first = rounds([*_cells(STAGE, AS_FOUND), *_cells(FRESH, NEW)], _MATINGS, _PAIRS, seed)
    second = rounds(_cells(STAGE, CLEANED), _MATINGS, _PAIRS, seed)
    second[0] = replace(second[0], rest=_OVERNIGHT)
    return [_unsettled(mating) for mating in [*first, *second]]


def _cells(specimens: Sequence[str], condition: str) -> list[Cell]:
    return [(specimen, condition) for specimen in specimens]


def _unsettled(mating: Mating) -> Mating:
    if (*mating.cell, mating.number) != UNSETTLED:
        return mating
    return replace(mating, pairs=_UNSETTLED_PAIRS, excess=_EXCESS)


def _flawed(readings: Sequence[Reading]) -> Iterator[Reading]:
    """The readings with one slip of the pen and without one reversed reading."""
    step = 0
    for before, reading in zip([None, *readings], readings, strict=False):
        place = _place(reading)
        step = step + 1 if before is not None and _place(before) == place else 1
        if place == LONE and step == 2:
            continue
        # The last of its mating: what is left, + − +, still cancels the offset without it.
        slipped = place == SLIPPED and step == 2 * _PAIRS
        yield replace(reading, slip=_SLIP) if slipped else reading


def _place(reading: Reading) -> tuple[str, str, int]:
    return reading.specimen, reading.condition, reading.mating
