"""The report as a document: the customer's page first, then the evidence, the budget, the method."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.readings.home import FOLDER, Home, counted_as, row_numbers, rows_called, to_ask
from ohmsworth.report.against_limit import these_and_kind, verdict_word
from ohmsworth.report.answer import MOVING, Answer, ComparisonAnswer, Interval, SpecimenAnswer
from ohmsworth.report.document import (
    Block,
    Bullets,
    ChartFigure,
    Document,
    EvidenceFigure,
    Headline,
    IntervalFigure,
    LadderFigure,
    LineFigure,
    Paragraph,
    Section,
    ShareFigure,
    Subheading,
    Table,
)
from ohmsworth.report.factors import factor_blocks, factor_sentences
from ohmsworth.report.figures import side_by_side
from ohmsworth.report.frequencies_pages import frequency_blocks, frequency_summary
from ohmsworth.report.heading import heading
from ohmsworth.report.history import history_blocks, history_lead
from ohmsworth.report.ladder import ladder_table
from ohmsworth.report.particulars import METHOD
from ohmsworth.report.parts import part_header, part_note, part_rows, part_sentences
from ohmsworth.report.plating_pages import plating_blocks
from ohmsworth.report.reach_figures import BOUNDLESS, margin_figure, next_figure
from ohmsworth.report.sensitivity import HEADER, sensitivity_rows, sensitivity_sentences
from ohmsworth.report.sentences import (
    bench_in_doubt,
    bench_note,
    bench_sentence,
    length_sentence,
    margin_words,
)
from ohmsworth.report.states import moving_conditions
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.use_pages import use_blocks
from ohmsworth.report.words import count, estimate, in_quotes, listed, natural, p_value, times, typical
from ohmsworth.units import show, show_interval, show_percent, show_pm

#: A longer table of specimens belongs in the JSON, not on paper.
MOST_ROWS = 60
#: More steps than this do not fit the first page.
_MOST_STEPS = 8


def report(
    answer: Answer,
    ladder: LadderFigure,
    evidence: EvidenceFigure,
    shares: ShareFigure | None,
    checks: tuple[ChartFigure, ...] = (),
    parts: IntervalFigure | None = None,
    history: LineFigure | None = None,
    plating: str | None = None,
    kept: Mapping[int, str] | None = None,
    home: Home = FOLDER,
) -> Document:
    """The whole report.

    `checks` are the charts of the check standard, `plating` is what the study says of the contacts, `kept` why the owner keeps
    readings in spite of a doubt, by their line, and `home` where the study is kept.
    """
    bench = (Section("Was the bench as it was", _bench(answer, checks, home)),) if answer.bench else ()
    past = history_blocks(answer, history)
    return Document(
        title=answer.question,
        subtitle="What a milliohm is worth: contact resistance and what it does",
        language="en",
        footer="Made with Ohmsworth from the readings of this study; every number carries its uncertainty.",
        sections=(
            Section("The answer", _first_page(answer, ladder)),
            Section("The evidence", _evidence(answer, evidence, parts), own_page=True),
            *bench,
            *_frequencies(answer),
            Section("What it does in the circuit", _circuit(answer, ladder, home)),
            Section("Where the uncertainty comes from", _budget(answer, shares)),
            *([Section("What past studies lend", past)] if past else []),
            *([Section("About the plating", plating_blocks(plating))] if plating else []),
            Section("Warnings about the readings", _warnings(answer, home, kept or {})),
            Section(METHOD, _method(answer, home)),
        ),
    )


def _frequencies(answer: Answer) -> tuple[Section, ...]:
    found = answer.frequencies
    if found is None:
        return ()
    return (Section("Over frequency", frequency_blocks(found, answer.coverage, answer.limit)),)


def _first_page(answer: Answer, ladder: LadderFigure) -> tuple[Block, ...]:
    verdict, tone = heading(answer)
    blocks: list[Block] = [Headline(answer.sentence, tone, verdict)]
    beside = [length_sentence(answer)]
    if answer.bench is not None and not bench_in_doubt(answer.bench):
        beside.append(bench_note(answer.bench))
    if any(beside):
        blocks.append(Paragraph(" ".join(text for text in beside if text)))
    leaning = history_lead(answer)
    blocks += [Paragraph(leaning)] if leaning else []
    blocks.append(ladder)
    steps = step_blocks(answer.actions, once=True, most=_MOST_STEPS)
    return (*blocks, Subheading("What to do"), *steps)


def _bench(answer: Answer, checks: tuple[ChartFigure, ...], home: Home) -> tuple[Block, ...]:
    """What the check standard says, with its charts."""
    if answer.bench is None:
        return ()
    who = "Bench fitness" if home.kept else "'ohmsworth fitness'"
    more = "" if checks else f" {who} draws its charts once there are enough."
    return (Paragraph(bench_sentence(answer.bench) + more), *checks)


def _evidence(answer: Answer, evidence: EvidenceFigure, parts: IntervalFigure | None) -> tuple[Block, ...]:
    blocks: list[Block] = [Bullets(answer.findings), evidence, _conditions_table(answer)]
    blocks += [_limit_table(answer)] if answer.limit is not None else []
    following, margin = next_figure(answer), margin_figure(answer)
    blocks += [] if following is None else [following]
    blocks += [] if margin is None else [margin]
    if answer.comparisons:
        blocks.append(_comparisons_table(answer))
    blocks += factor_blocks(answer)
    if answer.sensitivity:
        blocks.append(table("Without one of them", HEADER, sensitivity_rows(answer)))
    if parts is not None:
        blocks.append(parts)
    if answer.parts:
        rows = part_rows(answer)
        blocks.append(table("Plugs and sockets", part_header(answer), rows, (2, 3, 4, 5), part_note(answer)))
    blocks.append(_specimens_table(answer))
    if answer.scatter:
        blocks.append(_scatter_table(answer))
    return tuple(blocks)


def summary(answer: Answer, ladder: LadderFigure, home: Home = FOLDER) -> Document:
    """What fits a terminal: the answer, the conditions, what to do, and the doubts."""
    blocks: list[Block] = [*_first_page(answer, ladder), _conditions_table(answer)]
    blocks += [_limit_table(answer)] if answer.limit is not None else []
    if answer.comparisons:
        blocks.append(_comparisons_table(answer))
    if answer.factors:
        blocks += [Subheading("Factor by factor"), Bullets(factor_sentences(answer))]
    single = [*sensitivity_sentences(answer), *part_sentences(answer)]
    if single:
        blocks += [Subheading("Single specimens and parts"), Bullets(tuple(single))]
    if answer.frequencies is not None:
        blocks += frequency_summary(answer.frequencies, answer.coverage)
    sections = [Section("The answer", tuple(blocks))]
    if answer.warnings:
        sections.append(Section("Warnings about the readings", _warnings(answer, home, {})))
    return Document(answer.question, "", "en", "", tuple(sections))


def _conditions_table(answer: Answer) -> Table:
    limited = answer.limit is not None
    header = [
        "condition",
        "specimens",
        "resistances",
        typical(answer.conditions[0].statistic, ""),
        f"{_percent(answer)} interval",
    ]
    header += ["95 % of next matings below"] + (["next one over limit"] if limited else [])
    rows = []
    for c in side_by_side(answer):
        row = [c.condition, str(c.specimens), str(c.readings), show(c.resistance, "Ω")]
        row.append("not known" if c.low is None or c.high is None else show_interval(c.low, c.high, "Ω"))
        row.append("–" if c.tolerance_bound is None else _bound(c.tolerance_bound, c.resistance))
        if limited:
            over = c.probability_next_over
            row += ["–" if over is None else show_percent(over)]
        rows.append(tuple(row))
    note = ""
    if moving := [in_quotes(c.condition) for c in moving_conditions(answer)]:
        note += f" {MOVING.capitalize()}: {listed(moving)}, with an average and no resistance, judged by lowest readings alone."
    return table("Conditions", tuple(header), tuple(rows), (1, 2, 3, 4, 5, 6), note.strip())


def _limit_table(answer: Answer) -> Table:
    """Of each condition the verdicts on the specimens measured, and that on their kind."""
    statistic = answer.conditions[0].statistic
    note = (
        f"Of a kind the {typical(statistic)} is judged against the limit, one-sided; its interval above is two-sided and may "
        "reach across the limit beside a verdict."
    )
    rows = tuple((c.condition, *these_and_kind(c, answer)) for c in side_by_side(answer))
    return table(
        "Against the limit", ("condition", "specimens measured", "others of their kind"), rows, note=note
    )


def _bound(bound: float, value: float) -> str:
    """A bound hundreds of times the value says only that there were too few specimens to have one."""
    return show(bound, "Ω", 2) if bound < BOUNDLESS * abs(value) else "too few specimens"


def _percent(answer: Answer) -> str:
    return f"{100 * answer.coverage:g} %"


def _exact(found: ComparisonAnswer) -> str:
    """The exact p-value, and the smallest that so few specimens can give."""
    if found.exact_p_value is None or found.smallest_exact_p_value is None:
        return p_value(found.exact_p_value)
    return f"{p_value(found.exact_p_value)} (at least {p_value(found.smallest_exact_p_value)})"


def _comparisons_table(answer: Answer) -> Table:
    rows = []
    for c in answer.comparisons:
        d = c.difference
        rows.append(
            (
                f"{c.of} against {c.against}",
                ("the same" if answer.factors else "before and after") if c.paired else "separate",
                estimate(d.value or 0.0, d.low, d.high),
                _ratio(c.ratio),
                p_value(c.p_value),
                _exact(c),
                c.verdict,
            )
        )
    notes = [f"What would matter: {margin_words(answer.margin)}."] if answer.margin else []
    if moving_conditions(answer):
        notes.append(
            "Differences from what is still moving are differences of averages, and judged by none of them."
        )
    several = len({c.against for c in answer.comparisons}) > 1
    joint = [
        f"{c.of}{f' against {c.against}' if several else ''} {_ratio(c.ratio_together)}"
        for c in answer.comparisons
        if c.ratio_together
    ]
    if joint:
        notes.append(
            f"Ratios that hold together, all {len(joint)} at {_percent(answer)}: {'; '.join(joint)}."
        )
    notes.append(
        "By chance (p): in what share of such studies chance alone would make a difference as large. Counted out (exact p): the "
        "same, found by exchanging the specimens in every way, and the least that so few specimens can give."
    )
    header = (
        "comparison",
        "specimens",
        "difference",
        "ratio",
        "by chance (p)",
        "counted out (exact p)",
        "verdict",
    )
    return table("Comparisons", header, tuple(rows), (4, 5), " ".join(notes))


def _ratio(ratio: Interval) -> str:
    if ratio.low is None:
        return "not known"
    return times(ratio.value, ratio.low, ratio.high).replace(" times", "")


def _specimens_table(answer: Answer) -> Table:
    urgent = sorted(answer.specimens, key=_urgency)[:MOST_ROWS]
    place = {c.condition: i for i, c in enumerate(side_by_side(answer))}
    shown = sorted(urgent, key=lambda s: (place[s.condition], natural(s.id)))
    rows = [_specimen_row(s) for s in shown]
    left = len(answer.specimens) - len(rows)
    note = "± is one standard uncertainty: in about two of three cases the resistance lies within it."
    if left:
        note += f" {count(left, 'more specimen')} in the answer's data (JSON); those over or nearest the limit are shown."
    header = (
        "specimen",
        "condition",
        "resistances",
        "resistance ± standard uncertainty",
        "within limit",
        "verdict",
        "state",
    )
    return table("Specimens", header, tuple(rows), (2, 3, 4), note)


def _urgency(specimen: SpecimenAnswer) -> float:
    return specimen.probability_within if specimen.probability_within is not None else -specimen.resistance


def _specimen_row(s: SpecimenAnswer) -> tuple[str, ...]:
    u = s.standard_uncertainty
    return (
        s.id,
        s.condition,
        str(s.readings),
        f"{show(s.resistance, 'Ω')} ± not known" if u is None else show_pm(s.resistance, u, "Ω"),
        "–" if s.probability_within is None else show_percent(s.probability_within),
        verdict_word(s) if s.verdict else "–",
        s.state,
    )


def _scatter_table(answer: Answer) -> Table:
    relative = answer.scale == "log"
    rows = [
        (
            s.level + (f" (with {' and '.join(s.merged)})" if s.merged else ""),
            s.condition or "all alike",
            str(s.groups),
            f"{float(f'{100 * s.standard_deviation:.2g}'):g} %"
            if relative
            else show(s.standard_deviation, "Ω", 2),
        )
        for s in answer.scatter
    ]
    note = "How far single ones usually lie from their middle (standard deviation)."
    if relative:
        note = "How far single ones usually lie from their middle, relative to it (standard deviation of the natural logarithm)."
    if any(s.level.startswith("response") for s in answer.scatter):
        note += " Response: how differently the specimens take the change of condition."
    header = ("from one to the next", "condition", "groups", "spread (standard deviation)")
    return table("Scatter", header, tuple(rows), (2, 3), note.strip())


def _circuit(answer: Answer, ladder: LadderFigure, home: Home) -> tuple[Block, ...]:
    blocks: list[Block] = [ladder_table(ladder)] if answer.uses else []
    for use in answer.uses:
        blocks += use_blocks(use)
    if not answer.uses:
        asked = to_ask(home, "add [[use]]", "choose one")
        blocks.append(Paragraph(f"The study names no use; {asked} to see what the contacts do in one."))
    blocks.append(_lengths_table(answer))
    return tuple(blocks)


def _lengths_table(answer: Answer) -> Table:
    rows = [
        (
            e.subject,
            e.conductor,
            estimate(e.length.value or 0.0, e.length.low, e.length.high, "m"),
        )
        for e in answer.equivalent_length
    ]
    return table("As a length of wire", ("resistance of", "conductor", "length"), tuple(rows), (2,))


def _budget(answer: Answer, shares: ShareFigure | None) -> tuple[Block, ...]:
    if shares is None:
        return (
            Paragraph("Nothing is known about the uncertainty: no repeated readings and no stated meters."),
        )
    rows = tuple(
        (line.source, show(line.contribution, "Ω", 2), _share(line.share), line.reduce_by)
        for line in answer.budget
    )
    header = ("source", "adds (standard uncertainty)", "share", "what would reduce it")
    return (shares, table(f"Budget of {in_quotes(answer.budget_of)}", header, rows, (1, 2)))


def _share(share: float) -> str:
    return f"{100 * share:.1f} %" if share >= 0.0005 else "under 0.1 %"


def _warnings(answer: Answer, home: Home, kept: Mapping[int, str]) -> tuple[Block, ...]:
    """Every doubt; `kept` is why the owner keeps readings, by their line."""
    if not answer.warnings:
        return (Paragraph("No reading is in doubt."),)
    rows = []
    for w in answer.warnings:
        words = f"{w.words} Left out of the answer." if w.set_aside else w.words
        reasons = dict.fromkeys(kept[row] for row in w.rows if kept.get(row) and w.what_to_do == "Nothing.")
        words += "".join(f" Reason: {why.rstrip('.')}." for why in reasons)
        rows.append((w.code, row_numbers(home, w.rows), words, w.what_to_do))
    header = ("code", rows_called(home), "what is doubtful", "what to do")
    told = table("Warnings", header, tuple(rows))
    return (replace(told, of_readings=1 if home.kept and home.row_word == "reading" else None),)


def _method(answer: Answer, home: Home) -> tuple[Block, ...]:
    used = f"{answer.rows_used} of {answer.rows} {counted_as(home)} gave {answer.resistances} resistances."
    return (Paragraph(used), Bullets(answer.method), sources_table(answer.sources))
