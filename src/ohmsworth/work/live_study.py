"""The answer so far of a study in the records."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.readings.check_standard import split_check_standard
from ohmsworth.readings.entries import table_as_asked
from ohmsworth.readings.study import Study
from ohmsworth.report.live_answer import LiveAnswer
from ohmsworth.resistance.impedance.of_contacts import USUAL, gathered, nearest_tone
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import planned_on_sheet
from ohmsworth.work.ports import LoadedImpedances, LoadedStudy
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import FIRST_LINE, home_in_records, kept_lines, lines_set_aside
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_resistance import resistance_at
from ohmsworth.work.take_told import curve_of, entry_of


def live_study(desk: Desk, study: int, state: StudyState) -> LiveAnswer | None:
    """What the readings that are kept say by now, or the takes where there is no reading; None before the first one of a contact.

    A study that has only begun is no folder that could be answered: its readings go straight into the table. Of takes R counts at
    the tone nearest to the first frequency that is asked about.

    Raises
    ------
    InputRefused
        When the question cannot be read.
    """
    question = desk.question(study, state)
    loaded = _begun(question, state) if state.counted else _takes_alone(question, state)
    if loaded is None:
        return None
    planned = planned_on_sheet(state.sheet, question.check.name)
    if planned is not None and loaded.tone is not None:
        planned = replace(planned, readings=1)  # a take is of a whole mating
    return live_answer(loaded, planned)


def live_tone(desk: Desk, study: int, state: StudyState) -> float | None:
    """Hertz of the tone at which the answer so far is told; None where it is one of direct current, or there is none.

    Raises
    ------
    InputRefused
        When the question cannot be read.
    """
    if state.counted or not state.counted_takes:
        return None
    return resistance_at(desk.question(study, state).frequencies, curve_of(state.counted_takes[0].told))[0]


def _begun(question: Study, state: StudyState) -> LoadedStudy | None:
    table = table_as_asked(question, [one.entry for one in state.counted])
    contacts, _ = split_check_standard(table, question.check.name)
    return LoadedStudy(_marked(question, state), contacts, ()) if len(contacts) else None


def _marked(question: Study, state: StudyState) -> Study:
    """The question with what was said of its rows."""
    return replace(
        question,
        keep=frozenset(kept_lines(state)),
        set_aside=lines_set_aside(state),
        home=home_in_records(state),
    )


def _takes_alone(question: Study, state: StudyState) -> LoadedStudy | None:
    """The takes of contacts as they would stand in a folder, without conditions of which none counts."""
    check = question.check.name
    ours = [
        (line, one)
        for line, one in enumerate(state.counted_takes, FIRST_LINE)
        if check is None or one.reading.entry.condition.casefold() != check.casefold()
    ]
    begun = {one.reading.entry.condition for _, one in ours if one.reading.state == "used"}
    ours = [(line, one) for line, one in ours if one.reading.entry.condition in begun]
    if not ours:
        return None
    entries = [one.reading.entry for _, one in ours]
    table = replace(table_as_asked(question, entries), line=np.array([line for line, _ in ours]))
    told = [entry_of(one.told) for _, one in ours]
    found = gathered(table, [curve for curve, _ in told])
    tone = nearest_tone(found.frequency, (*question.frequencies, USUAL)[0])
    impedances = LoadedImpedances(found, tuple(one for _, one in told), question.frequencies)
    table = replace(table, resistance=found.value[:, tone].real.copy())
    return LoadedStudy(_marked(question, state), table, (), impedances=impedances, tone=tone)
