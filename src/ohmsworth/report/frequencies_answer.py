"""What takes of a study say over frequency, as plain records; part of the answer."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ConditionCurveAnswer:
    """A condition over frequency, one value a tone, in ohm; null where a take has no logarithm or the data cannot say.

    `resistance` is the median (logarithmic scale) or mean of R and `reactance` the mean of X; `low` and `high` hold at each tone
    by itself, `low_together` and `high_together` at all tones at once, as if there were `independent_tones` of them.
    """

    condition: str
    statistic: str
    resistance: tuple[float | None, ...]
    low: tuple[float | None, ...]
    high: tuple[float | None, ...]
    low_together: tuple[float | None, ...]
    high_together: tuple[float | None, ...]
    independent_tones: float
    reactance: tuple[float, ...]
    reactance_low: tuple[float | None, ...]
    reactance_high: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class ComparisonCurveAnswer:
    """Condition `of` against `against` over frequency: a "ratio" without unit, or a "difference" in ohm; as above."""

    of: str
    against: str
    quantity: str
    value: tuple[float | None, ...]
    low: tuple[float | None, ...]
    high: tuple[float | None, ...]
    low_together: tuple[float | None, ...]
    high_together: tuple[float | None, ...]
    independent_tones: float


@dataclass(frozen=True, slots=True)
class BesideDirectAnswer:
    """R at the lowest tone beside direct current, over the same specimens of one condition, in ohm.

    `difference` is tones minus direct current with its 95 % interval; `causes` are likely ones where it is not `explained` by
    the uncertainties.
    """

    condition: str
    specimens: int
    tone: float
    tones: float
    direct: float
    difference: float
    low: float
    high: float
    p_value: float
    explained: bool
    causes: tuple[str, ...]
