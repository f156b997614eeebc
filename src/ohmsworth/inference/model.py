"""A mixed model of any factors and grouping: for other programs, and for studies with several factors.

The mean is made of factors, their interactions and covariates; scatter of groups, nested or crossed as their labels are.
Fitted by REML and judged by Kenward and Roger's small-sample inference.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.inference.design import Design, Level, arrange
from ohmsworth.inference.elimination import eliminate, prepare
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.judged import Judged, estimate, jointly_zero, judge
from ohmsworth.inference.kenward_roger import FTest
from ohmsworth.inference.reml import expected_information
from ohmsworth.inference.simultaneous import correlation_of, coverage_of_each
from ohmsworth.inference.terms import Term, Terms, make_terms, mean_row, slope_row, term_rows
from ohmsworth.readings.table import Array, Labels, number_cells

#: Curvature, relative to that of single components, below which groups are not told apart.
_FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class LevelDifference:
    """Level `of` of a factor minus level `against`: the estimate, its own interval, and one that holds for all at once."""

    of: str
    against: str
    estimate: Estimate
    interval: tuple[float, float]
    together: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """A fitted mixed model; values are on the scale that the observations had."""

    terms: Terms
    judged: Judged

    @property
    def variances(self) -> dict[str, float]:
        """REML estimate of the variance of every group and of the residual ("reading"), bounded at zero."""
        fit = self.judged.fit
        return {c.level: float(v) for c, v in zip(fit.components, fit.variance, strict=True)}

    @property
    def criterion(self) -> float:
        """−2 × restricted log-likelihood at these estimates.

        It belongs to coefficients that are the means of combinations; other codings of the factors add a constant.
        """
        return self.judged.fit.criterion

    def mean(self, cell: Mapping[str, str] | None = None) -> Estimate:
        """The mean at the levels that `cell` gives by factor, averaged over the levels of the other factors."""
        return estimate(self.judged, mean_row(self.terms, cell or {}))

    def slope(self, covariate: str) -> Estimate:
        """Change of the mean for one unit of a covariate."""
        return estimate(self.judged, slope_row(self.terms, covariate))

    def difference(
        self, factor: str, of: str, against: str, cell: Mapping[str, str] | None = None
    ) -> Estimate:
        """Level `of` of a factor minus level `against`, at `cell` of the others or averaged over them."""
        return estimate(self.judged, self._difference_row(factor, of, against, cell or {}))

    def test(self, *factors: str) -> FTest:
        """F test that a factor does nothing or, of several, that they do not interact."""
        for name in factors:
            if name not in self.terms.factors:
                raise UnknownName("factor", name, tuple(self.terms.factors))
        if len(set(factors)) < max(len(factors), 1) or any(len(self.terms.factors[n]) < 2 for n in factors):
            raise ArgumentFault("factors", ", ".join(factors), "factors of two levels or more, each once")
        return jointly_zero(self.judged, term_rows(self.terms, factors))

    def comparisons(
        self, factor: str, reference: str | None = None, coverage: float = 0.95, seed: int = 20
    ) -> tuple[LevelDifference, ...]:
        """Levels of a factor, all against `reference` or, without one, every two of them.

        Parameters
        ----------
        factor
            The factor; the others are averaged over.
        reference
            A level (Dunnett's problem); None compares all pairs (Tukey's).
        coverage
            Of each interval, and of all `together` ones at once.
        seed
            Of the integration of the multivariate t distribution.
        """
        if factor not in self.terms.factors:
            raise UnknownName("factor", factor, tuple(self.terms.factors))
        levels = self.terms.factors[factor]
        if len(levels) < 2 or not 0 < coverage < 1:
            told = f"{len(levels)} level, coverage {coverage}"
            raise ArgumentFault("factor", told, "two levels or more, and a coverage between 0 and 1")
        pairs = [(b, a) for a, b in combinations(levels, 2)]
        if reference is not None:
            pairs = [(level, reference) for level in levels if level != reference]
        rows = np.array([self._difference_row(factor, of, against, {}) for of, against in pairs])
        found = [estimate(self.judged, row) for row in rows]
        correlation = correlation_of(self.judged, rows)
        each = coverage_of_each(correlation, min(e.freedom for e in found), coverage, seed)
        return tuple(
            LevelDifference(of, against, e, e.interval(coverage), e.interval(each))
            for (of, against), e in zip(pairs, found, strict=True)
        )

    def _difference_row(self, factor: str, of: str, against: str, cell: Mapping[str, str]) -> Array:
        first, second = (mean_row(self.terms, {**cell, factor: level}) for level in (of, against))
        return first - second


def fit_model(
    values: Sequence[float] | Array,
    *,
    factors: Mapping[str, Sequence[str]] | None = None,
    groups: Mapping[str, Sequence[str] | Sequence[Sequence[str]]] | None = None,
    terms: Sequence[Term] | None = None,
    covariates: Mapping[str, Sequence[float] | Array] | None = None,
) -> Model:
    """Fit a mixed model.

    Parameters
    ----------
    values
        Observations on the scale of analysis (for contact resistance mostly its logarithm), shape (n,).
    factors
        Name -> level of each observation: what the mean depends on.
    groups
        Name -> group of each observation: what scatters. A group that is nested in others is given as the tuple of all its
        columns, such as ``(specimen, contact)``; groups that are named alike are the same group.
    terms
        Factors that interact, one tuple a term, such as ``[("plug",), ("socket",)]``; left out, all factors and interactions.
    covariates
        Name -> quantity of each observation, whose slope is fitted.

    Raises
    ------
    ArgumentFault
        For columns of unequal length, values that are no numbers, groups that cannot be told apart, or no scatter at all.
    UnknownName
        When a term names a factor that is not there.

    Source: REML: Patterson & Thompson 1971; small samples: Kenward & Roger 1997.
    """
    y = np.asarray(values, float)
    if y.ndim != 1 or len(y) < 2 or not np.isfinite(y).all():
        raise ArgumentFault(
            "values", f"an array of shape {y.shape}", "two finite numbers or more, in one row"
        )
    labels = {name: _labels(name, column, len(y)) for name, column in (factors or {}).items()}
    slopes = {name: _numbers(name, column, len(y)) for name, column in (covariates or {}).items()}
    fixed = make_terms(labels, terms, slopes, len(y))
    if len(y) <= len(fixed.columns):
        raise ArgumentFault("values", f"{len(y)} for {len(fixed.columns)} coefficients", "more observations")
    if "reading" in (groups or {}):
        raise ArgumentFault("groups", "reading", "another name: readings are what is left over")
    levels = [_level(name, column, len(y)) for name, column in (groups or {}).items()]
    chain, crossed = arrange(levels, Level("reading", np.arange(len(y)), len(y)))
    none = np.zeros(len(y), np.int64)
    design = Design(y, none, 1, fixed.columns, chain, crossed, (), none, False, (), False)
    _refuse_twins(design)
    return Model(fixed, judge(design))


def _labels(name: str, column: Sequence[str], n: int) -> Labels:
    texts = [str(text) for text in column]
    if len(texts) != n:
        raise ArgumentFault(name, f"{len(texts)} entries", f"{n}, one an observation")
    return Labels.of(texts)


def _numbers(name: str, column: Sequence[float] | Array, n: int) -> Array:
    numbers = np.asarray(column, float)
    if numbers.shape != (n,) or not np.isfinite(numbers).all():
        raise ArgumentFault(name, f"an array of shape {numbers.shape}", f"{n} finite numbers")
    return numbers


def _level(name: str, column: Sequence[str] | Sequence[Sequence[str]], n: int) -> Level:
    several = len(column) > 0 and not isinstance(column[0], str) and np.ndim(column[0]) == 1
    columns = column if several else [column]
    node = number_cells([_labels(name, one, n).codes for one in columns])  # type: ignore[arg-type]
    return Level(name, node, int(node.max()) + 1)


def _refuse_twins(design: Design) -> None:
    """Refuse groups whose scatter the observations cannot tell apart from that of others or from the factors."""
    prepared = prepare(design)
    information = expected_information(eliminate(prepared, np.ones(len(prepared.components))))
    unit = np.sqrt(np.maximum(information.diagonal(), np.finfo(float).tiny))
    bends, along = np.linalg.eigh(information / np.outer(unit, unit))
    names = [c.level for c in prepared.components]
    lost = [name for name, own in zip(names, information.diagonal(), strict=True) if own < _FLAT]
    if not lost and bends[0] < _FLAT:
        lost = [name for name, share in zip(names, along[:, 0], strict=True) if abs(share) > 0.1]
    if lost:
        told = " and ".join(lost)
        raise ArgumentFault(
            "groups", f"{told}, which cannot be told apart from what else is there", "one of them less"
        )
