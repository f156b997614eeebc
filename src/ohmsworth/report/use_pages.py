"""A circuit in a report: its cautions, what the contacts do, when it would matter, and its curves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ohmsworth.report.document import Block, Bullets, Paragraph, Subheading, Table
from ohmsworth.report.tables import table
from ohmsworth.report.use_answers import BandAnswer, CurveAnswer, EffectAnswer, UseAnswer
from ohmsworth.report.use_figures import curve_blocks
from ohmsworth.report.words import amount, listed
from ohmsworth.units import show, show_stated

#: Of more conditions than this the mildest and the worst are shown.
MOST_SHOWN = 4
#: More than this do not fit side by side.
MOST_ACROSS = 3
#: A range narrower than this is no news to anybody.
_VISIBLE = {"dB": 0.02, "V": 0.05}


def use_blocks(use: UseAnswer, conditions: Sequence[str] = ()) -> list[Block]:
    """Everything about one circuit: with all of `conditions`, or with those that `shown_conditions` picks."""
    shown = list(conditions) or shown_conditions(use)
    blocks: list[Block] = [Bullets(use.cautions, tone="caution")] if use.cautions else []
    if use.proviso:
        blocks.append(Paragraph(use.proviso))
    return [*blocks, *use_tables(use, shown), *curve_blocks(use, shown), *_measured_blocks(use, shown)]


def _measured_blocks(use: UseAnswer, conditions: Sequence[str]) -> list[Block]:
    """The same with the impedance that was measured over frequency, where it was."""
    found = use.with_impedance
    if found is None:
        return []
    told = replace(use, effects=found.effects, curves=found.curves)
    shown = [name for name in conditions if any(e.condition == name for e in found.effects)]
    blocks: list[Block] = [Subheading(f"{use.name}, with the impedance measured")]
    blocks += [_effects_table(told, group, " with their impedance") for group in _groups(shown) if shown]
    first = replace(told, curves=found.curves[:1])
    blocks += curve_blocks(first, list(conditions), "over the interval of the condition's R")
    more = [curve.words for curve in found.curves[1:]]
    remarks = (
        (*found.remarks, f"In the answer's data (JSON) as well: {listed(more)}.") if more else found.remarks
    )
    return [*blocks, Bullets(remarks)]


def use_tables(use: UseAnswer, conditions: Sequence[str]) -> list[Table]:
    """What the contacts of `conditions` do, no more of them in a table than fit, and when it would matter."""
    effects = [_effects_table(use, group) for group in _groups(conditions)] if use.effects else []
    return [*effects, _thresholds_table(use)]


def band_tables(use: UseAnswer, conditions: Sequence[str]) -> list[Table]:
    """Ends and middle of each curve as numbers, with its bands; none where contacts are all alike."""
    return [found for group in _groups(conditions) if (found := _bands_table(use, group))]


def _groups(conditions: Sequence[str]) -> list[Sequence[str]]:
    """As few groups as fit, as even as they can be."""
    size = math.ceil(len(conditions) / max(1, math.ceil(len(conditions) / MOST_ACROSS)))
    return [conditions[i : i + size] for i in range(0, len(conditions), max(1, size))]


def shown_conditions(use: UseAnswer) -> list[str]:
    """All conditions, or the mildest and the worst of many."""
    names = list(dict.fromkeys(e.condition for e in use.effects))
    if len(names) <= MOST_SHOWN:
        return names
    reach = {e.condition: abs(e.value - e.ideal) for e in reversed(use.effects)}
    ranked = sorted(names, key=lambda name: reach[name])
    return [ranked[0], ranked[-1]]


def _effects_table(use: UseAnswer, conditions: Sequence[str], how: str = "") -> Table:
    """Effects down, conditions across."""
    by_effect: dict[tuple[str, str], dict[str, EffectAnswer]] = {}
    for e in use.effects:
        by_effect.setdefault((e.effect, e.position), {})[e.condition] = e
    rows = []
    for found in by_effect.values():
        one = found[conditions[0]]
        values = [with_ends(e.value, e.low, e.high, e.unit) for e in (found[c] for c in conditions)]
        limit = "–" if one.threshold is None else amount(one.threshold, one.unit)
        rows.append((one.words, one.position, amount(one.ideal, one.unit), *values, limit))
    header = ("effect", "where", "ideal contacts", *conditions, "matters from")
    known = any(e.low is not None for e in use.effects)
    note = "In brackets: over the interval of the condition's resistance." if known else ""
    return table(
        f"{use.name}: what the contacts do{how}", header, tuple(rows), tuple(range(2, len(header))), note
    )


def _bands_table(use: UseAnswer, conditions: Sequence[str]) -> Table | None:
    rows = []
    for curve in use.curves:
        bands = {band.condition: band for band in curve.bands if band.low is not None}
        if all(name in bands for name in conditions):
            rows += [
                _band_row(curve, i, [bands[name] for name in conditions])
                for i in (0, len(curve.frequency) // 2, -1)
            ]
    if not rows:
        return None
    header = ("what", "at", "ideal contacts", *conditions)
    note = "In brackets: 95 % of sets of contacts, each contact of the circuit drawn afresh."
    numeric = tuple(range(1, len(header)))
    return table(f"{use.name}: contacts that scatter", header, tuple(rows), numeric, note)


def _band_row(curve: CurveAnswer, i: int, bands: Sequence[BandAnswer]) -> tuple[str, ...]:
    cells = [
        with_ends(band.value[i], band.low[i] if band.low else None, band.high[i] if band.high else None, curve.unit)
        for band in bands
    ]  # fmt: skip
    at = show_stated(float(f"{curve.frequency[i]:.3g}"), "Hz")
    return curve.words, at, amount(curve.ideal[i], curve.unit), *cells


def with_ends(value: float, low: float | None, high: float | None, unit: str) -> str:
    """A value and the interval's ends, with the unit once where one serves all three."""
    told = amount(value, unit)
    if low is None or high is None or abs(high - low) < _VISIBLE.get(unit, 0.0):
        return told
    ends = [amount(end, unit) for end in (low, high)]
    mark = told[told.rfind(" ") :]
    if mark.startswith(" ") and all(end.endswith(mark) for end in ends):
        ends = [end.removesuffix(mark) for end in ends]
    return f"{told} ({ends[0]} to {ends[1]})".replace(" ", "\u00a0").replace("\u00a0(", " (")


def _thresholds_table(use: UseAnswer) -> Table:
    rows = [
        (
            t.words,
            t.position,
            show(t.resistance, "Ω", 2) if t.resistance is not None else t.note or "never",
            t.reason,
        )
        for t in use.thresholds
    ]
    return table(
        f"{use.name}: when it would matter", ("what happens", "where", "at", "why there"), tuple(rows), (2,)
    )
