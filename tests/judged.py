"""Entries as a simulated bench gives them, for tests of what is said about each before it is accepted."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from ohmsworth.adapters.simulated import TRUTH, Mating, Truth, read_bench, rounds
from ohmsworth.adapters.simulated.folder import figures
from ohmsworth.readings.entry import Entry, Sign, Typed
from ohmsworth.readings.study import Bench, Limit, Study

START = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
LIMIT = Limit(3e-3, "the connector's datasheet")


def reading(
    voltage: str,
    current: str = "100.00",
    polarity: Sign = "+",
    *,
    specimen: str = "N1",
    condition: str = "new",
    mating: str = "1",
    volts: str = "mV",
    amperes: str = "mA",
) -> Entry:
    """An entry from the digits in millivolt and milliampere."""
    return Entry(
        specimen,
        condition,
        mating=mating,
        polarity=polarity,
        voltage=Typed(voltage, volts, "voltage"),
        current=Typed(current, amperes, "current"),
    )


def study_of(truth: Truth = TRUTH, limit: Limit | None = LIMIT) -> Study:
    """A study with the meters of a simulated bench."""
    return Study(
        "?", reference=next(iter(truth.surfaces)), limit=limit, bench=Bench(truth.voltmeter, truth.ammeter)
    )


def plan_of(truth: Truth, specimens: int, matings: int, pairs: int, seed: int) -> list[Mating]:
    cells = [(f"ch {i}", condition) for i in range(specimens) for condition in truth.surfaces]
    return rounds(cells, matings, pairs, seed)


def bench_entries(truth: Truth, plan: list[Mating], seed: int, *, signed: bool = True) -> list[Entry]:
    """The readings of `plan` as typed; without signs where the meters show none."""
    found = []
    for one in read_bench(truth, plan, seed):
        volts, amperes = figures(one, truth).split(",")
        if not signed:
            volts, amperes = volts.lstrip("-"), amperes.lstrip("-")
        entry = reading(
            volts,
            amperes,
            "+" if one.forward else "-",
            specimen=one.specimen,
            condition=one.condition,
            mating=str(one.mating),
        )
        found.append(replace(entry, time=START + timedelta(seconds=one.time)))
    return found
