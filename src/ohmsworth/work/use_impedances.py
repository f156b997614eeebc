"""What contacts do in a circuit with the impedance that was measured over frequency."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ohmsworth.consequence import Use
from ohmsworth.consequence.kinds import curves_of, rules_of
from ohmsworth.consequence.measured_impedance import REACH, MeasuredImpedance
from ohmsworth.consequence.rule import Curve, Rule, shown_with
from ohmsworth.report.use_answers import BandAnswer, CurveAnswer, EffectAnswer, WithImpedanceAnswer
from ohmsworth.report.words import listed
from ohmsworth.units import show


def with_impedances(
    use: Use, impedances: Mapping[str, MeasuredImpedance], points: int
) -> WithImpedanceAnswer | None:
    """Effects and curves of `use` by the name of the contacts; None where none were measured over frequency.

    Parameters
    ----------
    impedances
        Each with three rows: the middle, and with the low and the high end of R.
    points
        Frequencies of a curve.
    """
    if not impedances:
        return None
    effects: list[EffectAnswer] = []
    left = []
    for rule in rules_of(use):
        found = [_effect(rule, name, measured) for name, measured in impedances.items()]
        if any(one is None for one in found):
            left.append(rule.words)
        else:
            effects += [one for one in found if one is not None]
    lowest = max(one.lowest for one in impedances.values())
    highest = min(one.highest for one in impedances.values())
    curves = [_curve(curve, impedances, lowest, highest, points) for curve in curves_of(use)]
    return WithImpedanceAnswer(
        tuple(effects), tuple(one for one in curves if one is not None), _remarks(impedances, left)
    )


def _effect(rule: Rule, name: str, measured: MeasuredImpedance) -> EffectAnswer | None:
    """One effect; None where the circuit has to be known further than the tones, or otherwise than at single frequencies."""
    if rule.compute_with is None:
        return None
    values = rule.compute_with(measured.at)
    if not np.isfinite(values).all():
        return None
    middle, *ends = (float(v) for v in values)
    return EffectAnswer(
        rule.key,
        rule.words,
        rule.unit,
        rule.frequency,
        rule.position.words,
        name,
        float(rule.compute(np.zeros(()))),
        middle,
        min(ends),
        max(ends),
        rule.threshold,
    )


def _curve(
    curve: Curve, impedances: Mapping[str, MeasuredImpedance], lowest: float, highest: float, points: int
) -> CurveAnswer | None:
    """A curve as far as the tones reach; None where they reach none of it."""
    low, high = max(curve.low, lowest), min(curve.high, highest)
    if not low < high:
        return None
    frequency = np.geomspace(low, high, points)
    transfer = curve.solve(frequency)
    bands = []
    for name, measured in impedances.items():
        middle, *ends = shown_with(curve, transfer, frequency, curve.position, measured.at)
        words = f"{curve.position.words}, with the impedance measured"
        bands.append(
            BandAnswer(
                name, words, _listed(middle), _listed(np.min(ends, axis=0)), _listed(np.max(ends, axis=0))
            )
        )
    ideal = curve.show(transfer.ideal, transfer.ideal)
    return CurveAnswer(curve.key, curve.words, curve.unit, _listed(frequency), _listed(ideal), tuple(bands))


def _remarks(impedances: Mapping[str, MeasuredImpedance], left: list[str]) -> tuple[str, ...]:
    first = next(iter(impedances.values()))
    low, high = (show(float(first.frequency[i]), "Hz") for i in (0, -1))
    taken = (
        f"Each contact has the median or mean R and the mean X of its condition, over the interval of R. Between the tones, "
        f"{low} to {high}, R and the inductance that X makes lie on straight lines over the logarithm of frequency. Up to "
        f"{REACH:g} times beyond they are held, above the highest tone X itself where it is a capacitance's. Further out nothing "
        "was measured."
    )
    if not left:
        return taken, "Thresholds are those of a resistance."
    by_resistance = (
        "Told by resistance alone, as they take other frequencies or more than a linear circuit: "
        f"{listed(list(dict.fromkeys(left)))}. Thresholds too are those of a resistance."
    )
    return taken, by_resistance


def _listed(values: np.ndarray) -> tuple[float, ...]:
    return tuple(float(v) for v in values)
