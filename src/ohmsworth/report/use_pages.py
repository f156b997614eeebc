"""A circuit in a report: its cautions, what the contacts do, when it would matter, and its curves."""

from __future__ import annotations

from ohmsworth.report.document import Block, Bullets, Paragraph, Table
from ohmsworth.report.tables import table
from ohmsworth.report.use_answers import EffectAnswer, UseAnswer
from ohmsworth.report.use_figures import curve_blocks
from ohmsworth.report.words import amount
from ohmsworth.units import show

#: More conditions than this do not fit side by side.
MOST_ACROSS = 4
#: A range narrower than this is no news to anybody.
_VISIBLE = {"dB": 0.02, "V": 0.05}


def use_blocks(use: UseAnswer) -> list[Block]:
    """Everything about one circuit."""
    blocks: list[Block] = [Bullets(use.cautions, tone="caution")] if use.cautions else []
    if use.proviso:
        blocks.append(Paragraph(use.proviso))
    if use.effects:
        blocks.append(_effects_table(use))
    return [*blocks, _thresholds_table(use), *curve_blocks(use, shown_conditions(use))]


def _effects_table(use: UseAnswer) -> Table:
    """Effects down, conditions across; with many conditions the mildest and the worst."""
    conditions = shown_conditions(use)
    by_effect: dict[tuple[str, str], dict[str, EffectAnswer]] = {}
    for e in use.effects:
        by_effect.setdefault((e.effect, e.position), {})[e.condition] = e
    rows = []
    for found in by_effect.values():
        one = found[conditions[0]]
        values = [_effect_words(found[c]) for c in conditions]
        limit = "–" if one.threshold is None else amount(one.threshold, one.unit)
        rows.append((one.words, one.position, amount(one.ideal, one.unit), *values, limit))
    header = ("effect", "where", "ideal contacts", *conditions, "matters from")
    bracketed = any("(" in cell for row in rows for cell in row[3:-1])
    note = "In brackets: over the interval of the condition's resistance." if bracketed else ""
    return table(f"{use.name}: what the contacts do", header, tuple(rows), tuple(range(2, len(header))), note)


def shown_conditions(use: UseAnswer) -> list[str]:
    """All conditions, or the mildest and the worst of many."""
    names = list(dict.fromkeys(e.condition for e in use.effects))
    if len(names) <= MOST_ACROSS:
        return names
    reach = {e.condition: abs(e.value - e.ideal) for e in reversed(use.effects)}
    ranked = sorted(names, key=lambda name: reach[name])
    return [ranked[0], ranked[-1]]


def _effect_words(e: EffectAnswer) -> str:
    """Its size and the interval's ends, with the unit once where one serves all three."""
    value = amount(e.value, e.unit)
    if e.low is None or e.high is None or abs(e.high - e.low) < _VISIBLE.get(e.unit, 0.0):
        return value
    ends = [amount(end, e.unit) for end in (e.low, e.high)]
    unit = value[value.rfind(" ") :]
    if unit.startswith(" ") and all(end.endswith(unit) for end in ends):
        ends = [end.removesuffix(unit) for end in ends]
    return f"{value} ({ends[0]} to {ends[1]})".replace(" ", "\u00a0").replace("\u00a0(", " (")


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
