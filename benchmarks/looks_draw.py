"""A person at the bench who looks at the verdict after every mating, drawn with a known truth.

ln R = condition + specimen + mating + reading, all scatter normal. Conditions take turns; a look comes when each has got one more
mating. Truth lies exactly at the bound, where a verdict on either side is an error: the difference at the margin, and the
first specimen of either condition at the limit.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.comparisons import comparison_verdict
from ohmsworth.inference.conformity import OVER, WITHIN, verdict
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL
from ohmsworth.inference.looks import level_at, level_within, share_of_contact
from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.measured import measure
from ohmsworth.inference.specimens import specimen_results
from ohmsworth.readings import Labels
from ohmsworth.resistance import Resistances

BASE, COVERAGE = 1e-3, 0.95
#: Standard deviations of ln R.
SPECIMEN, MATING, READING = 0.10, 0.05, 0.003
#: Difference of the medians at the bound, as a ratio.
RATIO = 1.5


@dataclass(frozen=True)
class Bench:
    """How it is read: `specimens` a condition, `matings` of each, one specimen after the other or in `rounds`, or in `pairs`."""

    specimens: int
    matings: int
    rounds: bool = False
    pairs: bool = False
    beyond: int = 0
    specimen: float = SPECIMEN

    @property
    def planned(self) -> int:
        """Matings of one condition on the sheet."""
        return self.specimens * self.matings

    def turns(self) -> list[tuple[int, int]]:
        """Specimen and mating of each turn, the sheet's and those beyond it."""
        if self.rounds:
            return [(s, m) for m in range(self.matings) for s in range(self.specimens)]
        return [(s, m) for s in range(self.specimens + self.beyond) for m in range(self.matings)]


@dataclass(frozen=True)
class Look:
    """Errors at one look, ordinary and with looks allowed for: verdicts of the difference, and of the first two contacts."""

    plain: str
    allowed: str
    contacts: tuple[tuple[str, str], ...]


def look_on(
    bench: Bench, rng: np.random.Generator, ratio: float = RATIO, margin: float | None = None
) -> list[Look]:
    """One study, looked at after every turn; `margin` in ohm, by default where the truth lies."""
    turns = bench.turns()
    own = rng.normal(0, bench.specimen, (bench.specimens + bench.beyond, 2))
    if bench.pairs:
        own = own[:, :1] + rng.normal(0, 0.05, own.shape)
    rows = [(c, s, m) for s, m in turns for c in (0, 1)]
    y = np.array(
        [own[s, c] + c * np.log(ratio) + rng.normal(0, MATING) + rng.normal(0, READING) for c, s, _ in rows]
    )
    margin = (ratio - 1) * BASE if margin is None else margin
    limits = [float(BASE * np.exp(own[0, c] + c * np.log(ratio))) for c in (0, 1)]
    looks = []
    for turn in range(1, len(turns) + 1):
        looks.append(_one_look(bench, rows[: 2 * turn], y[: 2 * turn], margin, limits))
    return looks


def _one_look(
    bench: Bench, rows: list[tuple[int, int, int]], y: np.ndarray, margin: float, limits: list[float]
) -> Look:
    measured = measure(resistances(rows, BASE * np.exp(y), bench.pairs), "log", "auto")
    if measured.engine is None:
        return Look("", "", ())
    level = level_at(len(rows) // 2, bench.planned, 1 - COVERAGE)
    plain = comparison_verdict(measured, 1, 0, margin, COVERAGE) or ""
    allowed = (comparison_verdict(measured, 1, 0, margin, 1 - level) or "") if level > 1e-12 else ""
    if bench.matings == 1:
        return Look(plain, allowed, ())  # what a contact is apart from its mating nobody can tell
    return Look(plain, allowed, tuple(_contact(bench, measured, rows, c, limits[c]) for c in (0, 1)))


def _contact(bench: Bench, measured, rows, condition: int, limit: float) -> tuple[str, str]:  # type: ignore[no-untyped-def]
    found = specimen_results(measured, specimen_means(measured.design).value, limit, COVERAGE)
    i = int(np.flatnonzero(found.condition == condition)[0])
    done = sum(c == condition and s == 0 for c, s, _ in rows)
    now = len(rows) - len({(c, s) for c, s, _ in rows})
    share = share_of_contact(done / bench.matings, now, 2 * bench.specimens * (bench.matings - 1))
    level = level_within(min(share, 1.0), True, 1 - COVERAGE)
    return found.verdicts[i], verdict(float(found.probability[i]), 1 - level)


def resistances(rows: list[tuple[int, int, int]], value: np.ndarray, pairs: bool) -> Resistances:
    """Resistances without any meter's part."""
    n = len(value)
    zero = np.zeros(n)
    return Resistances(
        value, zero, {}, zero, np.full(n, 2), np.column_stack([np.arange(n), np.full(n, -1), np.full(n, -1)]),
        Labels.of([f"S{s}" if pairs else f"S{c}.{s}" for c, s, _ in rows]),
        Labels.of([("new", "old")[c] for c, _, _ in rows]),
        None, Labels.of([str(m) for _, _, m in rows]), None, None,
    )  # fmt: skip


ERRORS = ("enough", "too small", "over", "within")


def errors_of(looks: list[Look]) -> np.ndarray:
    """Whether each kind of verdict was ever given: shape (2, 4), ordinary and allowed for; contacts averaged over two."""
    plain, allowed = {one.plain for one in looks}, {one.allowed for one in looks}
    found = np.zeros((2, 4))
    for row, given in enumerate((plain, allowed)):
        found[row, :2] = ENOUGH in given, TOO_SMALL in given
        for c in (0, 1):
            words = {one.contacts[c][row] for one in looks if one.contacts}
            found[row, 2:] += np.array([OVER in words, WITHIN in words]) / 2
    return found
