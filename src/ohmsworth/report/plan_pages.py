"""The plan as a document: what to do first, then the picture, the other plans, and what it rests on."""

from __future__ import annotations

from ohmsworth.report.document import (
    Axis,
    Block,
    Bullets,
    Document,
    Headline,
    Line,
    LineFigure,
    Paragraph,
    PointMark,
    Section,
    Table,
)
from ohmsworth.report.plan_answer import DesignAnswer, PlanAnswer
from ohmsworth.report.plan_sentences import duration, percent
from ohmsworth.report.words import count, listed
from ohmsworth.units import show_percent


def plan_report(answer: PlanAnswer) -> Document:
    """The whole plan."""
    blocks: list[Block] = [Headline(answer.sentence, "plain" if answer.best else "open"), power_curve(answer)]
    blocks += [_designs(answer), Bullets(answer.findings), Bullets(answer.cautions, tone="caution")]
    return Document(
        title=answer.question,
        subtitle="A plan: how many specimens, matings and readings settle it",
        language="en",
        footer="Made with Ohmsworth before anything was read; the chance is that of studies like this one.",
        sections=(
            Section("The plan", tuple(blocks)),
            Section("What it rests on", (_scatter(answer), _prices(answer)), own_page=True),
            Section("Method and sources", _method(answer)),
        ),
    )


def plan_summary(answer: PlanAnswer) -> Document:
    """What fits a terminal."""
    return Document(answer.question, "", "en", "", plan_report(answer).sections[:1])


def power_curve(answer: PlanAnswer) -> LineFigure:
    """Chance against specimens, a line for each number of matings."""
    several = sorted({p.matings for p in answer.curve})
    lines = tuple(
        Line(
            count(m, "mating"),
            tuple(float(p.specimens) for p in answer.curve if p.matings == m),
            tuple(100 * p.chance for p in answer.curve if p.matings == m),
        )
        for m in several
    )
    marks: tuple[PointMark, ...] = ()
    if answer.best:
        marks = (PointMark("the plan", float(answer.best.specimens), 100 * answer.best.chance),)
    each = "specimens" if answer.goal == "limit" else "specimens a condition"
    return LineFigure(
        "power",
        _curve_words(answer, each),
        "Chance of a clear answer against specimens; the dashed line is the chance that was asked for.",
        Axis(each),
        Axis("chance", "%"),
        lines,
        marks,
        100 * answer.chance_wanted,
        "asked for:",
    )


def _curve_words(answer: PlanAnswer, each: str) -> str:
    matings = answer.best.matings if answer.best else 1
    points = [p for p in answer.curve if p.matings == matings]
    picked = points[:: max(len(points) // 5, 1)]
    told = listed([f"{p.specimens}: {show_percent(p.chance)}" for p in picked], 12)
    return f"With {count(matings, 'mating')} of each, by {each}: {told}."


def _designs(answer: PlanAnswer) -> Table:
    rows = []
    if answer.best:
        rows.append(("cheapest", *_row(answer.best)))
    rows += [(f"instead, {count(d.matings, 'mating')}", *_row(d)) for d in answer.alternatives]
    if answer.half:
        rows.append(("half the effort", *_row(answer.half)))
    if answer.most:
        rows.append(("all there is", *_row(answer.most)))
    header = ("plan", "specimens", "in all", "matings of each", "readings of each", "rows", "time", "chance")
    note = "A reading is one resistance: two rows, forward and reversed."
    return Table("Plans", header, tuple(rows), (1, 2, 3, 4, 5, 6, 7), note)


def _row(design: DesignAnswer) -> tuple[str, ...]:
    return (
        str(design.specimens),
        str(design.specimens_in_all),
        str(design.matings),
        str(design.readings),
        str(design.rows),
        duration(design.minutes).replace(" ", "\u00a0"),
        show_percent(design.chance).replace(" ", "\u00a0"),
    )


def _scatter(answer: PlanAnswer) -> Table:
    rows = tuple((s.level, percent(s.standard_deviation), s.source) for s in answer.scatter)
    return Table(
        "Scatter", ("level", "standard deviation", "from"), rows, (1,), "Relative to the resistance."
    )


def _prices(answer: PlanAnswer) -> Table:
    rows = (
        ("specimen", f"{answer.minutes_per_specimen:g}"),
        ("mating", f"{answer.minutes_per_mating:g}"),
        ("reading, forward and reversed", f"{answer.minutes_per_reading:g}"),
    )
    return Table("Minutes", ("for each", "minutes"), rows, (1,))


def _method(answer: PlanAnswer) -> tuple[Block, ...]:
    sources = Bullets(tuple(f"{s.citation} ({s.standing})" for s in answer.sources))
    return Bullets(answer.method), Paragraph("Sources:"), sources
