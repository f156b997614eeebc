"""A plan of tones as plain records: what other programs read, and what the wiring card is written from.

Quantities are SI; None stands for "not asked" or "not there". The field names are the published format
(``ohmsworth schema tones``): adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import SourceAnswer

FORMAT = "ohmsworth tones 1"


@dataclass(frozen=True, slots=True)
class ToneAnswer:
    """One tone: hertz, its peak (full scale being 1), peak ampere through the contact, and what noise leaves of R in ohm."""

    frequency: float
    amplitude: float
    current: float
    standard_uncertainty: float


@dataclass(frozen=True, slots=True)
class RecordingAnswer:
    """One recording: its file, what lies across the first and the second input, whether the contact's leads are turned."""

    file: str
    first_input: str
    second_input: str
    turned: bool


@dataclass(frozen=True, slots=True)
class CircuitAnswer:
    """The parts: ohm, volts (peak) of the open output at full scale; `shunt_tolerance` as a fraction, inductance in henry."""

    series: float
    bridge: float | None
    shunt: float
    shunt_tolerance: float
    shunt_inductance: float
    output: float


@dataclass(frozen=True, slots=True)
class LevelAnswer:
    """What stands where; peak values, except that `current_rms` is ampere over the tones and `crest_factor` their ratio.

    `peak` is that of what sounds, full scale being 1; `series_power` (watt) is during the level check, `shunt_power` during the
    tones. `bridge_for_dry` is the ohm at most across shunt and contact for a dry circuit; None where none is needed or none
    helps.
    """

    peak: float
    output_voltage: float
    current: float
    current_rms: float
    crest_factor: float
    shunt_voltage: float
    contact_voltage: float
    open_circuit_voltage: float
    dry_circuit: bool
    bridge_for_dry: float | None
    series_power: float
    shunt_power: float


@dataclass(frozen=True, slots=True)
class TonesAnswer:
    """What is played, how it is connected, and what it will tell.

    `contact` is the expected resistance (ohm); `way` is "together" or "in turn"; `period` is that of the tones, `seconds` for
    how long each is listened to in a take, `length` of the whole file. `standard_uncertainty` (ohm) is the largest that noise
    leaves of any tone, `lasting_uncertainty` what no time mends, `in_turn_uncertainty` the first if the tones came one after the
    other (None where they do); `wished_uncertainty` and the two keys after it say what would be enough.
    """

    format: str
    sentence: str
    findings: tuple[str, ...]
    contact: float
    way: str
    rate: int
    period: float
    seconds: float
    length: float
    channels: int
    level_check_frequency: float
    level_check_seconds: float
    tones: tuple[ToneAnswer, ...]
    circuit: CircuitAnswer
    level: LevelAnswer
    noise: float
    standard_uncertainty: float
    lasting_uncertainty: float
    in_turn_uncertainty: float | None
    wished_uncertainty: float | None
    seconds_enough: float | None
    current_enough: float | None
    recordings: tuple[RecordingAnswer, ...]
    cautions: tuple[str, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
