"""What is said and shown of several factors: each by itself, and whether one depends on another."""

from __future__ import annotations

from itertools import product

from ohmsworth.readings.factors import PLACES, cell_words, level_words
from ohmsworth.report.answer import (
    Answer,
    ComparisonAnswer,
    FactorAnswer,
    InteractionAnswer,
    LevelComparisonAnswer,
)
from ohmsworth.report.document import Block, ConditionMark, EvidenceFigure, Paragraph, Subheading, Table
from ohmsworth.report.words import by_chance, estimate, listed, p_value, times, typical
from ohmsworth.units import show, show_interval

#: An interaction is told as one from this p-value down.
_LEVEL = 0.05


def factor_sentences(answer: Answer) -> tuple[str, ...]:
    """What each factor does by itself, and what depends on what."""
    names = [factor.factor for factor in answer.factors]
    found = [
        _effect(factor.factor, c, [n for n in names if n != factor.factor])
        for factor in answer.factors
        for c in factor.comparisons
    ]
    return (*found, *(_interaction(one, answer) for one in answer.interactions))


def _effect(factor: str, found: LevelComparisonAnswer, others: list[str]) -> str:
    of, against = level_words(factor, found.of), level_words(factor, found.against)
    d = found.difference
    text = f"'{of}' against '{against}', averaged over {listed(others)}: difference {estimate(d.value or 0.0, d.low, d.high)}"
    if found.ratio.value is not None and found.ratio.low is not None:
        text += f", {times(found.ratio.value, found.ratio.low, found.ratio.high)}"
    chance = f"chance alone makes one as large in {by_chance(found.p_value)} such studies"
    return f"{text}; {chance}. Verdict: {found.verdict}."


def _interaction(found: InteractionAnswer, answer: Answer) -> str:
    one, other = found.factors
    p = found.test.p_value
    if p is None:
        return f"Whether what the {one} does depends on the {other} cannot be said: nothing is left to tell it by."
    chance = f"chance alone: {by_chance(p)}"
    if p > _LEVEL:
        text = f"What the {one} does is the same whatever the {other}, as far as these readings can tell ({chance}"
    else:
        text = (
            f"What the {one} does depends on the {other}, so that no average stands for every case ({chance}"
        )
    return f"{text}){_how_much(found, answer)}."


def dependent(answer: Answer) -> bool:
    """Whether some factor's effect depends on another one."""
    return any(one.test.p_value is not None and one.test.p_value <= _LEVEL for one in answer.interactions)


def averaged_comparisons(answer: Answer) -> tuple[ComparisonAnswer, ...]:
    """The levels' comparisons as comparisons like any other, where none depends on another factor; named by their words."""
    if dependent(answer):
        return ()
    return tuple(
        ComparisonAnswer(
            level_words(factor.factor, c.of), level_words(factor.factor, c.against), False, 0, c.difference, c.ratio,
            c.degrees_of_freedom, c.p_value, None, None, None, answer.margin.resistance if answer.margin else None, c.verdict, (),
        )
        for factor in answer.factors
        for c in factor.comparisons
    )  # fmt: skip


def one_contact(answer: Answer) -> tuple[ComparisonAnswer, ...]:
    """Comparisons of what the same place of a contact was under two conditions, where there are such; else all.

    That contact 3 after differs from contact 1 before says nothing about before and after, and calls for nothing.
    """
    fixed = [i for i, factor in enumerate(answer.factors) if factor.factor in PLACES]
    if not fixed:
        return answer.comparisons
    every = [[(f.factor, level.level) for level in f.levels] for f in answer.factors]
    place = {cell_words(dict(cell)): [cell[i] for i in fixed] for cell in product(*every)}
    same = tuple(c for c in answer.comparisons if place.get(c.of) == place.get(c.against))
    return same or answer.comparisons


def averaged_over(found: ComparisonAnswer, answer: Answer) -> str:
    """Over which factors a comparison is averaged, in words; "" where it is one of two conditions."""
    if any(c.condition == found.of for c in answer.conditions):
        return ""
    return listed(
        [
            factor.factor
            for factor in answer.factors
            if found.of not in {level_words(factor.factor, level.level) for level in factor.levels}
        ]
    )


