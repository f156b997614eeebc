"""The impedance of a contact as a document: the answer and its picture first, then tones, evidence, method."""

from __future__ import annotations

import math

from ohmsworth.report.document import (
    Block,
    Bullets,
    Document,
    Headline,
    Paragraph,
    Section,
    Subheading,
    Table,
    Tone,
)
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.takes_answer import BudgetOfAnswer, ModelAnswer, TakesAnswer, ToneAnswer
from ohmsworth.report.takes_evidence import evidence_blocks, interface_blocks
from ohmsworth.report.takes_figures import budget_figure, impedance_figures
from ohmsworth.report.takes_sentences import told
from ohmsworth.report.words import p_value
from ohmsworth.units import show, show_interval, show_pm

_TITLE = "Impedance of a contact over frequency"


def takes_report(answer: TakesAnswer) -> Document:
    """The whole report."""
    sections = [
        Section("The answer", _first_page(answer)),
        Section("Impedance at each tone", _impedance(answer), own_page=True),
        Section("Is it a contact at rest that follows Ohm's law?", evidence_blocks(answer)),
        Section("Where the uncertainty comes from", _budgets(answer)),
        Section("Interface and recordings", interface_blocks(answer)),
        Section("Method and sources", _method(answer)),
    ]
    return Document(
        _TITLE,
        "Resistance and reactance from tones, with their uncertainty",
        "en",
        "Made with Ohmsworth from the recordings of this contact.",
        tuple(sections),
    )


def takes_summary(answer: TakesAnswer) -> Document:
    """What fits a terminal."""
    blocks: list[Block] = [_headline(answer), Bullets(answer.findings), _tones(answer)]
    blocks += _model(answer.model)
    blocks.append(_budget(answer.budgets[0]))
    sections = [Section("The answer", tuple(blocks))]
    if answer.warnings:
        sections.append(Section("Doubts", (_doubts(answer),)))
    return Document(_TITLE, "", "en", "", (*sections, Section("What to do", _steps(answer))))


def _headline(answer: TakesAnswer) -> Headline:
    limit = answer.limit
    if limit is None:
        return Headline(answer.sentence)
    tone: Tone = {"within": "good", "over": "bad"}.get(limit.verdict, "open")  # type: ignore[assignment]
    return Headline(answer.sentence, tone, limit.verdict)


def _first_page(answer: TakesAnswer) -> tuple[Block, ...]:
    blocks: list[Block] = [_headline(answer), Bullets(answer.findings), *impedance_figures(answer)[:1]]
    blocks += [Subheading("What to do"), *_steps(answer)]
    return tuple(blocks)


def _steps(answer: TakesAnswer) -> tuple[Block, ...]:
    beside = (Bullets(answer.cautions, tone="caution"),) if answer.cautions else ()
    return (*beside, *step_blocks(answer.actions, once=True, told=answer.cautions))


def _doubts(answer: TakesAnswer) -> Table:
    rows = tuple((w.code, w.words, w.what_to_do) for w in answer.warnings)
    return Table("Doubts", ("code", "what is doubtful", "what to do"), rows)


def _impedance(answer: TakesAnswer) -> tuple[Block, ...]:
    return (*impedance_figures(answer)[1:], _tones(answer), *_model(answer.model))


def _tones(answer: TakesAnswer) -> Table:
    header = ("frequency", "R", "X", "|Z|", "angle", "degrees of freedom")
    note = "Half the width of the 95 % interval after each sign; degrees of freedom are those of R."
    rows = tuple(_tone(tone) for tone in answer.tones)
    return Table("Impedance at each tone", header, rows, (0, 1, 2, 3, 4, 5), note)


def _tone(tone: ToneAnswer) -> tuple[str, ...]:
    freedom = tone.resistance_degrees_of_freedom
    return (
        show(tone.frequency, "Hz", 4),
        show_pm(tone.resistance, (tone.resistance_high - tone.resistance_low) / 2, "Ω"),
        show_pm(tone.reactance, (tone.reactance_high - tone.reactance_low) / 2, "Ω"),
        show(tone.magnitude, "Ω", 4),
        f"{math.degrees(tone.phase):.2f}°".replace("-", "−"),
        "very many" if freedom is None or freedom > 1e4 else f"{freedom:.0f}",
    )


def _model(model: ModelAnswer | None) -> tuple[Block, ...]:
    if model is None:
        return ()
    rows = tuple(
        (part.name, told(part), show(part.standard_uncertainty, part.unit, 2)) for part in model.parts
    )
    notes = []
    if model.corner is not None and model.corner_low is not None and model.corner_high is not None:
        ends = show_interval(model.corner_low, model.corner_high, "Hz")
        notes.append(f"It bends at {show(model.corner, 'Hz', 2)} ({ends}).")
    if model.chance is not None:
        notes.append(f"Chance alone makes as much with p = {p_value(model.chance)}.")
    if model.agreement is not None:
        notes.append(f"What the model leaves is as much as noise leaves with p = {p_value(model.agreement)}.")
    header = ("part", "value ± half of its 95 % interval", "standard uncertainty")
    return (
        Paragraph(f"What the impedance is made of: {model.words[0].lower()}{model.words[1:]}"),
        Table("Fitted parts", header, rows, (1, 2), " ".join(notes)),
    )


def _budgets(answer: TakesAnswer) -> tuple[Block, ...]:
    figure = budget_figure(answer.budgets[0])
    return (*(() if figure is None else (figure,)), *map(_budget, answer.budgets))


def _budget(budget: BudgetOfAnswer) -> Table:
    rows = tuple(
        (
            line.source,
            show(line.contribution, "Ω", 2),
            f"{100 * line.share:.1f} %" if line.share >= 0.0005 else "under 0.1 %",
            line.reduce_by,
        )
        for line in budget.lines
    )
    header = ("source", "standard uncertainty", "share", "what would reduce it")
    return Table(f"Budget of {budget.of}", header, rows, (1, 2))


def _method(answer: TakesAnswer) -> tuple[Block, ...]:
    sources = Bullets(tuple(f"{s.citation} ({s.standing})" for s in answer.sources))
    return Bullets(answer.method), Paragraph("Sources:"), sources
