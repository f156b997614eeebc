"""The check standard through the season: every other week, and on each of its last days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from ohmsworth.adapters.simulated.bench import Mating, Reading, read_bench
from ohmsworth.adapters.simulated.folder import figures
from ohmsworth.adapters.simulated.season.days import moment
from ohmsworth.adapters.simulated.shop import SHUNT, SHUNT_TRUTH
from ohmsworth.work.fill_season import CheckRead, Deed

SEED = 23
#: Days before the last on which it was read.
BACKS = tuple(sorted({*range(14, 344, 14), *range(8)}, reverse=True))


def check_deeds(last: date, by: str) -> Iterator[Deed]:
    """One check a day, forward and reversed; a day that falls on a weekend is one with the Friday before it."""
    days = sorted({moment(last, back, 8, 45) for back in BACKS})
    plan = [Mating(SHUNT, SHUNT, number, pairs=1) for number in range(1, len(days) + 1)]
    found = read_bench(SHUNT_TRUTH, plan, SEED)
    for number, at in enumerate(days, 1):
        shown = tuple(("+" if one.forward else "-", _shown(one)) for one in found if one.mating == number)
        yield Deed(at + timedelta(minutes=number % 7), by, CheckRead(SHUNT, shown))


def _shown(reading: Reading) -> dict[str, tuple[str, str]]:
    volts, amperes = figures(reading, SHUNT_TRUTH).split(",")
    return {"voltage": (volts, "mV"), "current": (amperes, "mA")}
