"""The report about care: what to do first, the steps with their cautions beside each, costs, records, history, method."""

from __future__ import annotations

from ohmsworth.advice.care import LEAVE
from ohmsworth.report.care.care_answer import CareAnswer, ChangeAnswer
from ohmsworth.report.care.care_figures import (
    changes_figure,
    costs_figure,
    trend_figure,
    way_words,
)
from ohmsworth.report.care.care_sentences import (
    care_findings,
    change_note,
    doing,
    maker_words,
    money,
    yearly_words,
)
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section, Table, Tone
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.words import capital, times
from ohmsworth.units import show, show_percent


def care_report(answer: CareAnswer) -> Document:
    """The whole report."""
    sections = [
        Section("What to do", (*_lead(answer), costs_figure(answer))),
        Section("Step by step", (_maker(answer), *step_blocks(answer.actions)), own_page=True),
        Section("What each way costs", (_costs(answer), *_switches(answer))),
    ]
    if answer.helps or answer.changes:
        sections.append(Section("What the records say of each remedy", _records(answer)))
    if answer.trend is not None:
        sections.append(
            Section(
                "Its own history",
                (trend_figure(answer.trend, answer.limit.resistance, answer.coverage), _history(answer)),
            )
        )
    if answer.warnings:
        sections.append(Section("Warnings about the readings", (_warnings(answer),)))
    sections.append(Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))))
    footer = "Made with Ohmsworth. The instructions of the connector's maker prevail over this advice."
    return Document(answer.subject, f"Care, asked on {answer.asked_on}", "en", footer, tuple(sections))


def care_summary(answer: CareAnswer) -> Document:
    """What fits a terminal."""
    sections = (
        Section("What to do", _lead(answer)),
        Section("Step by step", step_blocks(answer.actions)),
        Section("What each way costs", (_costs(answer),)),
    )
    return Document(answer.subject, "", "en", "", sections)


def _lead(answer: CareAnswer) -> tuple[Block, ...]:
    tone: Tone = "good" if answer.advice == LEAVE else "mixed"
    return (
        Headline(answer.sentence, tone),
        _maker(answer),
        Bullets(care_findings(answer)),
    )


def _maker(answer: CareAnswer) -> Paragraph:
    return Paragraph(maker_words(answer), "plain" if answer.maker.stated else "warning")


def _costs(answer: CareAnswer) -> Table:
    def told(value: float) -> str:
        return money(value, "")

    rows = tuple(
        (
            capital(doing(o.name)),
            way_words(o.then),
            told(o.cost),
            told(o.low) if told(o.low) == told(o.high) else f"{told(o.low)} to {told(o.high)}",
            told(o.labour + o.material),
            show_percent(o.chance_bad),
            "–" if o.pays_above is None else show_percent(o.pays_above),
        )
        for o in answer.options
    )
    header = (
        "begin with",
        "then, while it still matters",
        "expected cost",
        "interval",
        "of it now",
        "still bad at the end",
        "pays above",
    )
    unit = f"Costs in {answer.currency}. " if answer.currency else "Costs in the shop's money. "
    note = f"{unit}Pays above: the chance that it matters from which this costs less than leaving it."
    return table("Ways to begin, the cheapest first", header, rows, (2, 3, 4, 5, 6), note)


def _switches(answer: CareAnswer) -> tuple[Block, ...]:
    words = tuple(switch.words for switch in answer.switches)
    if not words:
        return (
            Paragraph(
                "No single price within half and twice of itself, and no chance within what is known of it, changes the advice."
            ),
        )
    return (Paragraph("What would change the advice:"), Bullets(words))


def _records(answer: CareAnswer) -> tuple[Block, ...]:
    blocks: list[Block] = []
    figure = changes_figure(answer)
    if figure is not None:
        blocks.append(figure)
    if answer.changes:
        header = (
            "remedy",
            "contacts",
            "jobs",
            "after over before",
            "chance of as much by luck",
            "typical after",
            "no path",
        )
        rows = tuple(_change(one) for one in answer.changes)
        note = "By luck: the exact test of no change, by turning the signs of the contacts' own changes."
        blocks.append(table("The same contacts before and after", header, rows, (1, 2, 4, 5, 6), note))
    helps = tuple(
        (
            doing(one.name),
            show_percent(one.first_guess),
            f"{one.good} of {one.cases}" if one.cases else "none",
            str(one.not_counted),
            show_percent(one.chance),
            f"{show_percent(one.low)} to {show_percent(one.high)}",
        )
        for one in answer.helps
    )
    titles = (
        "remedy",
        "first guess",
        "left good, of those that mattered",
        "not counted",
        "chance to help",
        "interval",
    )
    note = "Not counted: contacts that were within the limit before. The first guess is worth two cases (common practice)."
    if helps:
        blocks.append(table("How often each remedy helps", titles, helps, (1, 2, 3, 4, 5), note))
    return tuple(blocks)


def _change(one: ChangeAnswer) -> tuple[str, ...]:
    what = "left alone" if one.name == LEAVE else doing(one.name)
    return (
        what,
        str(one.contacts),
        str(one.jobs),
        times(one.ratio, one.low, one.high),
        change_note(one),
        show(one.after, "Ω"),
        str(one.no_path),
    )


def _history(answer: CareAnswer) -> Table:
    assert answer.trend is not None
    rows = tuple(
        (one.day, show(one.resistance, "Ω"), "yes" if one.counted else "no: before the last treatment")
        for one in answer.trend.readings
    )
    return table("Readings", ("day", "resistance", "in the line"), rows, (1,), yearly_words(answer.trend))


def _warnings(answer: CareAnswer) -> Table:
    rows = tuple(
        (
            w.code,
            ", ".join(map(str, w.rows[:12])) or "all",
            w.words + (" Left out." if w.set_aside else ""),
            w.what_to_do,
        )
        for w in answer.warnings
    )
    return table("Warnings", ("code", "lines", "what is doubtful", "what to do"), rows)
