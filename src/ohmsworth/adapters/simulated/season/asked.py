"""What else the invented shop asks: what to do with a dark contact, and what an order of cables needs."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Cell, Reading
from ohmsworth.adapters.simulated.folder import READINGS, bench_text, readings_text, write_folder
from ohmsworth.adapters.simulated.season import designs
from ohmsworth.adapters.simulated.season.lists import PRICES, REELS
from ohmsworth.adapters.simulated.season.visits import (
    AS_FOUND,
    CLEANED,
    EXERCISED,
    VISITS,
    Visit,
    opening,
    visit_readings,
)

#: The day on which the season ends in folders, whose days stay as they are.
SHOWN = date(2026, 3, 6)
#: The visit whose last connector waits for what is to be done to it.
_ASKED = VISITS[-1]
_REMEDIES = {EXERCISED: "exercise", CLEANED: "clean"}
_CARE = """\
# Invented: the last of the festival's connectors, which waits for what is to be done to it.
#
# readings.csv holds how it was found, outcomes.csv how the shop's other connectors were before and after each treatment.

subject = "stage box input, {serial}"
currency = "€"

[contact]
specimen = "{serial}"
condition = "{condition}"
found_on = {day}

[limit]
resistance = "{limit}"
source = "the shop's own limit for connectors in use"

[maker_says]
who = "the connector's maker"
words = ["Contacts must not be lubricated."]
forbids = ["re-lubricate"]

[prices]
labour = 48
failure = 120
retest = "3 min"
can = ["exercise", "clean", "re-terminate", "replace"]

[prices.materials]
clean = 0.8
re-terminate = 1.0
replace = 9.5

[plating]
metal = "silver"
thickness = "2 µm to 4 µm"
taken_off.clean = "0.05 µm to 0.2 µm"

[storage]
environment = "G2"

{bench}
"""
#: Further keys of the cables that are ordered, each before its tables, and what is bought for each beside the connectors.
_MULTICORE = 'quantity = 2\nlength_tolerance = "1 %"\n'
_MICROPHONE = 'quantity = 9\nlength_tolerance = "1 %"\n'
_LABEL = '\n[[parts]]\nname = "label"\n'


def write_care(folder: Path) -> None:
    """Write the folder that asks what to do with a dark contact into `folder`.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    serial = _ASKED.serials[-1]
    found = [one for one in visit_readings(_ASKED) if one.specimen == serial]
    day = opening(SHOWN, _ASKED.back)
    said = {"serial": serial, "condition": AS_FOUND, "day": day.date(), "limit": _ASKED.limit}
    rows = [row for visit in VISITS for row in _outcomes(visit)]
    files = {
        "care.toml": _CARE.format(bench=bench_text(_ASKED.truth), **said),
        READINGS: readings_text(found, _ASKED.truth, opening=day),
        "outcomes.csv": "\n".join(["remedy,specimen,job,before [mΩ],after [mΩ]", *rows, ""]),
    }
    write_folder(folder, files)


def _outcomes(visit: Visit) -> Iterator[str]:
    """A row for each connector and treatment: as it was before it, and as it was after it."""
    ohm = _resistances(visit_readings(visit))
    for before, after in zip([AS_FOUND, *visit.treatments], visit.treatments, strict=False):
        for serial in visit.treated:
            was, now = (1e3 * ohm[serial, condition] for condition in (before, after))
            yield f"{_REMEDIES[after]},{serial},{visit.name},{was:.2f},{now:.2f}"


def _resistances(readings: Sequence[Reading]) -> dict[Cell, float]:
    """Ohm of each connector under each condition; a current that is turned leaves no offset in their ratio."""
    volts: dict[Cell, float] = defaultdict(float)
    amperes: dict[Cell, float] = defaultdict(float)
    for one in readings:
        sign = 1 if one.forward else -1
        volts[one.specimen, one.condition] += sign * one.voltage
        amperes[one.specimen, one.condition] += sign * one.current
    return {cell: volt / amperes[cell] for cell, volt in volts.items()}


def write_order(folder: Path) -> tuple[Path, ...]:
    """Write an order of two cables into `folder`, each in a folder of its own, which are returned, with reels and prices beside.

    Raises
    ------
    OutputFault
        When the folder holds anything else.
    """
    ordered = {
        "stage multicore": (designs.MULTICORE, _MULTICORE),
        "microphone cable": (designs.MICROPHONE, _MICROPHONE),
    }
    for name, (design, first) in ordered.items():
        write_folder(folder / name, {"cable.toml": design.described("", first=first) + _LABEL})
    write_folder(folder, {"reels.csv": REELS, "prices.toml": PRICES}, tuple(ordered))
    return tuple(folder / name for name in ordered)
