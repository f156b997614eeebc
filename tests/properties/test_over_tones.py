"""What is said of many contacts over frequency holds as often as it says: planted truths, without audio."""

from functools import lru_cache

import numpy as np
import pytest

from ohmsworth.readings.study import Study
from ohmsworth.readings.table import UNSTATED, Labels, ReadingTable
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.of_contacts import Impedances, gathered
from ohmsworth.work.tone_results import at_each_tone, comparison_together, condition_together

STUDIES, SPECIMENS, MATINGS, TONES = 40, 4, 2, 5
FREQUENCY = np.geomspace(20, 20e3, TONES)
#: Medians of R of both conditions: the second has a film that its capacitance bridges.
TRUE = {"clean": np.full(TONES, 3e-3), "dark": 3e-3 + 6e-3 / (1 + (FREQUENCY / 700) ** 2)}
BETWEEN, WITHIN, NOISE, SHUNT = 0.10, 0.04, 3e-5, 0.003
STUDY = Study("", reference="clean")


def plain_table() -> ReadingTable:
    rows = [(c, s, m) for c in TRUE for s in range(SPECIMENS) for m in range(MATINGS)]
    count = len(rows)
    return ReadingTable(
        np.arange(2, 2 + count),
        Labels.of([f"{c}{s}" for c, s, _ in rows]),
        Labels.of([c for c, _, _ in rows]),
        None,
        Labels.of([str(m) for _, _, m in rows]),
        None,
        None,
        np.full(count, UNSTATED, np.int8),
        None,
        None,
        None,
        None,
        None,
    )


TABLE = plain_table()


def drawn(rng: np.random.Generator, alike: float) -> Impedances:
    """Contacts whose tones depart from their condition with the correlation `alike`; one shunt, wrong by as much as it may be."""
    own = np.sqrt(alike) * np.ones(TONES)
    rest = np.sqrt(1 - alike)

    def effect(size: float) -> np.ndarray:
        return np.asarray(size * (own * rng.standard_normal() + rest * rng.standard_normal(TONES)))

    wrong, curves = 1 + SHUNT * rng.standard_normal(), []
    for median in TRUE.values():
        for _ in range(SPECIMENS):
            specimen = effect(BETWEEN)
            for _ in range(MATINGS):
                r = median * np.exp(specimen + effect(WITHIN)) * wrong
                z = r + NOISE * (rng.standard_normal(TONES) + 1j * rng.standard_normal(TONES))
                random = np.broadcast_to(NOISE**2 * np.eye(2), (TONES, 2, 2))
                curves.append(Curve(FREQUENCY, z, random, np.full(TONES, 50.0), {"shunt": z * SHUNT}))
    return gathered(TABLE, curves)


@lru_cache(maxsize=2)
def hits(alike: float) -> dict[str, np.ndarray]:
    """Whether intervals hold the truth, study by study: at each tone, and at all of them."""
    rng, used = np.random.default_rng(round(100 * alike) + 5), np.arange(len(TABLE))
    ratio = TRUE["dark"] / TRUE["clean"]
    found: dict[str, list[object]] = {name: [] for name in ("each", "compared", "all", "all compared")}
    for _ in range(STUDIES):
        these = drawn(rng, alike)
        each = at_each_tone(STUDY, these, used)
        for c, median in enumerate(TRUE.values()):
            ends = [(one.conditions[c].low, one.conditions[c].high) for one in each]
            found["each"].append([low <= m <= high for m, (low, high) in zip(median, ends, strict=True)])
            together = condition_together(STUDY, each, these, used, c).intervals
            found["all"].append(all(e and e[0] <= m <= e[1] for m, e in zip(median, together, strict=True)))
        pairs = [one.comparisons[0].ratio_interval for one in each]
        found["compared"].append([p[0] <= t <= p[1] for p, t in zip(pairs, ratio, strict=True)])
        together = comparison_together(STUDY, each, these, used, 0).intervals
        found["all compared"].append(
            all(e and e[0] <= t <= e[1] for t, e in zip(ratio, together, strict=True))
        )
    return {name: np.array(one, bool) for name, one in found.items()}


@pytest.mark.parametrize("alike", [0.0, 0.9])
def test_intervals_at_each_tone_hold_as_often_as_they_say(alike: float) -> None:
    found = hits(alike)
    for name in ("each", "compared"):
        # Alike tones count as one: a standard error of at most 2.4 % of 80 conditions, 3.4 % of 40 comparisons.
        assert found[name].mean() > 0.95 - 3 * np.sqrt(0.95 * 0.05 / len(found[name])), name


@pytest.mark.parametrize("alike", [0.0, 0.9])
def test_intervals_of_all_tones_hold_together(alike: float) -> None:
    found = hits(alike)
    # At most 3 standard errors below.
    assert found["all"].mean() > 0.95 - 3 * np.sqrt(0.95 * 0.05 / (2 * STUDIES))
    assert found["all compared"].mean() > 0.95 - 3 * np.sqrt(0.95 * 0.05 / STUDIES)
    # What holds at each tone by itself does not hold at all of them where they go their own ways.
    if alike == 0.0:
        assert found["each"].all(axis=1).mean() < found["all"].mean()
