"""The pictures of a lot: how often its plan accepts, the pieces against the limit, what a guard band trades."""

from __future__ import annotations

from ohmsworth.inference.conformity import WITHIN
from ohmsworth.report.document import Axis, Dot, EvidenceFigure, Line, LineFigure, PointMark
from ohmsworth.report.lot_answer import LotAnswer
from ohmsworth.report.lot_sentences import in_hundred, share_words
from ohmsworth.report.words import count
from ohmsworth.units import show_stated


def operating_figure(answer: LotAnswer) -> LineFigure:
    """The operating-characteristic curve with the two shares that were asked for."""
    share = tuple(100 * p.share for p in answer.curve)
    lines = [Line("this plan", share, tuple(100 * p.accepted for p in answer.curve))]
    if answer.published is not None:
        beside = tuple(100 * (p.accepted_published or 0.0) for p in answer.curve)
        lines.append(Line(f"published table, {share_words(answer.published.limit)}", share, beside))
    plan = answer.plan
    assert plan is not None
    ends = ((answer.acceptable, plan.accepts_acceptable), (answer.rejectable, plan.accepts_rejectable))
    told = [f"{share_words(p)} over: accepted {in_hundred(a)}" for p, a in ends]
    marks = tuple(PointMark(words, 100 * p, 100 * a) for words, (p, a) in zip(told, ends, strict=True))
    return LineFigure(
        "lot-curve",
        f"The worse the lot, the less often it is accepted. {'; '.join(told)}.",
        "How often the plan accepts a lot, by how much of it is over the limit.",
        Axis("share of the lot that is over the limit", "%"),
        Axis("chance that the lot is accepted", "%"),
        tuple(lines),
        marks,
    )


def pieces_figure(answer: LotAnswer) -> EvidenceFigure:
    """Every piece as a dot, those over the limit or too close to it told apart by shape."""
    dots = tuple(
        Dot("the sample", s.id, s.resistance, "" if s.verdict == WITHIN else s.verdict or "")
        for s in answer.specimens
    )
    found, limit = answer.measured, show_stated(answer.limit.resistance, "Ω")
    words = f"{count(len(dots), 'piece')}"
    if found is not None:
        words += f": {found.within} within {limit}, {found.over} over, {found.close} too close to call"
    return EvidenceFigure(
        "lot-pieces",
        f"{words}.",
        f"Each dot is one piece, by its worst contact; the line is the limit, {limit}.",
        answer.scale == "log",
        dots,
        (),
        (),
        answer.limit.resistance,
    )


def guard_figure(answer: LotAnswer) -> LineFigure:
    """Bad ones passed and good ones held back over the width of the guard band, in a thousand."""
    guard = tuple(p.guard for p in answer.guard_curve)
    passed = Line("bad ones passed", guard, tuple(1000 * p.consumer for p in answer.guard_curve))
    held = Line("good ones held back", guard, tuple(1000 * p.producer for p in answer.guard_curve))
    used = next((r for r in answer.piece_risks if r.chosen), None)
    marks = () if used is None else (PointMark(f"in use: {used.policy}", used.guard, 1000 * used.producer),)
    ends = answer.guard_curve[0], answer.guard_curve[-1]
    told = [
        f"with {p.guard:.1f} u, {1000 * p.consumer:.2g} bad ones passed and {1000 * p.producer:.2g} good ones held back"
        for p in ends
    ]
    return LineFigure(
        "lot-guard",
        f"In a thousand pieces: {'; '.join(told)}.",
        "If every piece were sorted by its reading: what a wider guard band saves the buyer and costs the seller.",
        Axis("guard band, in standard uncertainties of one piece"),
        Axis("of 1000 pieces like these"),
        (held, passed),
        marks,
    )
