"""A measuring bench that does not exist: known contacts in, readings as two meters would show them out.

Natural logarithm of a contact's resistance at reading r of mating m of specimen s under condition c:

    ln R = ln median_c + specimen·z_s + response_c·z_sc + mating_c·z_scm + reading_c·z_scmr

all z independent standard normal; an unsettled mating is higher by the factor 1 + excess·exp(−t/τ). What the
meters show, for a current of either sign:

    V = (1 + g_V)·(R·I + E_m + D_m·t) + O_V + noise        rounded to one count
    I = (1 + g_I)·I + O_I                                  rounded to one count

g and O are drawn once a study, evenly within what the meters' makers state; E and D once a mating; t runs from
the closing of the mating.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings import Accuracy

#: A specimen under a condition.
Cell = tuple[str, str]
#: Seconds: the shortest and longest pause to re-mate a connector, and to turn the current and read two meters.
_TO_MATE = (60, 120)
_TO_READ = (12, 22)
#: Seconds in which an unsettled contact comes down to 1/e of its excess.
_SETTLING = 60.0
#: Seconds in which the room goes once through warm and cool.
_ROOM_CYCLE = 3 * 3600.0


@dataclass(frozen=True, slots=True)
class Surface:
    """The contacts under one condition.

    Parameters
    ----------
    median
        Ohm.
    response, mating, reading
        Standard deviations of ln R: between specimens because of the condition, from mating to mating, and from
        reading to reading.
    """

    median: float
    response: float = 0.03
    mating: float = 0.05
    reading: float = 0.003

    def __post_init__(self) -> None:
        if not 0 < self.median < np.inf:
            raise ArgumentFault("median", self.median, "ohm, more than zero")
        _not_negative(self, "response", "mating", "reading")


@dataclass(frozen=True, slots=True)
class Truth:
    """What is true on the bench, and what a real one never tells.

    Parameters
    ----------
    surfaces
        Condition -> its contacts.
    specimen
        Standard deviation of ln R between specimens, the same under every condition.
    voltmeter, ammeter
        Stated accuracy; the true errors are drawn evenly within it.
    current
        Current set, ampere; `current_step` is the relative standard deviation of setting it anew.
    noise
        Standard deviation of the voltmeter's own noise, volt.
    emf, emf_drift
        Standard deviations of the thermal EMF of a mating (volt) and of its drift (volt per second).
    temperature, swing
        Middle of the room's temperature (kelvin) and how far it goes either way.
    """

    surfaces: Mapping[str, Surface]
    specimen: float = 0.06
    voltmeter: Accuracy = field(default_factory=lambda: Accuracy(0.0003, 5, 1e-7))
    ammeter: Accuracy = field(default_factory=lambda: Accuracy(0.002, 3, 1e-5))
    current: float = 0.1
    current_step: float = 3e-4
    noise: float = 2e-7
    emf: float = 2e-6
    emf_drift: float = 3e-9
    temperature: float = 296.15
    swing: float = 0.6

    def __post_init__(self) -> None:
        _not_negative(self, "specimen", "current", "current_step", "noise", "emf", "emf_drift", "swing")
        for name in ("voltmeter", "ammeter"):
            if not getattr(self, name).resolution > 0:
                raise ArgumentFault(name, getattr(self, name), "a resolution above zero")

    def ratio(self, of: str, against: str) -> float:
        """The true ratio of two conditions' medians."""
        return self.surfaces[of].median / self.surfaces[against].median


@dataclass(frozen=True, slots=True)
class Mating:
    """One closing of a connector and the readings taken before it is opened again.

    Parameters
    ----------
    specimen, condition, number
        Which.
    pairs
        Readings with the current forward and reversed, in turn.
    excess
        How much higher the contact stands at first, as a fraction; 0 for a settled one.
    rest
        Seconds that nobody works before it.
    """

    specimen: str
    condition: str
    number: int
    pairs: int = 2
    excess: float = 0.0
    rest: int = 0

    @property
    def cell(self) -> Cell:
        """Its specimen and condition."""
        return self.specimen, self.condition


@dataclass(frozen=True, slots=True)
class Reading:
    """One row as the meters show it: volt and ampere with their signs, seconds, kelvin.

    `slip` is how many places to the right the decimal mark went when the voltage was typed.
    """

    specimen: str
    condition: str
    mating: int
    forward: bool
    time: int
    temperature: float
    voltage: float
    current: float
    slip: int = 0


