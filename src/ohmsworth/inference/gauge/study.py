"""A repeatability study by REML: how far trials, operators and specimens scatter, whatever the imbalance.

Specimens read by several operators are crossed with them, with an interaction; specimens that each operator has
of their own lie nested inside. The model and its fit are those of `ohmsworth.inference.design` and `reml`.

repeatability² = σ²(trial),  reproducibility² = σ²(operator) + σ²(interaction),  total² = all + σ²(specimen)
number of distinct categories = ⌊√2 σ(specimen) / √(repeatability² + reproducibility²)⌋

Source: AIAG-MSA, ISO5725-2.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.design import Design, build_design
from ohmsworth.inference.gauge.anova import AnovaRow, crossed_anova, nested_anova
from ohmsworth.inference.kenward_roger import small_sample, variance_freedom
from ohmsworth.inference.reml import Fit, fit_reml
from ohmsworth.readings.table import Array, Codes, Labels, number_cells

CROSSED, NESTED, ALONE = "crossed", "nested", "one operator"


@dataclass(frozen=True, slots=True)
class GaugeResult:
    """Standard deviations on the scale of analysis; None for a level that the study does not hold.

    Parameters
    ----------
    form
        Whether specimens and operators are crossed or nested, or there is one operator.
    specimens, operators, trials
        How many of each; trials in all.
    repeatability, operator, interaction, specimen
        Of trials, between operators, of how differently operators read specimens, between specimens.
    bench_freedom
        Degrees of freedom of repeatability and reproducibility together; `repeat_freedom` of the first alone.
    anova
        The analysis of variance where the study is balanced, else None.
    """

    form: str
    specimens: int
    operators: int
    trials: int
    repeatability: float
    operator: float | None
    interaction: float | None
    specimen: float | None
    repeat_freedom: float
    bench_freedom: float
    anova: tuple[AnovaRow, ...] | None

    @property
    def reproducibility(self) -> float | None:
        """Of operators, with how differently they read specimens."""
        if self.operator is None:
            return None
        return math.hypot(self.operator, self.interaction or 0.0)

    @property
    def bench(self) -> float:
        """Repeatability and reproducibility together."""
        return math.hypot(self.repeatability, self.reproducibility or 0.0)

    @property
    def total(self) -> float:
        """Of everything together."""
        return math.hypot(self.bench, self.specimen or 0.0)

    @property
    def categories(self) -> int | None:
        """Number of distinct categories among the specimens."""
        if self.specimen is None or self.bench == 0:
            return None
        return math.floor(math.sqrt(2) * self.specimen / self.bench)


def gauge(y: Array, specimen: Labels, operator: Labels | None) -> GaugeResult | None:
    """Analyse a study; None where no trial was repeated, or all are alike.

    Parameters
    ----------
    y
        Trials on the scale of analysis.
    specimen
        What was read.
    operator
        Who read it; None where one person did, or nobody says.
    """
    people = number_cells([operator.codes]) if operator else np.zeros(len(y), np.int64)
    parts = number_cells([specimen.codes])
    cells = number_cells([parts, people])
    sizes = int(parts.max()) + 1, int(people.max()) + 1, int(cells.max()) + 1
    if len(y) <= sizes[2]:
        return None
    form = ALONE if sizes[1] == 1 else NESTED if sizes[0] == sizes[2] and sizes[0] > 1 else CROSSED
    try:
        fit = fit_reml(_design(y, form, parts, people))
    except ArgumentFault:
        return None
    return _result(fit, form, sizes, _anova(form, y, parts, people))


def _anova(form: str, y: Array, parts: Codes, people: Codes) -> tuple[AnovaRow, ...] | None:
    if form == CROSSED:
        return crossed_anova(y, parts, people)
    return nested_anova(y, parts, people) if form == NESTED else None


def _design(y: Array, form: str, parts: Codes, people: Codes) -> Design:
    """The study in the terms of a design: crossed levels stand in for parts that are re-paired."""
    one = Labels(np.zeros(len(y), np.int64), ("all",))
    part, person = _labels(parts), _labels(people)
    if form == ALONE:
        return build_design(y, one, part)
    if form == NESTED:
        return build_design(y, one, person, contact=part)
    if len(part.names) == 1:
        return build_design(y, one, person)
    return build_design(y, one, _labels(number_cells([parts, people])), plug=part, socket=person)


def _labels(codes: Codes) -> Labels:
    return Labels(codes, tuple(str(i) for i in range(int(codes.max()) + 1)))


def _result(
    fit: Fit, form: str, sizes: tuple[int, int, int], anova: tuple[AnovaRow, ...] | None
) -> GaugeResult:
    names = {level.name for level in fit.design.levels}
    alone = form == CROSSED and sizes[0] == 1
    if alone:
        roles = {"operator": "specimen"}
    else:
        roles = {
            ALONE: {"specimen": "specimen"},
            NESTED: {"operator": "specimen", "specimen": "contact"},
            CROSSED: {"operator": "socket", "specimen": "plug", "interaction": "specimen"},
        }[form]
    variances = {role: fit.of(level, 0) if level in names else None for role, level in roles.items()}
    trial = fit.of(fit.design.residual.name, 0)
    parts = small_sample(fit)
    bench_levels = {fit.design.residual.name} | {roles[r] for r in ("operator", "interaction") if r in roles}
    # A variance held at zero adds nothing, and takes no degrees of freedom away.
    weights = np.array([float(c.level in bench_levels) for c in fit.components]) * (fit.variance > 0)
    only = np.array([float(c.level == fit.design.residual.name) for c in fit.components])
    bench = float(weights @ fit.variance)

    def deviation(role: str) -> float | None:
        value = variances.get(role)
        return None if value is None else math.sqrt(value)

    return GaugeResult(
        form,
        sizes[0],
        sizes[1],
        len(fit.design.y),
        math.sqrt(trial),
        deviation("operator"),
        deviation("interaction"),
        deviation("specimen"),
        max(variance_freedom(parts, only, trial), 1.0),
        max(variance_freedom(parts, weights, bench), 1.0),
        anova,
    )
