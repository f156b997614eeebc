"""The fitness of a bench as a document: verdict and chart first, then what it can tell, evidence, method."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.inference.control import FIT
from ohmsworth.readings.home import FOLDER, Home, row_numbers, rows_called
from ohmsworth.report.document import (
    Block,
    Bullets,
    ChartFigure,
    Document,
    EvidenceFigure,
    Headline,
    LineFigure,
    Paragraph,
    Section,
    ShareFigure,
    Subheading,
    Table,
    Tone,
)
from ohmsworth.report.fitness import ControlAnswer, FitnessAnswer, StudyAnswer
from ohmsworth.report.fitness_figures import precise
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.words import p_value
from ohmsworth.units import show, show_percent, show_pm, show_stated

#: A longer table of checks belongs in the JSON, not on paper.
MOST_CHECKS = 30


@dataclass(frozen=True, slots=True)
class Pictures:
    """What is drawn; None or empty where there is nothing to draw."""

    charts: tuple[ChartFigure, ...]
    words: LineFigure | None
    operators: EvidenceFigure | None
    budget: ShareFigure | None
    room: EvidenceFigure | None
    difference: LineFigure | None


def fitness_report(answer: FitnessAnswer, pictures: Pictures, home: Home = FOLDER) -> Document:
    """The whole report; `home` is where the bench's readings are kept."""
    sections = [Section("Today", _first_page(answer, pictures))]
    if answer.ability is not None or answer.differences:
        sections.append(Section("What the bench can tell", _ability(answer, pictures), own_page=True))
    if answer.control is not None:
        sections.append(Section("The check standard", _control(answer.control, pictures)))
    if answer.study is not None:
        sections.append(Section("The repeatability study", _study(answer.study, answer, pictures)))
    if answer.warnings:
        sections.append(Section("Warnings about the readings", _warnings(answer, home)))
    sections.append(Section("Method and sources", _method(answer)))
    return Document(
        "Is the bench fit?",
        "Bench fitness: check standard, repeatability, and what they leave of a limit",
        "en",
        "Made with Ohmsworth from the readings of this bench.",
        tuple(sections),
    )


def fitness_summary(answer: FitnessAnswer, pictures: Pictures, home: Home = FOLDER) -> Document:
    """What fits a terminal."""
    blocks = [*_first_page(answer, pictures), *_told_table(answer), *_difference_table(answer)]
    sections = [Section("Today", tuple(blocks))]
    if answer.study is not None:
        sections.append(Section("The repeatability study", (_components_table(answer.study),)))
    if answer.budget:
        sections.append(Section("Where the uncertainty comes from", (_budget_table(answer),)))
    if answer.warnings:
        sections.append(Section("Warnings about the readings", _warnings(answer, home)))
    return Document("Is the bench fit?", "", "en", "", tuple(sections))


def _first_page(answer: FitnessAnswer, pictures: Pictures) -> tuple[Block, ...]:
    tone: Tone = "good" if answer.verdict == FIT else "open"
    blocks: list[Block] = [Headline(answer.sentence, tone, answer.verdict)]
    blocks.append(Bullets(answer.findings))
    blocks += pictures.charts[:1]
    return (*blocks, Subheading("What to do"), *step_blocks(answer.actions, once=True))


def _ability(answer: FitnessAnswer, pictures: Pictures) -> tuple[Block, ...]:
    blocks: list[Block] = []
    if pictures.words is not None:
        blocks.append(pictures.words)
    blocks += _told_table(answer)
    blocks += [] if pictures.room is None else [pictures.room]
    blocks += [] if pictures.difference is None else [pictures.difference]
    blocks += _difference_table(answer)
    if pictures.budget is not None:
        blocks += [pictures.budget, _budget_table(answer)]
    return tuple(blocks)


def _told_table(answer: FitnessAnswer) -> list[Block]:
    able, limit = answer.ability, answer.limit
    if able is None or limit is None:
        return []
    rows = tuple(
        (
            precise(t.resistance, able.standard_uncertainty, limit.resistance),
            show_percent(t.within),
            show_percent(t.too_close_to_call),
            show_percent(t.over),
        )
        for t in able.told
    )
    largest = "no reading" if able.within_up_to is None else show(able.within_up_to, "Ω")
    note = (
        f"Limit {show_stated(limit.resistance, 'Ω')} ({limit.source}). One reading has a standard uncertainty of "
        f"{show(able.standard_uncertainty, 'Ω', 2)}; a clear 'within' is for {largest} or less, a clear 'over' for "
        f"{show(able.over_from, 'Ω')} or more."
    )
    header = ("true resistance", "within", "too close to call", "over")
    return [Table("What a contact will be told", header, rows, (0, 1, 2, 3), note)]


def _difference_table(answer: FitnessAnswer) -> list[Block]:
    if not answer.differences:
        return []
    rows = tuple(
        (
            str(d.trials_each),
            show(d.ohm, "Ω", 2),
            "–" if d.relative is None else show(100 * d.relative, "%", 2),
        )
        for d in answer.differences
    )
    note = f"At {show(answer.level, 'Ω')}, between two contacts read by one operator on one day, four times in five."
    return [
        Table(
            "Smallest difference that this bench sees",
            ("trials each", "difference", "relative"),
            rows,
            (0, 1, 2),
            note,
        )
    ]


