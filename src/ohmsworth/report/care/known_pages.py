"""The report about what several studies know: the sentence, the picture of all studies, each left out in turn, the method."""

from __future__ import annotations

from ohmsworth.report.answer import Interval
from ohmsworth.report.care.known_answer import KnownAnswer, StudyKnown
from ohmsworth.report.care.known_sentences import known_findings
from ohmsworth.report.document import (
    Axis,
    Block,
    Bullets,
    Document,
    Headline,
    IntervalFigure,
    IntervalMark,
    Section,
    Table,
)
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.words import count, in_quotes, times


def known_report(answer: KnownAnswer) -> Document:
    """The whole report."""
    sections = [Section("What is known", (*_lead(answer), studies_figure(answer)))]
    sections.append(Section("Study by study", (_studies(answer),)))
    if answer.without:
        sections.append(Section("Each study left out in turn", (without_figure(answer), _without(answer))))
    sections.append(Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))))
    return Document(_title(answer), "What several studies know together", "en", _FOOTER, tuple(sections))


#: Of a study without which the conclusion changes.
_DECIDES = "decides"
_FOOTER = "Made with Ohmsworth; a new lot is one like those studied."


def known_summary(answer: KnownAnswer) -> Document:
    """What fits a terminal."""
    blocks = (*_lead(answer), _studies(answer))
    return Document(_title(answer), "", "en", "", (Section("What is known", blocks),))


def _title(answer: KnownAnswer) -> str:
    return f"{in_quotes(answer.of)} against {in_quotes(answer.against)}"


def _lead(answer: KnownAnswer) -> tuple[Block, ...]:
    return Headline(answer.sentence, "plain"), Bullets(known_findings(answer))


def studies_figure(answer: KnownAnswer) -> IntervalFigure:
    """A dot with its interval for each study, all together, and a new lot."""
    deciding = {one.name for one in answer.without if one.decides}
    marks = [
        _mark("each study", f"{one.name}, {100 * one.weight:.0f} %", one.ratio,
              _DECIDES if one.name in deciding else "")
        for one in answer.studies
    ]  # fmt: skip
    if answer.next_lot is not None:
        marks.append(_mark("together", "all studies", answer.together, _way(answer.together)))
        marks.append(_mark("together", "a new lot", answer.next_lot, ""))
    told = "; ".join(f"{mark.label}: {times(mark.value, mark.low, mark.high)}" for mark in marks)
    return IntervalFigure(
        "known-studies",
        f"Resistance when {in_quotes(answer.of)} over that when {in_quotes(answer.against)}. {told}.",
        f"Each study with its {100 * answer.coverage:g} % interval and its share of the weight, what they say together, and "
        "where a new lot would lie; at the line, 1, nothing differs.",
        Axis(f"resistance when {in_quotes(answer.of)} over that when {in_quotes(answer.against)}", "", True),
        tuple(marks),
        1.0,
    )


def without_figure(answer: KnownAnswer) -> IntervalFigure:
    """All together without each study in turn."""
    marks = [_mark("together", "all studies", answer.together, _way(answer.together))]
    marks += [
        _mark("without", one.name, one.ratio, _DECIDES if one.decides else "") for one in answer.without
    ]
    told = [mark.label for mark in marks if mark.flag == _DECIDES]
    return IntervalFigure(
        "known-without",
        f"The common ratio without each study in turn. The conclusion changes without: {', '.join(told) or 'none'}.",
        "What the others say when one study is left out. An interval that comes to the line, 1, where that of all does not, or "
        "the other way round, changes the conclusion.",
        Axis(f"resistance when {in_quotes(answer.of)} over that when {in_quotes(answer.against)}", "", True),
        tuple(marks),
        1.0,
    )


def _way(ratio: Interval) -> str:
    if ratio.low is None or ratio.high is None:
        return ""
    return "higher" if ratio.low > 1 else "lower" if ratio.high < 1 else ""


def _mark(group: str, label: str, ratio: Interval, flag: str) -> IntervalMark:
    value = ratio.value or 1.0
    low, high = (value if end is None else end for end in (ratio.low, ratio.high))
    return IntervalMark(group, label, value, low, high, flag)


def _studies(answer: KnownAnswer) -> Table:
    rows = [_row(one) for one in answer.studies]
    if answer.next_lot is not None:
        rows.append(("together", "", _told(answer.together), "100 %"))
        rows.append(("a new lot", "", _told(answer.next_lot), ""))
    header = ("study", "specimens", "ratio", "weight")
    note = f"Ratio: {in_quotes(answer.of)} over {in_quotes(answer.against)}, with its {100 * answer.coverage:g} % interval."
    return table("Studies", header, tuple(rows), (2, 3), note)


def _row(one: StudyKnown) -> tuple[str, ...]:
    apart = f"{one.specimens[0]} and {count(one.specimens[1], 'other')}"
    specimens = f"{one.pairs} under both" if one.pairs else apart
    return (one.name, specimens, _told(one.ratio), f"{100 * one.weight:.0f} %")


def _without(answer: KnownAnswer) -> Table:
    rows = tuple(
        (one.name, _told(one.ratio), "changes" if one.decides else "stays") for one in answer.without
    )
    return table("Left out", ("study left out", "ratio of the others", "conclusion"), rows, (1,))


def _told(ratio: Interval) -> str:
    return times(ratio.value, ratio.low, ratio.high)
