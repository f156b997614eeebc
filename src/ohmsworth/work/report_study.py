"""A study in, its answer and the documents that tell it out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from ohmsworth.inference.rebuilt import History
from ohmsworth.report.answer import Answer
from ohmsworth.report.document import Document, LadderFigure
from ohmsworth.report.figures import evidence, shares
from ohmsworth.report.fitness_figures import check_charts
from ohmsworth.report.ladder import ladder
from ohmsworth.report.pages import report, summary
from ohmsworth.report.parts import parts_figure
from ohmsworth.resistance import Resistances, reduce_readings
from ohmsworth.work.answer_study import compose
from ohmsworth.work.history import history_of, picture_of
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results, find_results


@dataclass(frozen=True)
class Told:
    """An answer, the short document for a terminal, and the whole report, which is made when it is asked for.

    `kept` is why the owner keeps readings in spite of a doubt, by their line.
    """

    answer: Answer
    results: Results
    history: History | None
    ladder: LadderFigure
    kept: Mapping[int, str] = field(default_factory=dict)

    @cached_property
    def summary(self) -> Document:
        """What fits a terminal."""
        return summary(self.answer, self.ladder, self.results.study.home)

    @cached_property
    def report(self) -> Document:
        """Everything, with every resistance in its picture."""
        dots = evidence(self.answer, self.results.resistances, _moving(self.results), self.results.table)
        control = self.results.day.control
        charts = check_charts(control)[:2] if control is not None else ()
        past = picture_of(self.results, self.history, self.answer)
        return report(
            self.answer,
            self.ladder,
            dots,
            shares(self.answer),
            charts,
            parts_figure(self.answer),
            past,
            self.results.study.plating,
            self.kept,
            self.results.study.home,
        )


def _moving(results: Results) -> Resistances:
    """Resistances of contacts that were left out because they still moved (a slip's would only stretch the picture)."""
    lines = {row for doubt in results.doubts if doubt.code == "STILL_MOVING" for row in doubt.rows}
    rows = np.flatnonzero(np.isin(results.table.line, list(lines & results.left_out)))
    return reduce_readings(
        results.table, results.study.bench, rows
    )  # of takes there are none: they have no times


def report_study(loaded: LoadedStudy) -> Told:
    """Answer a study and write its documents.

    Raises
    ------
    InputRefused
        When the readings cannot be used as they are.
    """
    history = history_of(loaded)
    results = find_results(loaded, history)
    answer = compose(results, history)
    return Told(answer, results, history, ladder(answer, answer.ambient))
