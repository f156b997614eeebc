"""How often settled conditions are told to move, and moving ones found: drawn studies with a known truth.

Beside it, the F distribution's own word on what a ratio of 25 between mean squares may do by chance (scipy).
"""

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import ReadingTable
from ohmsworth.readings.unsettled import find_unsettled

SEED = 2026
SPECIMENS, MATINGS = 3, 3


def course(kind: str, size: float, readings: int, rng: np.random.Generator) -> np.ndarray:
    """Relative movement of one mating's readings."""
    place = np.arange(readings)
    if kind == "scatter":
        return size * rng.standard_normal(readings)
    if kind == "heavy":  # outliers as Student's t with three degrees of freedom makes them, scaled to `size`
        return size * rng.standard_t(3, readings) / np.sqrt(3)
    if kind == "drift":
        return size * place / (readings - 1)
    return size * (place >= rng.integers(1, readings))


def study(
    conditions: list[tuple[str, float, float]], readings: int, rng: np.random.Generator, polarity: str = "+-"
) -> ReadingTable:
    """Conditions of three specimens with three matings each; of each condition its course, its size, and the noise."""
    volts, signs, columns = [], [], ([], [], [])
    for c, (kind, size, noise) in enumerate(conditions):
        for s in range(SPECIMENS):
            for m in range(MATINGS):
                moved = course(kind, size, readings, rng) + noise * rng.standard_normal(readings)
                sign = [polarity[k % len(polarity)] for k in range(readings)]
                ohm = 2.6e-3 * np.exp(0.2 * rng.standard_normal() + moved)
                volts += [0.1 * r * (1 if p == "+" else -1) + 5e-6 for r, p in zip(ohm, sign, strict=True)]
                signs += sign
                for names, name in zip(columns, (f"{c} {s}", f"c{c}", str(m)), strict=True):
                    names.extend([name] * readings)
    current = [0.1 if p == "+" else -0.1 for p in signs]
    specimen, condition, mating = columns
    return reading_table(
        signs, voltage=volts, current=current, specimen=specimen, condition=condition, mating=mating
    )


def told(
    conditions: list[tuple[str, float, float]], readings: int, draws: int, polarity: str = "+-"
) -> np.ndarray:
    """Share of the drawn studies in which each condition is told to move."""
    rng = np.random.default_rng(SEED)
    moves = np.zeros(len(conditions))
    for _ in range(draws):
        for found in find_unsettled(study(conditions, readings, rng, polarity)):
            moves[found.condition] += 1
    return moves / draws


@pytest.mark.parametrize("noise", [0.01, 0.05, 0.1])
@pytest.mark.parametrize("readings", [3, 4, 6])
def test_settled_conditions_are_told_to_move_once_in_a_hundred_studies_at_most(
    noise: float, readings: int
) -> None:
    """Noise up to 10 %; of 150 drawn studies one in a hundred is meant (4 or fewer with a chance of 98 %)."""
    settled = ("scatter", 0.0, noise)
    assert told([settled, settled], readings, 150).sum() <= 4 / 150
    assert told([settled], readings, 150)[0] <= 4 / 150


def test_outliers_and_threefold_noise_are_no_movement() -> None:
    assert told([("heavy", 0.08, 0.0)] * 2, 4, 150).max() <= 4 / 150
    assert told([("scatter", 0.0, 0.02), ("scatter", 0.0, 0.06)], 4, 150).max() <= 4 / 150


@pytest.mark.parametrize("readings", [3, 4, 6])
@pytest.mark.parametrize(
    ("kind", "size"), [("scatter", 0.2), ("scatter", 0.5), ("drift", 0.15), ("jump", 0.3)]
)
def test_a_condition_that_moves_beside_a_still_one_is_found(kind: str, size: float, readings: int) -> None:
    still, moving = told([("scatter", 0.0, 0.01), (kind, size, 0.01)], readings, 40)
    assert still == 0
    assert moving >= 0.9


@pytest.mark.parametrize(("kind", "size"), [("scatter", 0.5), ("drift", 0.4), ("jump", 0.7)])
def test_a_condition_that_moves_alone_is_found(kind: str, size: float) -> None:
    assert told([(kind, size, 0.01)], 6, 40)[0] >= 0.9


def test_the_stillest_other_condition_is_what_counts() -> None:
    """Two that move do not hide each other from the third."""
    moves = told([("scatter", 0.0, 0.01), ("scatter", 0.3, 0.0), ("scatter", 0.3, 0.0)], 4, 40)
    assert moves[0] == 0
    assert min(moves[1:]) >= 0.9
