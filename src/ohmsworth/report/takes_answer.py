"""The impedance of a contact as plain records: what other programs read, and what the report is written from.

Quantities are SI, angles in radian; None stands for "not there" or "cannot be said". Uncertainties are standard uncertainties,
intervals hold with 95 %. The field names are the published format (``ohmsworth schema takes``): adding one is free, changing or
removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import ActionAnswer, BudgetAnswer, SourceAnswer, WarningAnswer

FORMAT = "ohmsworth takes 1"


@dataclass(frozen=True, slots=True)
class QuantityAnswer:
    """A number with its uncertainty, in `unit`; `degrees_of_freedom` is null where they are infinite."""

    name: str
    unit: str
    value: float
    standard_uncertainty: float
    degrees_of_freedom: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ToneAnswer:
    """The impedance at one tone (hertz): R and X in ohm, |Z| in ohm and its angle in radian.

    `noise` is the part of the uncertainty of R that comes from noise, `correlation` that of R and X; `fitted_resistance` and
    `fitted_reactance` are those of the model, null where there is none.
    """

    frequency: float
    resistance: float
    resistance_uncertainty: float
    resistance_low: float
    resistance_high: float
    resistance_degrees_of_freedom: float | None
    reactance: float
    reactance_uncertainty: float
    reactance_low: float
    reactance_high: float
    reactance_degrees_of_freedom: float | None
    magnitude: float
    phase: float
    noise: float
    correlation: float
    fitted_resistance: float | None
    fitted_reactance: float | None


@dataclass(frozen=True, slots=True)
class ModelAnswer:
    """What the curve is made of.

    `model` is "resistance", "series" (with an inductance), "film", "falls", "skin" or "rises". `corner` (hertz, with the ends
    of its interval, null where they lead out of the tones) is where a film or a skin effect bends; `chance` that chance alone
    looks like it, or like an inductance. `hidden_film` (ohm) is the most that a film may have which would bend within the
    tones and was not seen; null where one was seen, or nothing can be said. `rise` is R at the upper end of the tones less R
    at the lower, by no model; `agreement` is the chance of what the model leaves by noise.
    """

    model: str
    words: str
    parts: tuple[QuantityAnswer, ...]
    corner: float | None
    corner_low: float | None
    corner_high: float | None
    chance: float | None
    hidden_film: float | None
    rise: QuantityAnswer
    agreement: float | None


@dataclass(frozen=True, slots=True)
class LimitAnswer:
    """A limit (ohm), who says so, and where the resistance at low frequency stands against it."""

    resistance: float
    source: str
    probability_within: float
    verdict: str


@dataclass(frozen=True, slots=True)
class DirectAnswer:
    """The resistance by direct current beside that by tones: `difference` is tones minus direct current.

    `explained` says whether the uncertainties explain it, `causes` what it may come from where they do not.
    """

    resistance: float
    standard_uncertainty: float
    current: float | None
    reversed: bool
    difference: QuantityAnswer
    p_value: float
    explained: bool
    causes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DryAnswer:
    """What lay across and flowed through the contact (peak and root mean square), against the limits of a dry circuit.

    `exceeded` names "voltage", "current", "frequency" or "open circuit"; `by_drive` says that volts and amperes are those that
    the drive should give, for nobody stated the inputs' full scale.
    """

    voltage: float
    voltage_rms: float
    current: float
    current_rms: float
    open_circuit_voltage: float
    highest_frequency: float
    exceeded: tuple[str, ...]
    by_drive: bool


@dataclass(frozen=True, slots=True)
class ProductAnswer:
    """A line (hertz) at which nothing is played, of the straight take.

    `tone` is that of which it is a harmonic, null for a sum or a difference; `voltage` (peak) what the contact makes of its own,
    `critical` what noise passes once in twenty times, and `limit` what would be found 19 times in twenty; `index` and
    `index_limit` are dB of the tone's own voltage.
    """

    frequency: float
    order: int
    tone: float | None
    voltage: float
    critical: float
    limit: float
    index: float | None
    index_limit: float | None


@dataclass(frozen=True, slots=True)
class BendAnswer:
    """κ₂ (1/V) or κ₃ (1/V²) of a contact that makes v = u + κ₂ u² + κ₃ u³, by all lines together.

    `limit` is the size that would be found 19 times in twenty, `inputs` the largest that the inputs may feign; `index` and
    `index_limit` are dB for the largest tone. `verdict` is "not seen", "inputs may explain it" or "contact".
    """

    order: int
    coefficient: float
    standard_uncertainty: float
    critical: float
    limit: float
    inputs: float
    p_value: float
    index: float | None
    index_limit: float
    verdict: str


@dataclass(frozen=True, slots=True)
class NonOhmicAnswer:
    """Whether the contact follows Ohm's law; `largest` is the peak volts of its largest tone.

    `film_voltage` is V₀ of a film that is all of the contact's resistance and makes such a κ₃; null where none does.
    """

    second: BendAnswer
    third: BendAnswer
    largest: float
    film_voltage: float | None
    lines: tuple[ProductAnswer, ...]


@dataclass(frozen=True, slots=True)
class RestAnswer:
    """Whether the contact's resistance rested during the straight take: "at rest", "drifts" or "fluctuates".

    All is relative to R: `drift` in a second, `fluctuation` the root mean square from group to group without the noise, and
    `fluctuation_high` what may hide at 95 %; `time` (seconds) and `change` go by groups. `exponent` is that of its spectrum.
    """

    verdict: str
    drift: float
    drift_uncertainty: float
    drift_p_value: float
    fluctuation: float
    fluctuation_high: float
    p_value: float
    exponent: float | None
    time: tuple[float, ...]
    change: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class InterfaceAnswer:
    """What the takes tell of the interface.

    `gain_difference` is the second input's gain over the first's, less one, at the lowest tone; `phase_difference` (radian)
    that of the highest; null without swapped takes. `leak` is the largest share of the shunt's voltage that reads at the
    contact's input, null without turned takes. `clock` is the recorder's over the player's, less one, the largest of all
    recordings. `noise` (V/√Hz) and `hum` (volts, root mean square; null where no silence was recorded) stand by input;
    `mains` is its frequency.
    """

    gain_difference: float | None
    phase_difference: float | None
    leak: float | None
    clock: float
    clock_uncertainty: float
    one_clock: bool
    noise: tuple[float, float]
    hum: tuple[float, float] | None
    mains: float | None


@dataclass(frozen=True, slots=True)
class RecordingAnswer:
    """A recording that was used: what was in the contact's place, how it was connected; `length` in seconds, clock as above."""

    file: str
    of: str
    connected: str
    length: float
    bits: int | None
    clock: float