def _budget_table(answer: FitnessAnswer) -> Table:
    rows = tuple(
        (
            line.source,
            show(line.contribution, "Ω", 2),
            f"{100 * line.share:.1f} %" if line.share >= 0.0005 else "under 0.1 %",
            line.reduce_by,
        )
        for line in answer.budget
    )
    header = ("source", "standard uncertainty", "share", "what would reduce it")
    return Table(f"Budget of one reading at {show(answer.level, 'Ω')}", header, rows, (1, 2))


def _control(control: ControlAnswer, pictures: Pictures) -> tuple[Block, ...]:
    blocks: list[Block] = [*pictures.charts[1:]]
    if control.calibrated is not None and control.calibrated.value is not None:
        value, high = control.calibrated.value, control.calibrated.high or control.calibrated.value
        told = show_pm(value, (high - value) / 1.959964, "Ω")
        blocks.append(Paragraph(f"Calibrated value of {control.name}: {told} (standard uncertainty)."))
    return (*blocks, _checks_table(control), _run_lengths_table(control))


def _checks_table(control: ControlAnswer) -> Table:
    shown = control.checks[-MOST_CHECKS:]
    spread = control.standard_deviation
    rows = tuple(
        (
            c.check,
            precise(c.resistance, spread, control.centre),
            "–" if c.step is None else show(c.step, "Ω", 2),
            precise(c.average, spread / 3, control.centre),
            f"{c.above:.1f}",
            f"{c.below:.1f}",
            ", ".join(c.rules) or "–",
        )
        for c in shown
    )
    left = len(control.checks) - len(shown)
    note = f"{left} earlier checks are in the JSON." if left else ""
    header = ("check", "resistance", "step", "EWMA", "CUSUM above", "CUSUM below", "stands out by")
    return Table("Checks", header, rows, (1, 2, 3, 4, 5), note)


def _run_lengths_table(control: ControlAnswer) -> Table:
    rows = tuple(
        (f"{r.shift:g}", f"{r.individuals:.1f}", f"{r.ewma:.1f}", f"{r.cusum:.1f}")
        for r in control.run_lengths
    )
    header = ("shift, standard deviations", "single checks", "EWMA", "CUSUM")
    note = "Shift 0 is a sound bench: false alarms. Single checks find large shifts first, the other two small ones."
    return Table("Checks until a signal, on average (run length)", header, rows, (0, 1, 2, 3), note)


def _study(study: StudyAnswer, answer: FitnessAnswer, pictures: Pictures) -> tuple[Block, ...]:
    blocks: list[Block] = [] if pictures.operators is None else [pictures.operators]
    blocks.append(_components_table(study))
    if study.anova is not None:
        blocks.append(_anova_table(study, answer.scale == "log"))
    return tuple(blocks)


def _components_table(study: StudyAnswer) -> Table:
    rows = tuple((c.component, show(c.ohm, "Ω", 2), f"{c.percent_of_total:.1f} %") for c in study.components)
    note = f"{study.specimens} specimens, operators: {study.operators}, trials: {study.trials}, {study.form}."
    if study.distinct_categories is not None:
        note += f" Number of distinct categories: {study.distinct_categories} (5 or more is the custom)."
    header = ("component", "standard deviation", "of total")
    return Table("Repeatability and reproducibility", header, rows, (1, 2), note)


def _anova_table(study: StudyAnswer, logarithmic: bool) -> Table:
    unit = 1.0 if logarithmic else 1e6
    rows = tuple(
        (
            r.source,
            str(r.degrees_of_freedom),
            f"{r.sum_of_squares * unit:.4g}",
            f"{r.mean_square * unit:.4g}",
            "–" if r.f is None else f"{r.f:.3g}",
            p_value(r.p_value),
            f"{r.component * unit:.3g}".replace("-", "−"),
        )
        for r in study.anova or ()
    )
    header = ("source", "degrees of freedom", "sum of squares", "mean square", "F", "p", "component")
    note = "Of natural logarithms." if logarithmic else "In square milliohms."
    return Table("Analysis of variance", header, rows, (1, 2, 3, 4, 5, 6), note)


def _warnings(answer: FitnessAnswer, home: Home) -> tuple[Block, ...]:
    rows = tuple(
        (
            w.code,
            row_numbers(home, w.rows),
            f"{w.words} Left out." if w.set_aside else w.words,
            w.what_to_do,
        )
        for w in answer.warnings
    )
    return (Table("Warnings", ("code", rows_called(home), "what is doubtful", "what to do"), rows),)


def _method(answer: FitnessAnswer) -> tuple[Block, ...]:
    rows = tuple((s.citation, s.standing) for s in answer.sources)
    note = "Standing: published text, from memory, or common practice."
    return (Bullets(answer.method), Table("Sources", ("source", "standing"), rows, note=note))
