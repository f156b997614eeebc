"""The check standard beside a study's answer: its rows set aside and told, and what it says of the bench."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.control import control
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.table import Array
from ohmsworth.report.answer import BenchAnswer
from ohmsworth.report.fitness import ControlAnswer
from ohmsworth.report.fitness_sentences import day_sentence
from ohmsworth.units import show, show_percent
from ohmsworth.work.checks import find_checks, order_doubts
from ohmsworth.work.day_verdict import control_answer, day_verdict
from ohmsworth.work.ports import LoadedStudy


@dataclass(frozen=True, slots=True)
class Day:
    """What the check standard says: the bench in words, its charts where there are enough checks, and remarks."""

    bench: BenchAnswer | None
    control: ControlAnswer | None
    doubts: tuple[Doubt, ...]


def look_at_checks(loaded: LoadedStudy) -> Day:
    """What the readings of the check standard, from wherever the study keeps them, say of its bench."""
    study = loaded.study
    doubts = (*_aside(loaded), *order_doubts(loaded.checks))
    checks = find_checks(study, loaded.checks)
    if checks is None:
        return Day(None, None, doubts)
    charted = control(checks.value, study.check.first)
    verdict, reasons = day_verdict(study, checks, charted)
    found = control_answer(study, checks, charted)
    sentence = day_sentence(verdict, reasons, found)
    bench = BenchAnswer(
        verdict, sentence, reasons, study.check.called, len(checks.value), checks.name[-1], found is not None
    )
    return Day(bench, found, doubts)


def _aside(loaded: LoadedStudy) -> list[Doubt]:
    """What the check standard's rows of readings.csv showed, as a remark with the lines it stands on."""
    own = [table for table in loaded.checks if table.among_contacts]
    rows = tuple(sorted(lines_aside(loaded)))
    if not rows:
        return []
    words = (
        f"the check standard '{loaded.study.check.called}' is no contact of this study and not in the answer."
    )
    found = find_checks(loaded.study, own)
    if found is not None and len(found.value):
        words = f"{words[:-1]}: {_spread(found.value)}."
    return [Doubt("CHECK_STANDARD", words, rows, "Nothing, if that is what it always shows.")]


def _spread(value: Array) -> str:
    """Mean, range and last against first."""
    mean = float(value.mean())
    words = f"{show(mean, 'Ω', 4)} on average of {len(value)}"
    if len(value) > 1 and mean > 0:
        words += f", {show_percent(float(np.ptp(value)) / mean)} between the highest and the lowest"
        last = float(value[-1] / value[0] - 1)
        if last:
            words += f", the last {100 * abs(last):.2g} % {'above' if last > 0 else 'below'} the first"
    return words


def lines_aside(loaded: LoadedStudy) -> frozenset[int]:
    """Lines of readings.csv that hold readings of the check standard."""
    return frozenset(
        int(line) for table in loaded.checks if table.among_contacts for line in table.table.line
    )
