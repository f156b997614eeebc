"""What a study asks and under which conditions it was measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from ohmsworth.materials import Construction
from ohmsworth.readings.check import CheckStandard
from ohmsworth.readings.home import FOLDER, Home
from ohmsworth.readings.lead import MeasuredLead
from ohmsworth.readings.lot_request import LotRequest
from ohmsworth.readings.meters import Accuracy, NamedMeter
from ohmsworth.readings.paper_request import PaperRequest
from ohmsworth.readings.plan_request import PlanRequest
from ohmsworth.readings.sheet_request import SheetRequest

Scale = Literal["log", "linear"]
Scatter = Literal["auto", "equal", "by condition"]
Compare = Literal["reference", "all pairs"]

#: Half-width of the thermal EMF that a single-polarity reading may hide: brass against copper, 3 µV/K
#: (low-level measurement handbooks), over one kelvin between the two ends of the contact.
DEFAULT_EMF = 3e-6


@dataclass(frozen=True, slots=True)
class Limit:
    """A resistance (ohm) not to be exceeded, and who says so."""

    resistance: float
    source: str


@dataclass(frozen=True, slots=True)
class Bench:
    """The meters and the source on the bench; None where nothing is stated (SI units).

    `named` says which meters those are, as far as it is stated: papers name them.
    """

    voltmeter: Accuracy | None = None
    ammeter: Accuracy | None = None
    ohmmeter: Accuracy | None = None
    open_circuit_voltage: float | None = None
    emf_allowance: float = DEFAULT_EMF
    named: tuple[NamedMeter, ...] = ()

    def names_of(self, in_ohm: bool) -> tuple[str, ...]:
        """The meters that readings in ohm, or in volt and ampere, are taken with."""
        return ("ohmmeter",) if in_ohm else ("voltmeter", "ammeter")

    def unstated(self, in_ohm: bool) -> tuple[str, ...]:
        """The meters whose accuracy nobody stated, of those that readings in ohm, or in volt and ampere, are taken with."""
        return tuple(name for name in self.names_of(in_ohm) if getattr(self, name) is None)


@dataclass(frozen=True, slots=True)
class UseRequest:
    """A circuit in which the contact is used, as asked for in the study (values in SI).

    `cables` are the shop's own, in which a cable is looked up by name before the library; `lead` is a measured one.
    """

    kind: str
    name: str = ""
    values: Mapping[str, float | str] = field(default_factory=dict)
    cables: tuple[Construction, ...] = ()
    lead: MeasuredLead | None = None


@dataclass(frozen=True, slots=True)
class Study:
    """One question, and how it is to be answered.

    Parameters
    ----------
    question
        What is asked, in the owner's words.
    reference
        Condition that the others are compared against; None when there is one condition.
    scale
        Analyse logarithms (ratios and medians) or the resistances themselves.
    scatter
        Whether conditions share their scatter; "auto" decides by the rule in
        `ohmsworth.inference.unequal`.
    coverage
        Probability of the intervals, and the confidence that a verdict needs.
    margin
        Smallest change of resistance (ohm) that matters; None takes it from the uses.
    wires
        Conductors whose equivalent length is reported.
    plating
        Plating of the contacts, for softening and melting voltages; None if unknown.
    ambient
        Air temperature (kelvin); None takes the mean of the readings' own, or 20 °C.
    keep
        Rows that the owner keeps in spite of a warning.
    set_aside
        Rows that the owner leaves out, with the reason.
    factors
        Columns whose combinations are the conditions; none: the column ``condition`` alone.
    scatter_by
        Further columns that scatter: operator, day, meter.
    compare
        Conditions with the reference, or every two of them.
    check
        The check standard: `check.csv`, and rows of `readings.csv` under its name, hold readings of it.
    history
        Folders of past studies whose scatter the answer leans on, as written; none by default.
    sheet
        What the bench sheet is to hold; None where the study does not say.
    frequencies
        Hertz that takes are asked about, the first for the answer itself; none takes the tone nearest 1 kHz.
    paper
        What is stated for the certificate of its lot; None where nothing is.
    home
        Where the study is kept, as sentences about it speak of its readings.
    """

    question: str
    reference: str | None = None
    scale: Scale = "log"
    scatter: Scatter = "auto"
    coverage: float = 0.95
    margin: float | None = None
    limit: Limit | None = None
    bench: Bench = field(default_factory=Bench)
    uses: tuple[UseRequest, ...] = ()
    wires: tuple[str, ...] = ("0.22 mm²", "24 AWG")
    plating: str | None = None
    ambient: float | None = None
    keep: frozenset[int] = frozenset()
    set_aside: Mapping[int, str] = field(default_factory=dict)
    check: CheckStandard = field(default_factory=CheckStandard)
    plan: PlanRequest | None = None
    lot: LotRequest | None = None
    factors: tuple[str, ...] = ()
    scatter_by: tuple[str, ...] = ()
    compare: Compare = "reference"
    history: tuple[str, ...] = ()
    sheet: SheetRequest | None = None
    frequencies: tuple[float, ...] = ()
    paper: PaperRequest | None = None
    home: Home = FOLDER

    @property
    def named_conditions(self) -> tuple[str, ...]:
        """The conditions that the question itself names, for itself, its plan, its sheet and its lot."""
        named = (
            self.reference,
            *(self.plan.conditions if self.plan else ()),
            *(self.sheet.conditions if self.sheet else ()),
            self.lot.condition if self.lot else None,
        )
        return tuple(name for name in named if name)
