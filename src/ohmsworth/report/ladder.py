"""The ladder of an answer: every resistance that matters on one scale, as a picture and as a table."""

from __future__ import annotations

import math

from ohmsworth.materials import conductor_from_text, resistance_per_metre
from ohmsworth.report.answer import SETTLED, Answer, ConditionAnswer
from ohmsworth.report.document import LadderFigure, LadderMark, Table
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.words import count, estimate, listed
from ohmsworth.units import show, show_interval, show_stated

#: Lengths marked on the ladder, metre, as they are called.
_LENGTHS = {"1 cm": 0.01, "10 cm": 0.1, "1 m": 1.0, "10 m": 10.0, "100 m": 100.0, "1 km": 1000.0}
#: An effect in the word or two that fit on the ladder; any other is called by its key.
_HARMS = {
    "rejection_mains": "hum",
    "rejection_high": "buzz",
    "phantom_volts": "phantom",
    "phantom_loss": "phantom",
}
#: Effects by which somebody can come to harm.
_SERIOUS = {"contact_heat", "contact_voltage", "touch_voltage", "loop_rise"}
#: What stands in the table for a mark that belongs to no use.
_NO_USE = {"contact": "contact", "limit": "limit", "wire": "wire"}


def ladder(answer: Answer, ambient: float) -> LadderFigure:
    """Everything that matters on one logarithmic scale of resistance; wires at `ambient` (kelvin)."""
    marks = [
        LadderMark("contact", who(c), _how(c), c.resistance, c.low, c.high)
        for c in answer.conditions
        if c.resistance > 0
    ]
    if answer.limit is not None:
        marks.append(LadderMark("limit", "limit", answer.limit.source, answer.limit.resistance))
    wires = list(dict.fromkeys(e.conductor for e in answer.equivalent_length))[:1]
    for wire in wires:
        marks += wire_marks(wire, ambient)
    for use in answer.uses:
        marks += threshold_marks(use)
    return LadderFigure("ladder", _ladder_words(answer), _ladder_caption(answer), tuple(marks))


def wire_marks(wire: str, ambient: float) -> list[LadderMark]:
    """Lengths of a `wire` at `ambient` (kelvin)."""
    per_metre = float(resistance_per_metre(conductor_from_text(wire), ambient))
    return [LadderMark("wire", name, f"{wire} wire", m * per_metre) for name, m in _LENGTHS.items()]


def threshold_marks(use: UseAnswer) -> list[LadderMark]:
    """Where a use suffers."""
    return [_threshold(use, t, t.resistance) for t in use.thresholds if t.resistance is not None]


def _threshold(use: UseAnswer, threshold: ThresholdAnswer, resistance: float) -> LadderMark:
    harm = _HARMS.get(threshold.effect, threshold.effect.replace("_", " "))
    return LadderMark(
        "threshold",
        threshold.words,
        use.name,
        resistance,
        position=threshold.position,
        harm=harm,
        serious=threshold.effect in _SERIOUS,
    )


def who(condition: ConditionAnswer) -> str:
    """A condition by its name; the only one has none."""
    if condition.condition != "all":
        return condition.condition
    return "the contact" if condition.specimens == 1 else "the contacts"


def _how(condition: ConditionAnswer) -> str:
    return "measured" if condition.state == SETTLED else condition.state


def _ladder_caption(answer: Answer) -> str:
    marked = ["the measured contacts", *(["the limit"] if answer.limit else []), "lengths of wire"]
    marked += ["the resistance at which each use begins to suffer"] if answer.uses else []
    return f"How much is it? On one scale: {listed(marked)}. Each step is ten times the one before."


def _ladder_words(answer: Answer) -> str:
    parts = [f"{who(c)} at {estimate(c.resistance, c.low, c.high)}" for c in answer.conditions]
    if answer.limit:
        parts.append(f"limit at {show_stated(answer.limit.resistance, 'Ω')}")
    if answer.margin:
        parts.append(f"smallest change that matters {show(answer.margin.resistance, 'Ω', 2)}")
    first = [
        (t.resistance, use.name) for use in answer.uses for t in use.thresholds if t.resistance is not None
    ]
    if len(answer.uses) > 1 and first:
        value, name = min(first)
        parts.append(
            f"of {count(len(answer.uses), 'use')} the first to suffer is {name}, at {show(value, 'Ω', 2)}"
        )
    return "Logarithmic scale of resistance: " + "; ".join(parts) + "."


def ladder_table(figure: LadderFigure) -> Table:
    """Everything marked on a ladder, smallest resistance first: at how much, in which use, what happens, and where."""
    rows = tuple(
        (_at(m), m.group if m.kind == "threshold" else _NO_USE[m.kind], _what(m), m.position or "–")
        for m in sorted(figure.marks, key=lambda mark: mark.value)
    )
    return Table(
        "The ladder in words, smallest resistance first", ("at", "use", "what happens", "where"), rows, (0,)
    )


def _at(mark: LadderMark) -> str:
    if math.isinf(mark.value):
        return "never"
    if mark.kind == "limit":
        return show_stated(mark.value, "Ω").replace(" ", "\u00a0")
    return show(mark.value, "Ω", 3 if mark.kind == "contact" else 2).replace(" ", "\u00a0")


def _what(mark: LadderMark) -> str:
    words = mark.label
    if mark.kind == "wire" and mark.group:
        words += f" of {mark.group}"
    elif mark.kind != "threshold" and mark.group:
        words += f" ({mark.group})"
    if mark.low is not None and mark.high is not None:
        words += f", {show_interval(mark.low, mark.high, 'Ω')}"
    return words + (f", {mark.note}" if mark.note else "") + (": a hazard" if mark.serious else "")
