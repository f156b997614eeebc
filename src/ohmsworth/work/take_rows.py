"""What the takes of a study told, contact by contact: the impedance at the frequency that is asked about, and the curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.report.study_takes import TakeCurve
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.work.keep_standard import scaled
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.take_told import entry_of
from ohmsworth.work.takes import AtTone, at_tone


@dataclass(frozen=True, slots=True)
class AtFrequency:
    """R and X in ohm at the tone nearest to what is asked about, and the inductance or capacitance that X amounts to there."""

    frequency: float
    resistance: Estimated
    reactance: Estimated

    @property
    def inductance(self) -> Estimated:
        """X as that of an inductance, in henry: ``X/2πf``; below zero it is no inductance."""
        return scaled(self.reactance, 1 / (2 * np.pi * self.frequency))


@dataclass(frozen=True, slots=True, eq=False)
class TakeRow:
    """The takes of one mating with what they told; `at` and `state` None where that cannot be read."""

    take: RecordedTake
    curve: Curve | None
    at: AtFrequency | None
    state: TakeState | None


def take_rows(takes: Sequence[RecordedTake], asked: Sequence[float] = ()) -> tuple[TakeRow, ...]:
    """What takes told.

    Parameters
    ----------
    takes
        Of a study, in any state.
    asked
        Hertz that the study asks about, the first for the answer; none takes 1 kHz.
    """
    return tuple(_row(take, (*asked, USUAL)[0]) for take in takes)


def _row(take: RecordedTake, asked: float) -> TakeRow:
    try:
        curve, state = entry_of(take.told)
    except (ValueError, KeyError, TypeError, AttributeError):
        return TakeRow(take, None, None, None)
    return TakeRow(take, curve, at_frequency(curve, asked), state)


def at_frequency(curve: Curve, asked: float) -> AtFrequency:
    """R and X at the tone nearest to `asked` hertz."""
    tone = nearest_tone(curve.frequency, asked)
    found: AtTone = at_tone(curve, tone)
    return AtFrequency(float(curve.frequency[tone]), found.real, found.imaginary)


def curves_of(rows: Sequence[TakeRow]) -> tuple[TakeCurve, ...]:
    """The curves of the takes that count, to be drawn."""
    return tuple(
        _drawn(row.take, row.curve)
        for row in rows
        if row.curve is not None and row.take.reading.state == "used"
    )


def _drawn(take: RecordedTake, curve: Curve) -> TakeCurve:
    entry = take.reading.entry
    parts = (entry.specimen, f"contact {entry.contact}" if entry.contact else "", entry.condition)
    name = ", ".join(part for part in (*parts, f"mating {entry.mating}" if entry.mating else "") if part)
    tones = [at_tone(curve, tone) for tone in range(len(curve.frequency))]
    return TakeCurve(
        f"{take.reading.nth}: {name}",
        tuple(map(float, curve.frequency)),
        tuple(one.real.value for one in tones),
        tuple(one.real.interval() for one in tones),
        tuple(one.imaginary.value for one in tones),
        tuple(one.imaginary.interval() for one in tones),
    )
