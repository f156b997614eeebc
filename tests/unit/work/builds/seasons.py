"""Figures of invented cables, with what is true of them known."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from ohmsworth.work.records import CardFigures

MONDAY = date(2026, 1, 5)


def cable(
    day: date, first: str | None = "right", ratio: float = 1.0, connector: str = "jack", **more: object
) -> CardFigures:
    figures = {
        "day": day.isoformat(), "rows": 9, "wires": 3, "over": 0, "under": 0, "open": 0, "first": first, "faults": [],
        "connectors": {connector: [3, ratio]}, "conductors": {"0.22 mm²": [3, 1.0]},
    }  # fmt: skip
    return CardFigures(1, "line", first or "cannot tell yet", figures | more)


def drifting(weeks: int, a_month: float, scatter: float, seed: int = 1) -> list[CardFigures]:
    """Twenty cables a week of a connector that grows; what the cables of one week share scatters too."""
    chance = np.random.default_rng(seed)
    found = []
    for week in range(weeks):
        shared = scatter * chance.standard_normal()
        for _ in range(20):
            logarithm = np.log1p(a_month) * 7 * week / 30 + shared + 0.001 * chance.standard_normal()
            found.append(cable(MONDAY + timedelta(days=7 * week + 2), ratio=float(np.exp(logarithm))))
    return found
