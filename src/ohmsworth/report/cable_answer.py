"""The answer about a built cable as plain records: what other programs read, and what its report is written from.

Resistances are in ohm, lengths in metre, temperatures in kelvin, chances from 0 to 1; None stands for "not measured" or "not
known". The field names are a published format: adding one is free, changing or removing one makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import ActionAnswer, SourceAnswer

FORMAT = "ohmsworth cable 1"
#: The kind of fault of a link that leads, and reads too much.
POOR_LINK = "link poor"
#: The kind of fault that every wire has alike: the description or the meter does not fit.
NOT_AS_DESCRIBED = "not as described"
RIGHT, WRONG, LOOK, NOT_YET = "right", "wrong", "look first", "cannot tell yet"


@dataclass(frozen=True, slots=True)
class CableEndAnswer:
    """An end; `allowance` is what is cut for it beyond the length, as `stated` or by common practice."""

    name: str
    connector: str
    contacts: tuple[str, ...]
    contact_resistance: float
    contact_limit: float
    allowance: float
    stated: bool


@dataclass(frozen=True, slots=True)
class CableWireAnswer:
    """A wire: from where to where, what it should read, and what it read.

    `together` says that other ways lead beside it, so that the reading is not its own alone. `low` and `high` are bounds that no
    good cable leaves. `verdict` is "within", "over", "under", "too close to call" or "no path".
    """

    name: str
    start: str
    stop: str
    kind: str
    role: str
    pair: str
    colour: str
    cut: float
    together: bool
    usual: float
    low: float
    high: float
    line: int | None
    resistance: float | None
    standard_uncertainty: float | None
    probability_within: float | None
    verdict: str | None


@dataclass(frozen=True, slots=True)
class CableAheadAnswer:
    """What `wires` should read, and between which bounds in a good cable: ohm of a loop of two, farad of one against the rest."""

    wires: tuple[str, ...]
    usual: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CableMeasurementAnswer:
    """A measurement to make: contacts to join on either side of the meter, and why."""

    one: tuple[str, ...]
    other: tuple[str, ...]
    purpose: str


@dataclass(frozen=True, slots=True)
class CableFaultAnswer:
    """Something wrong with the wiring, told in `words`; `kind` such as "open", "touch", "crossed"."""

    kind: str
    wires: tuple[str, ...]
    places: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class StandsOutAnswer:
    """A wire that differs from its `fellows`, of which there are so many: by `excess`, with its 95 % interval."""

    wire: str
    excess: float
    low: float
    high: float
    fellows: int


@dataclass(frozen=True, slots=True)
class FellowAnswer:
    """Wires that should read alike: their mean and scatter, and by how much one has to differ to stand out.

    The last three are None where they are too few to tell.
    """

    wires: tuple[str, ...]
    middle: float | None
    scatter: float | None
    smallest: float | None


@dataclass(frozen=True, slots=True)
class PlaceAnswer:
    """How far along the cable a fault lies, from the end `near`, with its 95 % interval.

    `beyond` says that the readings lead off the cable, so that something taken for granted does not hold. `parts` are what each
    reading and tolerance adds to the standard uncertainty, metre, the largest first. `open_first` is the end to begin at.
    """

    method: str
    wires: tuple[str, ...]
    near: str
    metres: float
    standard_uncertainty: float
    low: float
    high: float
    beyond: bool
    open_first: str
    joints: tuple[float, ...]
    parts: tuple[tuple[str, float], ...]
    words: str


@dataclass(frozen=True, slots=True)
class RecordedTestAnswer:
    """A test made with other equipment, as it was told: volt, ohm, the day as ISO 8601; None and "" where nobody said.

    `passed` says whether it found what was asked.
    """

    test: str
    between: str
    voltage: float | None
    resistance: float | None
    at_least: float | None
    held: bool | None
    instrument: str
    by: str
    on: str
    passed: bool


@dataclass(frozen=True, slots=True)
class CableAnswer:
    """Everything said of one cable; `verdict` is "right", "wrong", "look first", "cannot tell yet", "too close to call", or None.

    It is None before anything is measured. `pairs` of nets must not touch, of which `pairs_left` may still do so; `measurements`
    are the fewest that show it, and `following` is the one to make next. `hidden` are wires of which a break would not show, for
    others lead beside them. `loops` are those of the two cores of a pair, joined at the far end; `capacitances` those of wires
    against everything else of the cable, where the description says what a metre has. `wanted` is what would tell where wires
    touch, where nobody knows.
    """

    format: str
    name: str
    serial: str
    sentence: str
    verdict: str | None
    findings: tuple[str, ...]
    coverage: float
    length: float
    length_tolerance: float
    temperature: float
    temperature_tolerance: float
    ends: tuple[CableEndAnswer, ...]
    wires: tuple[CableWireAnswer, ...]
    links: tuple[tuple[str, str], ...]
    nets: int
    pairs: int
    pairs_left: int
    measurements: tuple[CableMeasurementAnswer, ...]
    following: CableMeasurementAnswer | None
    faults: tuple[CableFaultAnswer, ...]
    groups: tuple[FellowAnswer, ...]
    stands_out: tuple[StandsOutAnswer, ...]
    places: tuple[PlaceAnswer, ...]
    unused: tuple[str, ...]
    actions: tuple[ActionAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
    recorded: tuple[RecordedTestAnswer, ...] = ()
    hidden: tuple[str, ...] = ()
    wanted: tuple[CableMeasurementAnswer, ...] = ()
    loops: tuple[CableAheadAnswer, ...] = ()
    capacitances: tuple[CableAheadAnswer, ...] = ()