@dataclass(frozen=True, slots=True)
class ResidualAnswer:
    """What short, load and open took off: which of them there were, their day, and the change of R and X (ohm) at every tone."""

    takes: tuple[str, ...]
    date: str | None
    load: float | None
    resistance: tuple[float, ...]
    reactance: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BudgetOfAnswer:
    """Where the uncertainty of a quantity comes from: the largest first; `frequency` is null for the fitted resistance."""

    of: str
    frequency: float | None
    lines: tuple[BudgetAnswer, ...]


@dataclass(frozen=True, slots=True)
class TakesAnswer:
    """Everything that the recordings of one contact say.

    `resistance` is that at low frequency (the fitted one where there is a fit), which the limit is held against. The records
    that may be null are so where nothing was asked or recorded, or too little to say it.
    """

    format: str
    sentence: str
    findings: tuple[str, ...]
    coverage: float
    resistance: QuantityAnswer
    tones: tuple[ToneAnswer, ...]
    model: ModelAnswer | None
    limit: LimitAnswer | None
    direct: DirectAnswer | None
    dry: DryAnswer
    nonohmic: NonOhmicAnswer | None
    rest: RestAnswer | None
    interface: InterfaceAnswer
    recordings: tuple[RecordingAnswer, ...]
    residual: ResidualAnswer | None
    budgets: tuple[BudgetOfAnswer, ...]
    warnings: tuple[WarningAnswer, ...]
    actions: tuple[ActionAnswer, ...]
    cautions: tuple[str, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
