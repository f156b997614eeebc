"""What a circuit answers: effects, thresholds and curves, for a study's conditions or for resistances asked about."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class EffectAnswer:
    """What the contacts of one condition do to one property of a circuit; `ideal` is its value without them."""

    effect: str
    words: str
    unit: str
    frequency: float | None
    position: str
    condition: str
    ideal: float
    value: float
    low: float | None
    high: float | None
    threshold: float | None


@dataclass(frozen=True, slots=True)
class ThresholdAnswer:
    """Contact resistance (ohm) from which an effect matters; None when none below a megohm does."""

    effect: str
    words: str
    position: str
    resistance: float | None
    note: str
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class BandAnswer:
    """What the contacts of one condition do over frequency, one value a frequency of the curve.

    `contacts` says which contacts: all of them drawn afresh from the condition's population, `value` being the middle and
    `low` and `high` holding 95 % of such sets; or those at one position with the condition's resistance, and no band.
    """

    condition: str
    contacts: str
    value: tuple[float, ...]
    low: tuple[float, ...] | None
    high: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class CurveAnswer:
    """One property of a circuit over `frequency` (hertz); `ideal` is what it is with ideal contacts."""

    curve: str
    words: str
    unit: str
    frequency: tuple[float, ...]
    ideal: tuple[float, ...]
    bands: tuple[BandAnswer, ...]


@dataclass(frozen=True, slots=True)
class WithImpedanceAnswer:
    """What the contacts do with the impedance that was measured over frequency in place of a resistance.

    `effects` are those that it can be told of, `curves` go as far as the tones reach, and `remarks` say what was taken for
    granted and what is left out.
    """

    effects: tuple[EffectAnswer, ...]
    curves: tuple[CurveAnswer, ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UseAnswer:
    """One circuit: its values (SI), what happens in it, from where on it would matter, and what can hurt at work on it.

    `proviso` follows whatever is said of it, where no number may be taken for leave; `with_impedance` is null unless the contacts
    were measured with tones.
    """

    kind: str
    name: str
    settings: dict[str, float | str]
    effects: tuple[EffectAnswer, ...]
    thresholds: tuple[ThresholdAnswer, ...]
    curves: tuple[CurveAnswer, ...] = ()
    cautions: tuple[str, ...] = ()
    proviso: str = ""
    with_impedance: WithImpedanceAnswer | None = None
