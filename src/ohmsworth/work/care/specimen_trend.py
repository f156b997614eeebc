"""Where a specimen of the records is going: its dated resistances as a line, and when to look at it again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from ohmsworth.report.care.care_figures import trend_figure
from ohmsworth.report.care.care_sentences import look_words, yearly_words
from ohmsworth.report.document import Block, Document, Paragraph, Section
from ohmsworth.work.cards.specimen_history import InStudy
from ohmsworth.work.care.looks import line_of, look_answer, looks_when_left, trend_answer
from ohmsworth.work.care_ports import HistoryRow

_COVERAGE = 0.95


@dataclass(frozen=True, slots=True)
class SpecimenTrend:
    """Under which condition it was read on so many days, and the line through them as a document of one section."""

    condition: str
    days: int
    document: Document


def dated_rows(studies: Sequence[InStudy], treated: Mapping[str, str]) -> tuple[HistoryRow, ...]:
    """One row a day and condition, in the order in which they were read: the middle of its resistances by direct current.

    `treated` says which conditions stand right after what was done: "cleaned" -> "clean".
    """
    groups: dict[tuple[date, str], list[float]] = defaultdict(list)
    points = [point for one in studies for point in one.points if not point.by_tones and point.resistance > 0]
    for point in sorted(points, key=lambda one: one.at.timestamp()):
        groups[point.at.date(), point.condition].append(point.resistance)
    return tuple(
        HistoryRow(0, day, float(np.exp(np.log(values).mean())), treated.get(condition, ""))
        for (day, condition), values in groups.items()
    )


def specimen_trend(studies: Sequence[InStudy], limit: float | None, today: date) -> SpecimenTrend | None:
    """The trend under the condition that was read on the most days; None without a limit, or where too few days are there."""
    if limit is None:
        return None
    conditions = dict.fromkeys(point.condition for one in studies for point in one.points)
    by_condition = {name: dated_rows(_only(studies, name), {}) for name in conditions}
    if not by_condition:
        return None
    condition, rows = max(by_condition.items(), key=lambda item: len(item[1]))
    line = line_of(rows)
    if line is None:
        return None
    now = max(today, rows[-1].day)
    trend = trend_answer(rows, line, limit, now, _COVERAGE)
    look = look_answer(looks_when_left(line, None, None, rows[-1].resistance, limit, now, _COVERAGE), now, "")
    words = f"{look_words(look, '')} {yearly_words(trend)}"
    blocks: tuple[Block, ...] = (Paragraph(words), trend_figure(trend, limit, _COVERAGE))
    title = f"Where it is going, when {condition}"
    return SpecimenTrend(condition, len(rows), Document(title, "", "en", "", (Section(title, blocks),)))


def _only(studies: Sequence[InStudy], condition: str) -> list[InStudy]:
    """The studies with the points of one condition alone."""
    return [
        replace(one, points=tuple(point for point in one.points if point.condition == condition))
        for one in studies
    ]
