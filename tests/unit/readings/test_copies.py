"""Readings filled down into another mating are found; readings that coincide by chance are not."""

import csv
from pathlib import Path

import numpy as np
import pytest
from tests.tables import reading_table

from ohmsworth.readings import ReadingTable
from ohmsworth.readings.copies import find_copied_runs

DATA = Path(__file__).parents[2] / "published" / "data"


def bench(
    seed: int,
    shape: tuple[int, int, int] = (4, 3, 2),
    within: float = 0.002,
    again: float = 0.05,
    step: float = 1e-7,
    copied: dict[int, int] | None = None,
) -> ReadingTable:
    """Specimens, matings and readings as the meter shows them; `copied` says which mating is filled from which."""
    rng = np.random.default_rng(seed)
    specimens, matings, each = shape
    sign = np.where(np.arange(each) % 2 == 0, 1, -1)
    cells = []
    for _ in range(specimens):
        own = 2.6e-3 * np.exp(rng.normal(0, 0.3))
        for _ in range(matings):
            ohm = own * np.exp(rng.normal(0, again)) * np.exp(rng.normal(0, within, each))
            cells.append(np.round((0.1 * sign * ohm + 1e-6) / step) * step)
    for target, source in (copied or {}).items():
        cells[target] = cells[source]
    return reading_table(
        "+-" * (specimens * matings * each // 2),
        voltage=np.concatenate(cells).tolist(),
        current=np.tile(0.1 * sign, specimens * matings).tolist(),
        specimen=np.repeat(np.arange(specimens), matings * each).tolist(),
        mating=np.tile(np.repeat(np.arange(matings), each), specimens).tolist(),
    )


def rows(table: ReadingTable) -> tuple[int, ...]:
    doubts = find_copied_runs(table)
    assert [doubt.code for doubt in doubts] in ([], ["COPIED"])
    return doubts[0].rows if doubts else ()


@pytest.mark.parametrize("seed", range(5))
def test_a_mating_filled_down(seed: int) -> None:
    assert rows(bench(seed, copied={1: 0, 2: 0})) == (2, 3, 4, 5, 6, 7)
    assert rows(bench(seed, within=0.01, copied={1: 0})) == (2, 3, 4, 5)


@pytest.mark.parametrize("seed", range(5))
def test_a_specimen_filled_down(seed: int) -> None:
    assert rows(bench(seed, (6, 1, 4), copied={4: 1})) == (6, 7, 8, 9, 18, 19, 20, 21)


def test_every_specimen_filled_down() -> None:
    table = bench(1, copied={1: 0, 2: 0, 4: 3, 5: 3, 7: 6, 8: 6, 10: 9, 11: 9})
    assert rows(table) == tuple(range(2, 26))


def test_one_row_alone_may_coincide() -> None:
    table = bench(1)
    assert table.voltage is not None
    table.voltage[2] = table.voltage[0]
    assert rows(table) == ()


@pytest.mark.parametrize("shape", [(4, 3, 2), (6, 3, 4), (8, 1, 6), (3, 10, 2)])
@pytest.mark.parametrize("within", [0.0005, 0.002, 0.01, 0.05])
@pytest.mark.parametrize("step", [1e-6, 1e-7, 1e-8])
def test_honest_readings_seldom_look_copied(shape: tuple[int, int, int], within: float, step: float) -> None:
    """A coarse meter and a steady contact give equal readings in plenty."""
    for again in (0.0, 0.05):
        assert sum(bool(rows(bench(seed, shape, within, again, step))) for seed in range(25)) <= 2


@pytest.mark.parametrize(
    ("name", "specimen", "mating", "value"),
    [
        ("lme4_Dyestuff.csv", "Batch", None, "Yield"),
        ("lme4_Pastes.csv", "batch", "cask", "strength"),
        ("mass_oats.csv", "B", "V", "Y"),
        ("aiag_gage.csv", "part", "appraiser", "value"),
        ("nist_auto83b.csv", "group", None, "mpg"),
        ("anova_SmLs01.csv", "treatment", None, "y"),
        ("anova_SmLs04.csv", "treatment", None, "y"),
        ("anova_SiRstv.csv", "treatment", None, "y"),
    ],
)
def test_published_data_are_not_called_copied(
    name: str, specimen: str, mating: str | None, value: str
) -> None:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        found = list(csv.DictReader(file))
    table = reading_table(
        "?" * len(found),
        resistance=[float(row[value]) for row in found],
        specimen=[row[specimen] for row in found],
        mating=[row[mating] for row in found] if mating else None,
    )
    assert rows(table) == ()


def test_an_empty_table_has_no_copies() -> None:
    assert rows(reading_table("", resistance=[])) == ()
