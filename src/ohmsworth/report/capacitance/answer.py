"""Capacitances from recordings as plain records: what other programs read, and what the card and the report are written from.

Quantities are SI; None stands for "not there" or "not known". The field names are the published format
(``ohmsworth schema capacitance``): adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import ActionAnswer, BudgetAnswer, SourceAnswer, WarningAnswer

FORMAT = "ohmsworth capacitance 1"
#: What a wire is found to be.
CAPACITANCE, PATH, TOO_SMALL = "capacitance", "path", "too small to tell"


@dataclass(frozen=True, slots=True)
class CapacitanceRecording:
    """One recording: its file, where the inputs are, what hangs behind the resistor, and whether it is there."""

    file: str
    first_input: str
    second_input: str
    behind: str
    recorded: bool


@dataclass(frozen=True, slots=True)
class WireCapacitance:
    """A wire from one end of a cable.

    `found` is "capacitance", "path" or "too small to tell". Farad, with the 95 % interval and the standard uncertainty, and
    `without_resistor`, the standard uncertainty that does not cancel in a ratio of two capacitances; `loss` is tan δ, `leak` ohm
    beside the capacitance. Of a path `resistance` in ohm with its interval.
    """

    file: str
    wire: str
    to: str
    end: str
    whole: bool
    found: str
    capacitance: float | None
    low: float | None
    high: float | None
    standard_uncertainty: float | None
    without_resistor: float | None
    loss: float | None
    leak: float | None
    resistance: float | None
    resistance_low: float | None
    resistance_high: float | None
    budget: tuple[BudgetAnswer, ...]


@dataclass(frozen=True, slots=True)
class BreakAnswer:
    """A break: how it was found, the wire, the near end, and the share of the cable's length up to it with its interval."""

    method: str
    wire: str
    near: str
    share: float
    standard_uncertainty: float
    low: float
    high: float
    table: str


@dataclass(frozen=True, slots=True)
class CapacitanceAnswer:
    """Everything that is said of the capacitances of a folder.

    Parameters
    ----------
    format
        Of this record.
    sentence, findings
        The answer, and what stands beside it.
    resistor, resistor_tolerance, leads, crosstalk
        Ohm; half-widths as a fraction and in farad; a share.
    told_at
        Hertz at which capacitances are told.
    level
        Peak of the drive, full scale being 1.
    rate, channels, length, level_check_frequency, level_check_seconds
        Samples a second and channels of drive.wav, its seconds, and the tone that the gains are set by.
    tones
        In hertz.
    recordings
        To make, in their order.
    input_resistance, input_capacitance
        What input 2 and the leads have themselves, in parallel; None before it is recorded.
    wires, breaks
        What was found.
    warnings, actions, cautions, method, sources
        As in every answer.
    """

    format: str
    sentence: str
    findings: tuple[str, ...]
    resistor: float
    resistor_tolerance: float
    leads: float
    crosstalk: float
    told_at: float
    level: float
    rate: int
    channels: int
    length: float
    level_check_frequency: float
    level_check_seconds: float
    tones: tuple[float, ...]
    recordings: tuple[CapacitanceRecording, ...]
    input_resistance: float | None
    input_capacitance: float | None
    wires: tuple[WireCapacitance, ...]
    breaks: tuple[BreakAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    actions: tuple[ActionAnswer, ...]
    cautions: tuple[str, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
