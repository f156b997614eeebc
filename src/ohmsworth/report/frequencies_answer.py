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


@dataclass(frozen=True, slots=True)
class DryLimitAnswer:
    """A `limit` of a dry circuit (peak, in volt or ampere) and the takes that the answer rests on.

    `quantity` is "voltage across the contact", "current" or "open-circuit voltage". Of `takes` so many as `over` says exceed
    it; `verdict` is "within" or "over". `largest` is the largest of the `known` ones, null where none was kept.
    """

    quantity: str
    unit: str
    limit: float
    takes: int
    over: int
    verdict: str
    known: int
    largest: float | None


@dataclass(frozen=True, slots=True)
class TakeMeasuredAnswer:
    """The takes of one row of takes.csv: its `line`, how the contact was connected, and peak volts and amperes.

    `current` and `open_circuit_voltage` are null of takes that were analysed before these were kept.
    """

    line: int
    ways: tuple[str, ...]
    voltage: float
    current: float | None
    open_circuit_voltage: float | None


@dataclass(frozen=True, slots=True)
class StandardAnswer:
    """Takes of a standard: of a "short", "load" or "open" that is taken off, or of the "check" standard.

    `days` are those on which they were recorded or kept (ISO 8601), empty where nobody knows.
    """

    standard: str
    takes: int
    days: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TakesMeasuredAnswer:
    """How the takes that the answer rests on were measured.

    So many `tones` from `lowest` to `highest` hertz, played as `way` says. `shunt` is in ohm as it is stated, `shunt_tolerance`
    the half-width as a fraction, `shunt_uncertainty` the standard uncertainty in ohm; `load` and `load_tolerance` are those of
    the known resistor, null where none is stated. `resolution` is the standard uncertainty in ohm that noise alone leaves R of
    one take at the tone `resolution_at` (hertz), the largest of all. `swapped` and `turned` count the takes with the inputs,
    and with the sense leads, exchanged too. `by_drive` says that volts and amperes are those that the drive should give;
    `calibrated` is the day of the takes of short, load and open as it was stated.
    """

    tones: int
    lowest: float
    highest: float
    way: str
    shunt: float
    shunt_tolerance: float
    shunt_uncertainty: float
    load: float | None
    load_tolerance: float | None
    resolution: float
    resolution_at: float
    swapped: int
    turned: int
    standards: tuple[StandardAnswer, ...]
    calibrated: str | None
    by_drive: bool
    dry: tuple[DryLimitAnswer, ...]
    takes: tuple[TakeMeasuredAnswer, ...]