def rounds(cells: Sequence[Cell], matings: int, pairs: int, seed: int) -> list[Mating]:
    """Mate every cell once in a round, in an order drawn afresh each round, so that a drift hits all alike."""
    rng = np.random.default_rng([seed, 1])  # apart from the stream of the readings
    return [
        Mating(cells[i][0], cells[i][1], number, pairs)
        for number in range(1, matings + 1)
        for i in rng.permutation(len(cells)).tolist()
    ]


def read_bench(truth: Truth, plan: Sequence[Mating], seed: int) -> list[Reading]:
    """Take the readings of `plan`, in its order; the same arguments give the same readings.

    Raises
    ------
    ArgumentFault
        When the plan names a condition of which there is no truth.
    """
    for mating in plan:
        if mating.condition not in truth.surfaces:
            raise ArgumentFault("plan", mating.condition, f"one of {', '.join(truth.surfaces)}")
    bench = _Bench(truth, seed)
    return [reading for mating in plan for reading in bench.read(mating)]


class _Bench:
    """The bench on the day: its errors, its clock, and the connectors met so far."""

    def __init__(self, truth: Truth, seed: int) -> None:
        self._truth = truth
        self._rng = np.random.default_rng(seed)
        self._volts = self._errors(truth.voltmeter)
        self._amperes = self._errors(truth.ammeter)
        self._phase = self._rng.uniform(0, 2 * np.pi)
        self._specimens: dict[str, float] = {}
        self._cells: dict[Cell, float] = {}
        self._clock = 0

    def read(self, mating: Mating) -> list[Reading]:
        """Close the connector and read it, the current forward and reversed in turn."""
        truth, rng = self._truth, self._rng
        surface = truth.surfaces[mating.condition]
        level = self._level(mating, surface) + surface.mating * rng.standard_normal()
        emf, drift = truth.emf * rng.standard_normal(), truth.emf_drift * rng.standard_normal()
        self._clock += mating.rest + self._pause(_TO_MATE)
        closed, found = self._clock, []
        for step in range(2 * mating.pairs):
            self._clock += self._pause(_TO_READ)
            age = self._clock - closed
            resistance = float(np.exp(level + surface.reading * rng.standard_normal()))
            resistance *= 1 + mating.excess * np.exp(-age / _SETTLING)
            found.append(self._shown(mating, step % 2 == 0, resistance, emf + drift * age))
        return found

    def _level(self, mating: Mating, surface: Surface) -> float:
        """Logarithm of the specimen's resistance under the condition, drawn when first met."""
        if mating.specimen not in self._specimens:
            self._specimens[mating.specimen] = self._truth.specimen * self._rng.standard_normal()
        if mating.cell not in self._cells:
            self._cells[mating.cell] = surface.response * self._rng.standard_normal()
        return float(np.log(surface.median)) + self._specimens[mating.specimen] + self._cells[mating.cell]

    def _shown(self, mating: Mating, forward: bool, resistance: float, emf: float) -> Reading:
        truth, rng = self._truth, self._rng
        current = truth.current * (1 + truth.current_step * rng.standard_normal()) * (1 if forward else -1)
        noise = truth.noise * rng.standard_normal()
        return Reading(
            mating.specimen,
            mating.condition,
            mating.number,
            forward,
            self._clock,
            self._room(),
            _display(truth.voltmeter, self._volts, resistance * current + emf, noise),
            _display(truth.ammeter, self._amperes, current),
        )

    def _errors(self, meter: Accuracy) -> tuple[float, float]:
        """Gain and offset of a meter, evenly within what its maker states."""
        gain, offset = self._rng.uniform(-1, 1, 2)
        return gain * meter.gain, offset * meter.counts * meter.resolution

    def _room(self) -> float:
        turn = 2 * np.pi * self._clock / _ROOM_CYCLE + self._phase
        return float(self._truth.temperature + self._truth.swing * np.sin(turn))

    def _pause(self, between: tuple[int, int]) -> int:
        return int(self._rng.integers(*between, endpoint=True))


def _display(meter: Accuracy, errors: tuple[float, float], value: float, noise: float = 0.0) -> float:
    gain, offset = errors
    return float(np.round(((1 + gain) * value + offset + noise) / meter.resolution) * meter.resolution)


def _not_negative(holder: object, *names: str) -> None:
    for name in names:
        if not 0 <= getattr(holder, name) < np.inf:
            raise ArgumentFault(name, getattr(holder, name), "zero or more")
