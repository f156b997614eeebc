"""A study in, its answer and the documents that tell it out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.report.answer import Answer
from ohmsworth.report.document import Document
from ohmsworth.report.figures import evidence, ladder, shares
from ohmsworth.report.fitness_figures import check_charts
from ohmsworth.report.pages import report, summary
from ohmsworth.report.parts import parts_figure
from ohmsworth.resistance import Resistances, reduce_readings
from ohmsworth.work.answer_study import compose
from ohmsworth.work.history import history_of, picture_of
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results, find_results


@dataclass(frozen=True, slots=True)
class Told:
    """An answer, the short document for a terminal, and the whole report."""

    answer: Answer
    summary: Document
    report: Document


def _moving(results: Results) -> Resistances:
    """Resistances of contacts that were left out because they still moved (a slip's would only stretch the picture)."""
    lines = {row for doubt in results.doubts if doubt.code == "STILL_MOVING" for row in doubt.rows}
    rows = np.flatnonzero(np.isin(results.table.line, list(lines & results.left_out)))
    return reduce_readings(results.table, results.study.bench, rows)


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
    scale = ladder(answer, answer.ambient)
    control = results.day.control
    charts = check_charts(control)[:2] if control is not None else ()
    dots = evidence(answer, results.resistances, _moving(results), results.table)
    past = picture_of(results, history, answer)
    whole = report(answer, scale, dots, shares(answer), charts, parts_figure(answer), past)
    return Told(answer, summary(answer, scale), whole)
