"""Leaning on past studies, in words, as a table and as a picture: from how many, whether they fitted, what it changed."""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.history import WHOLE
from ohmsworth.readings.table import Array
from ohmsworth.report.answer import Answer, HistoryAnswer, Interval, LeantAnswer
from ohmsworth.report.document import Axis, Block, Bullets, Line, LineFigure, Paragraph, PointMark, Table
from ohmsworth.report.words import count, in_quotes, listed
from ohmsworth.units import decimals_for, show, show_interval, show_percent

#: Widths nearer to each other than this are told as alike.
_ALIKE = 0.03
#: Of a curve's height, below which nothing of it is drawn.
_SEEN = 0.01


def history_lead(answer: Answer) -> str:
    """That the answer leans on past studies, from how many, and whether they fit; "" where the study names none."""
    history = answer.history
    if history is None:
        return ""
    if not history.studies:
        return "The past studies named have no scatter between specimens: the answer does not lean on them."
    if not history.estimates:
        return (
            f"The scatter of {_studies(history)} was to be leant on, but says nothing of these readings: "
            "the answer is this study's alone."
        )
    words = [one.word for one in history.estimates]
    weights = sorted({f"{100 * one.weight:.0f} %" for one in history.estimates})
    text = (
        f"The intervals lean on the scatter of {_studies(history)} ({count(history.specimens, 'specimen')}) with a weight of "
        f"{' to '.join(weights)}"
    )
    if set(words) == {"fits"}:
        return f"{text}; it fits what this study shows."
    bad = [_subject(one) for one in history.estimates if one.word == "does not fit"]
    if bad:
        return f"{text}; it does not fit for {listed(bad)}, where this study's own scatter counts instead."
    return f"{text}; this study as a whole scatters otherwise, so that mostly its proportions are used."


def history_sentences(answer: Answer) -> list[str]:
    """The lead, and one sentence an estimate."""
    if answer.history is None:
        return []
    strangers = [in_quotes(name) for name in answer.history.strangers]
    told = [history_lead(answer)]
    if strangers and answer.history.estimates:
        told.append(
            f"No past study has {listed(strangers)}: all conditions of the past studies stand for that."
        )
    return told + [leant_sentence(one, answer) for one in answer.history.estimates]


def leant_sentence(one: LeantAnswer, answer: Answer) -> str:
    """How one estimate leans on past studies, and what it would be without."""
    what = "scatter between specimens" if one.against is None else "standard error"
    found = _size(one.found, answer)
    expected = f"{_size(one.expected.value, answer)} ({_range(one.expected, answer)})"
    fit = {
        "fits": "the history fits",
        "in proportion": "the history fits in its proportions, but this study as a whole scatters otherwise",
        "does not fit": "the history does not fit and counts for little",
    }[one.word]
    before, after = one.weight * WHOLE, one.as_expected
    if one.word == "in proportion":
        before, after = one.weight, one.in_proportion
    who = _subject(one)
    text = (
        f"{who[0].upper()}{who[1:]}: {what} {found}, where past studies expect {expected}; {fit} "
        f"(its probability went from {show_percent(before)} to {show_percent(after)}). Without it the interval would be "
        f"{show_interval(one.alone.low or 0.0, one.alone.high or 0.0, 'Ω')}, {_wider(one.width)}"
    )
    verdict = _verdict(one, answer)
    if one.verdict_alone is not None and verdict is not None and one.verdict_alone != verdict:
        text += f", and the verdict: {one.verdict_alone}"
    return f"{text}."


