"""Intervals of slopes hold as often as they promise: specimens that age differently, visits missing, visits that wander.

A thousand draws a row: docs/care.md; here few, so that a form that takes readings for specimens, or specimens for alike, fails.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

from ohmsworth.inference.ageing import slopes_by_level

sys.path.append(str(Path(__file__).parents[2] / "benchmarks"))  # programs there are run by path

from bench_ageing_coverage import Shop, drawn, held

DRAWS = 120
SHOPS = (
    Shop("4 + 4", (4, 4), 4, (0.05, 0.05)),
    Shop("3 + 6, one scatters more", (3, 6), 4, (0.08, 0.02)),
    Shop("wander", (6, 6), 6, (0.0, 0.0), wander=0.05),
)


@pytest.mark.parametrize("shop", SHOPS, ids=lambda shop: shop.words)
def test_intervals_hold(shop: Shop) -> None:
    """Fewer than 106 of 120 come about once in a thousand times where 95 % hold."""
    slope, difference, together, _ = held(shop, DRAWS)
    assert min(slope, difference, together) >= 106 / DRAWS


def test_many_visits_of_few_specimens_are_no_evidence_of_their_kind() -> None:
    """However often four specimens are read, their kind is judged by the scatter of four."""
    for visits in (6, 60):
        time, y, specimen, level = drawn(
            Shop("", (4,), visits, (0.05,), within=0.01), np.random.default_rng(8)
        )
        slope = slopes_by_level(time, y, specimen, specimen, level).levels[0].slope
        assert slope is not None
        assert slope.freedom == pytest.approx(3, rel=0.05)
