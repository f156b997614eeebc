"""Specimens of several kinds that were read year by year, with their cards, on a bench."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from tests.web.kept import Kept, sent

DAYS = ("2021-03-01", "2022-03-01", "2023-03-01", "2024-02-29", "2025-03-01")


@dataclass(frozen=True)
class Aged:
    """A specimen: what its card says, its growth a year (of ln R), and on which days it is read."""

    serial: str
    growth: float
    card: Mapping[str, str] = field(default_factory=dict)
    days: Sequence[str] = DAYS


def years(day: str) -> float:
    return (np.datetime64(day) - np.datetime64(DAYS[0])) / np.timedelta64(1, "D") / 365.25


def take_in(bench: Kept, specimens: Sequence[Aged], seed: int = 5, scatter: float = 0.01) -> dict[str, int]:
    """Cards of the specimens, and one study with two contacts of each mated twice on every day; the cards by serial."""
    chance = np.random.default_rng(seed)
    rows = ["specimen,condition,contact,mating,time,resistance [mΩ]"]
    for one in specimens:
        for n, day in enumerate(one.days):
            shared = math.exp(one.growth * years(day) + scatter * chance.standard_normal())
            rows += [
                f"{one.serial},as found,{contact},{2 * n + mating},{day} 1{n % 9}:0{mating},"
                f"{high * shared * math.exp(0.003 * chance.standard_normal()):.5f}"
                for contact, high in (("1", 4.0), ("2", 7.0))
                for mating in (0, 1)
            ]
    return study(bench, rows, {one.serial: one.card for one in specimens})


def study(bench: Kept, rows: Sequence[str], cards: Mapping[str, Mapping[str, str]]) -> dict[str, int]:
    """A study with such rows, whose specimens have such cards; these by serial."""
    numbers = {}
    for serial, card in cards.items():
        told = bench.client.post(
            "/cards/new/specimens", data={"serial": serial, "key": f"card {serial}", **card}
        )
        assert told.status_code == 303, told.text
        numbers[serial] = int(told.headers["location"].rpartition("/")[2])
    files = [("study.toml", b'question = "Year by year"\n'), ("readings.csv", "\n".join(rows).encode())]
    answer = bench.client.post("/records/take-in", files=sent(*files))
    assert answer.status_code == 200, answer.text
    number = max(card.number for card in bench.records.cards("study"))
    for serial in cards:
        named = {"name": serial, "serial": serial, "change": "known", "key": f"named {number} {serial}"}
        assert bench.client.post(f"/studies/{number}/specimens", data=named).status_code == 303
    return numbers


def two_platings(bench: Kept) -> dict[str, int]:
    """Four gold contacts that grow by about 2 % a year, and four of silver that grow by about 12 %."""
    gold = [
        Aged(
            f"G{k}",
            g,
            {"plating": "gold", "part": "socket 3", "lot": f"lot {'AB'[k % 2]}", "made": "2020-03-01"},
        )
        for k, g in enumerate([0.018, 0.024, 0.015, 0.021])
    ]
    silver = [
        Aged(
            f"S{k}",
            g,
            {"plating": "silver", "part": "socket 3", "lot": f"lot {'AB'[k % 2]}", "made": "2014-03-01"},
        )
        for k, g in enumerate([0.13, 0.11, 0.12, 0.105])
    ]
    return take_in(bench, [*gold, *silver])
