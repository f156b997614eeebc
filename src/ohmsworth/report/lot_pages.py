"""A lot's report: the verdict or the plan first, its curve, the pieces, what guard bands do, the method."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.inference.conformity import OPEN, OVER, WITHIN
from ohmsworth.inference.lots.verdicts import ACCEPT, NOT_YET, REJECT
from ohmsworth.readings.home import FOLDER, Home, row_numbers, rows_called
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section, Table, Tone
from ohmsworth.report.lot_answer import LotAnswer, LotPlanAnswer
from ohmsworth.report.lot_figures import guard_figure, operating_figure, pieces_figure
from ohmsworth.report.lot_sentences import in_hundred, lot_words, share_words
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.words import natural
from ohmsworth.units import show, show_percent, show_pm, show_stated

_TONES: dict[str, Tone] = {ACCEPT: "good", REJECT: "bad", NOT_YET: "open"}
_RANK = {OVER: 0, OPEN: 1, WITHIN: 2}
#: A longer table of pieces belongs in the JSON, not on paper.
MOST_ROWS, MOST_TOLD = 60, 12


def lot_report(answer: LotAnswer, home: Home = FOLDER) -> Document:
    """The whole report; `home` is where the study is kept."""
    sections = [Section("The lot", _first_page(answer))]
    if answer.specimens:
        sections.append(Section("The pieces measured", _pieces(answer), own_page=True))
    if answer.warnings:
        sections.append(Section("Warnings about the readings", (_warnings(answer, home),)))
    sections.append(Section("The plan beside others", (_plans(answer),), own_page=not answer.specimens))
    sections.append(Section("Method and sources", _method(answer)))
    return Document(
        answer.question,
        "A sampling plan and what it says of the lot" if answer.measured else "A sampling plan",
        "en",
        "Made with Ohmsworth; a plan speaks of the lot that its sample was drawn from at random.",
        tuple(sections),
    )


def lot_summary(answer: LotAnswer) -> Document:
    """What fits a terminal."""
    sections = [Section("The lot", _first_page(answer))]
    if answer.specimens:
        sections.append(Section("The pieces measured", _pieces(answer, MOST_TOLD)))
    if answer.warnings:
        sections.append(Section("Warnings about the readings", (_warnings(answer, FOLDER),)))
    return Document(answer.question, "", "en", "", tuple(sections))


def _first_page(answer: LotAnswer) -> tuple[Block, ...]:
    verdict = answer.verdict or ("no more lots" if answer.inspection == "discontinued" else "")
    tone: Tone = _TONES[answer.verdict] if answer.verdict else "bad" if verdict else "plain"
    blocks: list[Block] = [
        Headline(answer.sentence, tone, verdict),
        Bullets(answer.findings),
        operating_figure(answer),
    ]
    return (*blocks, Paragraph("What to do:"), *step_blocks(answer.actions, once=True))


def _pieces(answer: LotAnswer, most: int = MOST_ROWS) -> tuple[Block, ...]:
    ranked = sorted(answer.specimens, key=lambda s: (_RANK[s.verdict or OPEN], -s.resistance))[:most]
    if len(answer.specimens) <= most:
        ranked.sort(key=lambda s: natural(s.id))
    rows = tuple(
        (
            s.id,
            str(s.readings),
            f"{show(s.resistance, 'Ω')} ± not known"
            if s.standard_uncertainty is None
            else show_pm(s.resistance, s.standard_uncertainty, "Ω"),
            "–" if s.probability_within is None else show_percent(s.probability_within),
            s.verdict or OPEN,
        )
        for s in ranked
    )
    left = len(answer.specimens) - len(rows)
    note = f"The worst first; {left} more in the answer's data (JSON)." if left else ""
    header = ("piece", "resistances", "resistance ± standard uncertainty", "within limit", "verdict")
    figures: list[Block] = [pieces_figure(answer)] if most == MOST_ROWS else []
    if answer.guard_curve and most == MOST_ROWS:
        figures.append(guard_figure(answer))
    risks = [_risks(answer)] if answer.piece_risks else []
    return (*figures, *risks, Table("Pieces", header, rows, (1, 2, 3), note))


def _risks(answer: LotAnswer) -> Table:
    """What each guard band does when pieces like these are passed one by one."""
    rows = tuple(
        (
            r.policy + (" (in use)" if r.chosen else ""),
            f"up to {show(r.passed_up_to, 'Ω')}",
            _in_thousand(r.consumer),
            _in_thousand(r.producer),
        )
        for r in answer.piece_risks
    )
    header = ("guard band", "passes readings", "bad ones passed", "good ones held back")
    limit = show_stated(answer.limit.resistance, "Ω")
    note = f"Of 1000 pieces like these, each judged by itself against {limit}. A wider guard band trades one for the other."
    return Table("If you sorted every piece by its reading", header, rows, (1, 2, 3), note)


def _in_thousand(risk: float) -> str:
    number = 1000 * risk
    if number < 0.01:
        return "under 0.01"
    return f"{number:.0f}" if number >= 10 else f"{number:.1f}" if number >= 1 else f"{number:.2f}"


def _plans(answer: LotAnswer) -> Table:
    plans = [answer.plan, *answer.others] if answer.plan else list(answer.others)
    rows = [(_kind(p, i == 0), *_numbers(p)) for i, p in enumerate(plans)]
    published = answer.published
    if published is not None:
        rows.append(
            (
                f"published table, quality limit {share_words(published.limit)}",
                str(published.sample),
                f"at most {published.accepted} over",
                "–",
                in_hundred(published.accepts_acceptable),
                in_hundred(published.accepts_rejectable),
            )
        )
    header = (
        "plan",
        "draw",
        "accept when",
        "drawn on average",
        f"accepts {share_words(answer.acceptable)} over",
        f"accepts {share_words(answer.rejectable)} over",
    )
    note = f"For {lot_words(answer)}, {answer.inspection} inspection; on average: from a lot with the acceptable share."
    return Table("Plans", header, tuple(rows), (1, 3, 4, 5), note)


def _kind(plan: LotPlanAnswer, mine: bool) -> str:
    told = {"single": "count, one sample", "double": "count, two samples", "variables": "measure (s-method)"}
    return told[plan.kind] + (" (in use)" if mine else "")


def _numbers(plan: LotPlanAnswer) -> tuple[str, ...]:
    ends = in_hundred(plan.accepts_acceptable), in_hundred(plan.accepts_rejectable)
    drawn = f"{plan.drawn_on_average:.0f}"
    if plan.k is not None:
        return (str(plan.sample), f"distance at least {plan.k:.3f}", drawn, *ends)
    if plan.second is None:
        return (str(plan.sample), f"at most {plan.accepted} over", drawn, *ends)
    rule = (
        f"at most {plan.accepted} over, or at most {plan.accepted_both} in both; reject from {plan.rejected}"
    )
    return (f"{plan.sample} + {plan.second}", rule, drawn, *ends)


def _warnings(answer: LotAnswer, home: Home) -> Table:
    rows = tuple(
        (w.code, row_numbers(home, w.rows), w.words + (" Left out." if w.set_aside else ""), w.what_to_do)
        for w in answer.warnings
    )
    told = Table("Warnings", ("code", rows_called(home), "what is doubtful", "what to do"), rows)
    return replace(told, of_readings=1 if home.kept else None)


def _method(answer: LotAnswer) -> tuple[Block, ...]:
    rows = tuple((s.citation, s.standing) for s in answer.sources)
    note = "Standing: published text, from memory, or common practice."
    return (Bullets(answer.method), Table("Sources", ("source", "standing"), rows, note=note))
