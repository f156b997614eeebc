"""Analysis of variance of a balanced repeatability study, with F tests and the components that it implies.

p specimens, o operators, r trials each; mean squares S (specimen), O (operator), I (interaction), E (trial):

crossed  σ²_I = (I − E)/r,  σ²_O = (O − I)/(pr),  σ²_S = (S − I)/(or);  O and S are tested against I, I against E
nested   each operator has p specimens of its own: σ²_S = (S − E)/r, σ²_O = (O − S)/(pr)

A component that comes out below zero is given as it comes out (`raw`) and held at zero (`variance`). Source:
AIAG-MSA.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.readings.table import Array, Codes

SPECIMEN, OPERATOR, INTERACTION, TRIAL = "specimen", "operator", "specimen × operator", "trial"


@dataclass(frozen=True, slots=True)
class AnovaRow:
    """One source: its sum of squares, degrees of freedom, F against the row it is tested by, and component."""

    source: str
    squares: float
    freedom: int
    f: float | None
    p_value: float | None
    raw: float
    variance: float

    @property
    def mean_square(self) -> float:
        """Sum of squares over degrees of freedom."""
        return self.squares / self.freedom


def crossed_anova(y: Array, specimen: Codes, operator: Codes) -> tuple[AnovaRow, ...] | None:
    """Specimen, operator, interaction, trial; None unless every operator reads every specimen equally often, twice or more."""
    box = _box(y, [specimen, operator])
    if box is None or min(box.shape) < 2:
        return None
    p, o, r = box.shape
    grand, cells = box.mean(), box.mean(2)
    parts, people = cells.mean(1), cells.mean(0)
    squares = (
        o * r * _sum((parts - grand) ** 2),
        p * r * _sum((people - grand) ** 2),
        r * _sum((cells - parts[:, None] - people + grand) ** 2),
        _sum((box - cells[:, :, None]) ** 2),
    )
    freedom = (p - 1, o - 1, (p - 1) * (o - 1), p * o * (r - 1))
    return _rows((SPECIMEN, OPERATOR, INTERACTION, TRIAL), squares, freedom, (2, 2, 3), (o * r, p * r, r))


def nested_anova(y: Array, specimen: Codes, operator: Codes) -> tuple[AnovaRow, ...] | None:
    """Operator, specimen within operator, trial; None unless balanced, two or more of each."""
    owner = {s: set(operator[specimen == s].tolist()) for s in np.unique(specimen).tolist()}
    if any(len(own) > 1 for own in owner.values()):
        return None
    place = np.empty(len(y), np.int64)
    for o in np.unique(operator):
        member = operator == o
        place[member] = np.unique(specimen[member], return_inverse=True)[1]
    box = _box(y, [operator, place])
    if box is None or min(box.shape) < 2:
        return None
    o_, p, r = box.shape
    grand, cells = box.mean(), box.mean(2)
    people = cells.mean(1)
    squares = (
        p * r * _sum((people - grand) ** 2),
        r * _sum((cells - people[:, None]) ** 2),
        _sum((box - cells[:, :, None]) ** 2),
    )
    freedom = (o_ - 1, o_ * (p - 1), o_ * p * (r - 1))
    return _rows((OPERATOR, SPECIMEN, TRIAL), squares, freedom, (1, 2), (p * r, r))


def _box(y: Array, codes: list[Codes]) -> Array | None:
    """`y` as an array of first × second × trial, or None where a cell has more or fewer trials."""
    first, second = (np.unique(c, return_inverse=True)[1] for c in codes)
    shape = int(first.max()) + 1, int(second.max()) + 1
    cell = first * shape[1] + second
    counts = np.bincount(cell, minlength=shape[0] * shape[1])
    if counts.min() != counts.max():
        return None
    return np.asarray(y[np.argsort(cell, kind="stable")].reshape(*shape, int(counts[0])))


def _sum(values: Array) -> float:
    return float(values.sum())


def _rows(
    names: tuple[str, ...],
    squares: tuple[float, ...],
    freedom: tuple[int, ...],
    tested_by: tuple[int, ...],
    size: tuple[int, ...],
) -> tuple[AnovaRow, ...]:
    """Rows with F against the row `tested_by` and components over `size`; the last row is tested by none."""
    means = [s / f for s, f in zip(squares, freedom, strict=True)]
    rows = []
    for i, by in enumerate(tested_by):
        f = means[i] / means[by] if means[by] > 0 else None
        p = None if f is None else float(stats.f.sf(f, freedom[i], freedom[by]))
        raw = (means[i] - means[by]) / size[i]
        rows.append(AnovaRow(names[i], squares[i], freedom[i], f, p, raw, max(raw, 0.0)))
    last = AnovaRow(names[-1], squares[-1], freedom[-1], None, None, means[-1], means[-1])
    return (*rows, last)