def _how_much(found: InteractionAnswer, answer: Answer) -> str:
    """The two effects against each other, where there are two."""
    if found.ratio is None or found.ratio.value is None or found.ratio.low is None:
        return ""
    first, second = (next(f for f in answer.factors if f.factor == name) for name in found.factors)
    step = f"'{level_words(first.factor, first.levels[1].level)}' over '{level_words(first.factor, first.levels[0].level)}'"
    places = [f"'{level_words(second.factor, second.levels[i].level)}'" for i in (1, 0)]
    size = times(found.ratio.value, found.ratio.low, found.ratio.high)
    return f": the ratio of {step} at {places[0]} is {size} that at {places[1]}"


def factor_blocks(answer: Answer) -> tuple[Block, ...]:
    """The picture and the tables of the factors; nothing where there is one factor only."""
    if not answer.factors:
        return ()
    blocks: list[Block] = [Subheading("Factor by factor")]
    if dependent(answer):
        words = (
            "Where what one factor does depends on another, the averages below stand for no single combination: read the table "
            "'Comparisons' in place of them."
        )
        blocks.append(Paragraph(words, "warning"))
    blocks += [_figure(answer), _levels_table(answer), _comparisons_table(answer), _tests_table(answer)]
    return tuple(blocks)


def _figure(answer: Answer) -> EvidenceFigure:
    marks = tuple(
        ConditionMark(
            level_words(f.factor, level.level),
            level.resistance.value,
            level.resistance.low,
            level.resistance.high,
        )
        for f in answer.factors
        for level in f.levels
        if level.resistance.value is not None
        and level.resistance.low is not None
        and level.resistance.high is not None
    )
    words = "; ".join(f"{m.condition}: {estimate(m.value, m.low, m.high)}" for m in marks)
    return EvidenceFigure(
        "factors",
        f"Each level of each factor. {words}.",
        "Each level of each factor, averaged over the other factors; the bar is its interval.",
        answer.scale == "log",
        (),
        marks,
        (),
        answer.limit.resistance if answer.limit else None,
    )


def _levels_table(answer: Answer) -> Table:
    rows = tuple(
        (
            factor.factor,
            level.level,
            show(level.resistance.value or 0.0, "Ω"),
            "not known"
            if level.resistance.low is None or level.resistance.high is None
            else show_interval(level.resistance.low, level.resistance.high, "Ω"),
        )
        for factor in answer.factors
        for level in factor.levels
    )
    statistic = answer.conditions[0].statistic
    return Table(
        "Levels",
        ("factor", "level", typical(statistic, ""), f"{100 * answer.coverage:g} % interval"),
        rows,
        (2, 3),
    )


def _comparisons_table(answer: Answer) -> Table:
    rows = tuple(
        (
            factor.factor,
            f"{c.of} against {c.against}",
            estimate(c.difference.value or 0.0, c.difference.low, c.difference.high),
            "not known"
            if c.ratio.low is None
            else times(c.ratio.value, c.ratio.low, c.ratio.high).replace(" times", ""),
            p_value(c.p_value),
            c.verdict,
        )
        for factor in answer.factors
        for c in factor.comparisons
    )
    joint = [
        f"{c.of} against {c.against} {times(c.ratio_together.value, c.ratio_together.low, c.ratio_together.high)}"
        for factor in answer.factors
        for c in factor.comparisons
        if c.ratio_together is not None and c.ratio_together.low is not None
    ]
    note = f"Ratios that hold together within a factor: {'; '.join(joint)}." if joint else ""
    header = ("factor", "levels", "difference", "ratio", "by chance (p)", "verdict")
    return Table("What each factor does, averaged over the others", header, rows, (3, 4), note)


def _tests_table(answer: Answer) -> Table:
    rows = [_test_row(f.factor, f) for f in answer.factors]
    rows += [_test_row(" × ".join(i.factors), i) for i in answer.interactions]
    return Table(
        "Tests of the factors and of their interaction",
        ("what", "F", "degrees of freedom", "by chance (p)"),
        tuple(rows),
        (1, 2, 3),
    )


def _test_row(name: str, found: FactorAnswer | InteractionAnswer) -> tuple[str, ...]:
    test = found.test
    if test.statistic is None:
        return name, "–", "–", p_value(test.p_value)
    below = "many" if test.below is None else f"{test.below:.3g}"
    return name, f"{test.statistic:.3g}", f"{test.above} and {below}", p_value(test.p_value)
