"""How contacts age over 2,000 specimens and 100,000 readings in the records: the first look, each later one, and after a reading.

python benchmarks/bench_ageing.py [sqlite|postgres] [matings a visit]
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import numpy as np
from bench_season import place

from ohmsworth import wiring
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.cards.log import WRITTEN
from ohmsworth.work.cards.log import face_of as card_face
from ohmsworth.work.care.ageing import ageing
from ohmsworth.work.care.visited import look_through
from ohmsworth.work.records import NewLine, Records
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import QUESTION, SPECIMEN, TAKEN

STUDIES, EACH, VISITS, MATINGS, ROUNDS, SEED = 200, 10, 5, 10, 5, 3
PLATINGS = {"gold": 0.01, "silver": 0.08, "tin": 0.05, "nickel": 0.03}
WANTED = 1.0
START = datetime(2016, 3, 1, 9, tzinfo=UTC)


def fill(records: Records, matings: int) -> int:
    """Specimens with their cards, and studies that read each of theirs once a year; say how many readings."""
    chance = np.random.default_rng(SEED)
    read = 0
    for study in range(STUDIES):
        cards = []
        for k in range(EACH):
            plating = list(PLATINGS)[(study + k) % 4]
            fields = {
                "serial": f"S{study}.{k}",
                "plating": plating,
                "lot": f"lot {study % 12}",
                "part": f"part {k % 3}",
            }
            line = NewLine(f"card {study}.{k}", WRITTEN, fields)
            cards.append(
                (records.open_card("specimen", "Kim", [line], card_face("specimen")), PLATINGS[plating])
            )
        lines = [NewLine(f"q{study}", QUESTION, {"toml": 'question = "Year by year"\n'})]
        lines += [
            NewLine(f"n{study}.{k}", SPECIMEN, {"name": f"s{k}", "card": card})
            for k, (card, _) in enumerate(cards)
        ]
        for k, (card, growth) in enumerate(cards):
            own = growth + 0.02 * chance.standard_normal()
            for visit in range(VISITS):
                day = np.exp(own * visit + 0.05 * chance.standard_normal())
                for mating in range(matings):
                    ohm = 4 * day * np.exp(0.02 * chance.standard_normal())
                    moment = START + timedelta(days=365 * visit, seconds=60 * mating)
                    typed = Typed(f"{ohm:.4f}", "mΩ", "resistance")
                    entry = Entry(
                        f"s{k}", "as found", mating=f"{visit}.{mating}", resistance=typed, time=moment
                    )
                    lines.append(NewLine(f"r{study}.{k}.{visit}.{mating}", TAKEN, entry=entry, specimen=card))
                    read += 1
        records.open_card("study", "Kim", lines, lambda log: study_face(log[:1]))
    return read


def once(act: Callable[[], object]) -> tuple[float, float]:
    """Seconds by the clock and of computing, of one time."""
    begun = time.perf_counter(), time.process_time()
    act()
    return time.perf_counter() - begun[0], time.process_time() - begun[1]


def median(act: Callable[[], object]) -> tuple[float, float]:
    """The same, of some rounds after a first that loads what it needs."""
    act()
    took = [once(act) for _ in range(ROUNDS)]
    return statistics.median(one for one, _ in took), statistics.median(one for _, one in took)


def told(took: tuple[float, float]) -> str:
    return f"{1e3 * took[0]:.0f} ms ({1e3 * took[1]:.0f} ms of computing)"


def measure(system: str, matings: int) -> bool:
    """Fill, measure, print a line; say whether each later look was as quick as wanted."""
    with place(system) as (address, _), wiring.open_records(address) as records:
        read = fill(records, matings)
        first = once(lambda: look_through(records))
        by_plating = median(lambda: ageing(records, "plating"))
        by_lot = median(lambda: ageing(records, "supplier lot"))
        study = records.cards("study", most=1)[0].number
        last = Typed("4.0001", "mΩ", "resistance")
        entry = Entry(
            "s0", "as found", mating="new", resistance=last, time=START + timedelta(days=365 * VISITS)
        )
        records.add(study, "Kim", [NewLine("one more", TAKEN, entry=entry)])
        after = once(lambda: ageing(records, "plating"))
        found = ageing(records, "plating")
    slopes = ", ".join(f"{one.name} {one.log_slope:.4f} ± {one.standard_error:.4f}" for one in found.levels)
    print(
        f"bench_ageing on {system}: {STUDIES * EACH} specimens, {read} readings; first look {told(first)}, then by plating "
        f"{told(by_plating)}, by 12 lots {told(by_lot)}, after one more reading {told(after)}; a year: {slopes} "
        f"(planted {', '.join(f'{name} {value}' for name, value in PLATINGS.items())})"
    )
    return max(one for one, _ in (by_plating, by_lot, after)) < WANTED


if __name__ == "__main__":
    asked = sys.argv[1:2] or ["sqlite"]
    number = int(sys.argv[2]) if len(sys.argv) > 2 else MATINGS
    quick = [measure(system, number) for system in asked]
    if not all(quick):
        sys.exit("bench_ageing: slower than wanted")
