"""The pictures of an impedance over frequency."""

from __future__ import annotations

from ohmsworth.report.document import Axis, Line, LineFigure, PointMark, ShareFigure
from ohmsworth.report.takes_answer import BudgetOfAnswer, TakesAnswer
from ohmsworth.units import show, show_pm

#: The limit is drawn where it lies within this factor of what was measured.
_NEAR = 3.0
#: 95 % of noise lie within so many of its standard deviations.
_NORMAL = 1.96


def impedance_figures(answer: TakesAnswer) -> tuple[LineFigure, ...]:
    """R, its change by noise alone, and X over frequency; none for a single tone."""
    return () if len(answer.tones) < 2 else (_resistance(answer), _change(answer), _reactance(answer))


def _resistance(answer: TakesAnswer) -> LineFigure:
    tones, limit, direct = answer.tones, answer.limit, answer.direct
    measured = Line(
        "measured",
        tuple(t.frequency for t in tones),
        tuple(t.resistance for t in tones),
        tuple(t.resistance_low for t in tones),
        tuple(t.resistance_high for t in tones),
    )
    fit = _fit(answer, tuple(t.fitted_resistance for t in tones))
    top, bottom = max(measured.high), min(measured.low)
    shown = limit is not None and bottom / _NEAR <= limit.resistance <= top * _NEAR
    marks = () if direct is None else (PointMark("direct current", tones[0].frequency, direct.resistance),)
    return LineFigure(
        "resistance",
        f"Resistance {_ends(answer, 'resistance')}.",
        "Resistance R over frequency: what lies in phase with the current.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("resistance R", "Ω"),
        (*fit, measured),
        marks,
        limit.resistance if shown and limit is not None else None,
        "limit",
        "95 % interval of each tone",
    )


def _change(answer: TakesAnswer) -> LineFigure:
    """R against that of the lowest tone: what is common to all tones is nearly gone from the difference."""
    tones, first = answer.tones, answer.tones[0]
    change = tuple(t.resistance - first.resistance for t in tones)
    half = tuple(_NORMAL * t.noise for t in tones)
    fit = _fit(
        answer,
        tuple(None if r is None else r - first.resistance for r in (t.fitted_resistance for t in tones)),
    )
    furthest = max(change, key=abs)
    return LineFigure(
        "change",
        f"R less R at {show(first.frequency, 'Hz', 2)}: {show(furthest, 'Ω', 2)} at most.",
        f"Change of R over frequency, from the lowest tone ({show(first.frequency, 'Hz', 2)}) on. The band is noise alone: the "
        "shunt's tolerance, which moves R as a whole, is not in it, nor is crosstalk, which may bend the upper end.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("change of R", "Ω"),
        (
            *fit,
            Line(
                "measured",
                tuple(t.frequency for t in tones),
                change,
                tuple(c - h for c, h in zip(change, half, strict=True)),
                tuple(c + h for c, h in zip(change, half, strict=True)),
            ),
        ),
        band_words="95 % of noise",
    )


def _reactance(answer: TakesAnswer) -> LineFigure:
    tones = answer.tones
    measured = Line(
        "measured",
        tuple(t.frequency for t in tones),
        tuple(t.reactance for t in tones),
        tuple(t.reactance_low for t in tones),
        tuple(t.reactance_high for t in tones),
    )
    return LineFigure(
        "reactance",
        f"Reactance {_ends(answer, 'reactance')}.",
        "Reactance X over frequency: what lies a quarter of a turn ahead of the current (inductance) or behind (capacitance).",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("reactance X", "Ω"),
        (*_fit(answer, tuple(t.fitted_reactance for t in tones)), measured),
        band_words="95 % interval of each tone",
    )


def _fit(answer: TakesAnswer, values: tuple[float | None, ...]) -> tuple[Line, ...]:
    fitted = tuple(value for value in values if value is not None)
    if answer.model is None or len(fitted) < len(values):
        return ()
    return (Line("fitted", tuple(t.frequency for t in answer.tones), fitted, ideal=True),)


def _ends(answer: TakesAnswer, name: str) -> str:
    said = []
    for tone in (answer.tones[0], answer.tones[-1]):
        half = (getattr(tone, f"{name}_high") - getattr(tone, f"{name}_low")) / 2
        said.append(f"{show_pm(getattr(tone, name), half, 'Ω')} at {show(tone.frequency, 'Hz')}")
    return " and ".join(said)


def budget_figure(budget: BudgetOfAnswer) -> ShareFigure | None:
    """Shares of the variance of a quantity; None where a single source has it all."""
    if len(budget.lines) < 2:
        return None
    largest = budget.lines[0]
    return ShareFigure(
        "budget",
        f"Where the uncertainty of {budget.of} comes from: first {largest.source}, {100 * largest.share:.0f} %.",
        f"Where the uncertainty of {budget.of} comes from, as shares of its variance.",
        tuple(line.source for line in budget.lines),
        tuple(line.share for line in budget.lines),
    )
