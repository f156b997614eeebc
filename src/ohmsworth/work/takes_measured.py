"""How the takes of a study were measured, written down for the answer."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

import numpy as np

from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.report.frequencies_answer import (
    DryLimitAnswer,
    StandardAnswer,
    TakeMeasuredAnswer,
    TakesMeasuredAnswer,
)
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.work.results import Results
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.takes_setup import TakesSetup
from ohmsworth.work.tone_files import SERIES
from ohmsworth.work.tone_results import OverTones


def takes_measured(results: Results, over: OverTones) -> TakesMeasuredAnswer | None:
    """How those were measured that take part; None where nothing is known of it."""
    setup, found = over.loaded.setup, over.loaded.found
    if setup is None:
        return None
    rows = over.used.tolist()
    states = [_whole(over, row, setup) for row in rows]
    tone = nearest_tone(found.frequency, (*over.loaded.asked, USUAL)[0])
    load = setup.load
    return TakesMeasuredAnswer(
        len(found.frequency),
        float(found.frequency[0]),
        float(found.frequency[-1]),
        setup.way,
        setup.shunt.resistance,
        setup.shunt.tolerance,
        setup.shunt.resistance * setup.shunt.tolerance / math.sqrt(3),  # half the width of a rectangle
        None if load is None else load.resistance,
        None if load is None else load.tolerance,
        float(np.sqrt(found.random[over.used, tone, 0].max())),
        float(found.frequency[tone]),
        sum("swapped" in setup.kinds[row] for row in rows),
        sum(any(kind.endswith("turned") for kind in setup.kinds[row]) for row in rows),
        _standards(results, over, setup),
        setup.calibrated,
        setup.by_drive,
        _dry(states),
        tuple(
            TakeMeasuredAnswer(
                int(found.table.line[row]), setup.kinds[row], one.voltage, one.current, one.open_circuit
            )
            for row, one in zip(rows, states, strict=True)
        ),
    )


def _whole(over: OverTones, row: int, setup: TakesSetup) -> TakeState:
    """What a take told; where it told no open-circuit voltage, that of today's circuit, if it was analysed with it."""
    state = over.loaded.states[row]
    line = int(over.loaded.found.table.line[row])
    otherwise = {one for lines in over.loaded.outdated.values() for one in lines}
    if state.open_circuit is not None or line in otherwise:
        return state
    return replace(state, open_circuit=setup.open_circuit)


def _dry(states: Sequence[TakeState]) -> tuple[DryLimitAnswer, ...]:
    """The three limits: what a take exceeds it has told itself, whether or not its size is kept."""
    return (
        _held("voltage across the contact", "voltage", "V", DRY_VOLTAGE, states, [s.voltage for s in states]),
        _held("current", "current", "A", DRY_CURRENT, states, [s.current for s in states]),
        _held(
            "open-circuit voltage", "open circuit", "V", DRY_VOLTAGE, states, [s.open_circuit for s in states]
        ),
    )


def _held(
    quantity: str,
    name: str,
    unit: str,
    limit: float,
    states: Sequence[TakeState],
    sizes: Sequence[float | None],
) -> DryLimitAnswer:
    known = [size for size in sizes if size is not None]
    over = sum(name in one.exceeded for one in states)
    return DryLimitAnswer(
        quantity,
        unit,
        limit,
        len(states),
        over,
        OVER if over else WITHIN,
        len(known),
        max(known, default=None),
    )


def _standards(results: Results, over: OverTones, setup: TakesSetup) -> tuple[StandardAnswer, ...]:
    """Short, load and open that are taken off, and the takes of the check standard in this study."""
    found = [
        StandardAnswer(series, 1, _days([setup.standards[series]]))
        for series in SERIES
        if series in setup.standards
    ]
    name, table = results.study.check.name, over.loaded.found.table
    if name:
        called = [
            {label.names[code].casefold() for label, code in zip(labels, codes, strict=True)}
            for labels in ((table.specimen, table.condition),)
            for codes in zip(*(label.codes.tolist() for label in labels), strict=True)
        ]
        rows = [row for row in over.used.tolist() if name.casefold() in called[row]]
        found += [StandardAnswer("check", len(rows), _days([setup.kept[r] for r in rows]))] if rows else []
    return tuple(found)


def _days(moments: Sequence[str]) -> tuple[str, ...]:
    """The days of some moments (ISO 8601 or ""), each once, as the pages show them."""
    days = (datetime.fromisoformat(at).astimezone().date().isoformat() for at in moments if at)
    return tuple(sorted(set(days)))
