"""From a use and the contacts in it to what it answers: effects, thresholds, and curves over frequency."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ohmsworth.consequence import Use, effects, thresholds
from ohmsworth.consequence.circuit import Transfer, respond
from ohmsworth.consequence.effects import LARGEST_RESISTANCE
from ohmsworth.consequence.kinds import KEPT_CIRCUITS, curves_of, kind_of
from ohmsworth.consequence.measured_impedance import MeasuredImpedance
from ohmsworth.consequence.rule import Curve, shown_at
from ohmsworth.consequence.use import Array
from ohmsworth.report.use_answers import BandAnswer, CurveAnswer, EffectAnswer, ThresholdAnswer, UseAnswer
from ohmsworth.work.use_impedances import with_impedances

#: Frequencies of a curve, evenly spread over its decades.
POINTS = 61
#: What a band holds of the sets of contacts drawn.
BAND = (0.025, 0.5, 0.975)


@dataclass(frozen=True, slots=True)
class Case:
    """Contacts that are put into circuits.

    Parameters
    ----------
    name
        What they are called: a condition, or a resistance asked about.
    value, low, high
        Ohm, with its interval where it is known.
    drawn
        Number of contacts to sets of fresh ones in ohm, shape (sets, contacts), where their scatter is known.
    impedance
        Measured over frequency, where it was.
    """

    name: str
    value: float
    low: float | None = None
    high: float | None = None
    drawn: Callable[[int], Array] | None = None
    impedance: MeasuredImpedance | None = None


def use_answer(use: Use, cases: Sequence[Case]) -> UseAnswer:
    """Put the contacts of each case into `use`."""
    kind = kind_of(use.kind)
    return UseAnswer(
        use.kind,
        use.name,
        dict(use.settings),
        tuple(found for case in cases for found in _effects(use, case)),
        tuple(
            ThresholdAnswer(t.effect, t.words, t.position, t.resistance, t.note, t.reason, t.source)
            for t in thresholds(use)
        ),
        tuple(_curve(curve, cases) for curve in curves_of(use)),
        kind.cautions,
        kind.proviso,
        with_impedances(use, {c.name: c.impedance for c in cases if c.impedance is not None}, POINTS),
    )


def _effects(use: Use, case: Case) -> list[EffectAnswer]:
    known = case.low is not None and case.high is not None
    found = []
    for effect in effects(use, _believed([case.value, case.low, case.high], case.value)):
        middle, low, high = (float(v) for v in effect.value)
        found.append(
            EffectAnswer(
                effect.key, effect.words, effect.unit, effect.frequency, effect.position, case.name, effect.ideal,
                middle, min(low, high) if known else None, max(low, high) if known else None, effect.threshold,
            )
        )  # fmt: skip
    return found


def _believed(values: Sequence[float | None], middle: float) -> Array:
    """No contact is better than a short circuit or worse than an open one, whatever an interval says."""
    return np.clip([middle if v is None else v for v in values], 0.0, LARGEST_RESISTANCE)


def _curve(curve: Curve, cases: Sequence[Case]) -> CurveAnswer:
    frequency, transfer = _solved(curve)
    at_position = shown_at(curve, transfer, curve.position)
    return CurveAnswer(
        curve.key,
        curve.words,
        curve.unit,
        _listed(frequency),
        _listed(at_position(np.zeros(()))),
        tuple(
            _drawn_band(curve, transfer, case.name, case.drawn)
            if case.drawn is not None
            else BandAnswer(
                case.name,
                curve.position.words,
                _listed(at_position(_believed([case.value], case.value)[0])),
                None,
                None,
            )
            for case in cases
        ),
    )


@lru_cache(maxsize=3 * KEPT_CIRCUITS)
def _solved(curve: Curve) -> tuple[Array, Transfer]:
    """The frequencies at which `curve` is drawn, and its circuit solved there; neither is written to."""
    frequency = np.geomspace(curve.low, curve.high, POINTS)
    return frequency, curve.solve(frequency)


def _drawn_band(curve: Curve, transfer: Transfer, name: str, drawn: Callable[[int], Array]) -> BandAnswer:
    """The quantity for every set of contacts, each contact of the circuit a fresh one."""
    counts = curve.circuit.counts().astype(int)
    single = np.clip(drawn(int(counts.sum())), 0.0, LARGEST_RESISTANCE)
    # Contacts in series add up to the resistance of their place.
    places = np.repeat(np.arange(len(counts)), counts)
    ohm = single @ (places[:, None] == np.arange(len(counts)))
    shown = curve.show(respond(transfer, ohm), transfer.ideal)
    low, middle, high = np.quantile(shown, BAND, axis=0)
    return BandAnswer(name, "all contacts, each drawn afresh", _listed(middle), _listed(low), _listed(high))


def _listed(values: Array) -> tuple[float, ...]:
    return tuple(float(v) for v in values)