def history_blocks(answer: Answer, picture: LineFigure | None) -> tuple[Block, ...]:
    """The section about past studies; empty where the study names none."""
    history = answer.history
    if history is None:
        return ()
    names = listed([f"'{name}'" for name in history.studies]) or "none"
    lead = Paragraph(f"{history_lead(answer)} Past studies: {names}.")
    if not history.estimates:
        return (lead,)
    rows = tuple(_row(one, answer) for one in history.estimates)
    header = (
        "estimate",
        "this study",
        "past studies expect",
        "both together",
        "weight",
        "fits",
        "width",
        "word",
    )
    note = (
        "Scatter of one specimen's mean, of a comparison its standard error; ranges of 95 %. Weight: given to the history "
        "beforehand. Fits: probability that the study scatters as past ones did. Width: of the interval, this study's alone "
        "being 1."
    )
    table = Table("Leaning on past studies", header, rows, (1, 2, 3, 4, 5, 6), note)
    return (lead, *([picture] if picture else []), Bullets(tuple(history_sentences(answer)[1:])), table)


def history_picture(one: LeantAnswer, answer: Answer, at: Array, curves: dict[str, Array]) -> LineFigure:
    """What past studies say of the scatter, this study alone, and both: a curve each.

    Parameters
    ----------
    one
        The estimate that is drawn.
    answer
        The answer.
    at
        Scatter on the scale of analysis, evenly spaced in its logarithm.
    curves
        Label -> probability at each.
    """
    heights = {label: curve / curve.sum() for label, curve in curves.items()}
    most = max(float(curve.max()) for curve in heights.values())
    seen = np.flatnonzero(np.max(list(heights.values()), axis=0) > _SEEN * most)
    part = slice(seen[0], seen[-1] + 1)
    relative = answer.scale == "log"
    unit = 100.0 if relative else 1.0
    axis = Axis(
        "scatter of specimens, %" if relative else "scatter of specimens", "" if relative else "Ω", True
    )
    across = tuple((unit * at[part]).tolist())
    lines = tuple(
        Line(label, across, tuple((curve[part] / most).tolist())) for label, curve in heights.items()
    )
    words = (
        f"This study shows {_size(one.found, answer)}; past studies expect {_size(one.expected.value, answer)} "
        f"({_range(one.expected, answer)})."
    )
    return LineFigure(
        "history",
        f"How far specimens of {_subject(one)} scatter, as three curves of how likely each scatter is. {words}",
        f"How far do specimens of {_subject(one)} scatter? {words}",
        axis,
        Axis("how likely"),
        lines,
        (PointMark("found", unit * one.found, 0.0),),
    )  # fmt: skip


def _row(one: LeantAnswer, answer: Answer) -> tuple[str, ...]:
    return (
        _subject(one),
        _size(one.found, answer),
        f"{_size(one.expected.value, answer)} ({_range(one.expected, answer)})",
        f"{_size(one.together.value, answer)} ({_range(one.together, answer)})",
        show_percent(one.weight),
        show_percent(one.as_expected),
        f"{one.width:.2f}",
        one.word,
    )


def _subject(one: LeantAnswer) -> str:
    return in_quotes(one.of) if one.against is None else f"'{one.of}' against '{one.against}'"


def _studies(history: HistoryAnswer) -> str:
    number = len(history.studies)
    return "one past study" if number == 1 else f"{number} past studies"


def _size(value: float | None, answer: Answer) -> str:
    value = value or 0.0
    if answer.scale == "linear":
        return show(value, "Ω", 2)
    decimals = max(decimals_for(100 * value, 2), 0) if value > 0 else 0
    return f"{100 * value:.{decimals}f} %"


def _range(ends: Interval, answer: Answer) -> str:
    return f"{_size(ends.low, answer).removesuffix(' %')} to {_size(ends.high, answer)}"


def _wider(width: float) -> str:
    if abs(width - 1) < _ALIKE:
        return "about as wide"
    if width < 1:
        return f"{1 / width:.1f} times as wide"
    return f"narrower ({100 / width:.0f} % of this width), for this study's few specimens happen to lie close together"


def _verdict(one: LeantAnswer, answer: Answer) -> str | None:
    if one.against is None:
        return next((c.verdict for c in answer.conditions if c.condition == one.of), None)
    return next((c.verdict for c in answer.comparisons if (c.of, c.against) == (one.of, one.against)), None)
