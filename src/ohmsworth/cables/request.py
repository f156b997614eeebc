"""What is known of a cable before it is measured, and what was measured at it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

import numpy as np

from ohmsworth.cables.build import Build, Place
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.recorded import RecordedTest
from ohmsworth.cables.supply import Supply
from ohmsworth.readings.meters import Accuracy, independent_uncertainty, shared_uncertainties

#: A reading of this many ohm or more is no path (source "practice").
NO_PATH = 1e6
#: What is cut for stripping, fanning out and terminating at an end where nothing is stated, metre (source "practice").
ALLOWANCE = 0.05
#: Standard uncertainties by which a meter shows less than nothing where there is nothing.
_ZERO = 3.0
#: Temperature that is taken where none is stated, and by how much it may be off, kelvin.
USUAL_TEMPERATURE, USUAL_TOLERANCE = 293.15, 5.0


@dataclass(frozen=True, slots=True)
class CableMeter:
    """The ohmmeter.

    Parameters
    ----------
    accuracy
        As its maker states it, ohm.
    leads
        Ohm of its leads, taken off every reading, with the standard uncertainty of that; zero for a four-wire meter.
    name, serial
        What it is called, and which one of its kind it is; "" where nobody says.
    calibrated
        The day of its last calibration; None where nobody says.
    """

    accuracy: Accuracy
    leads: Quantity = field(default_factory=lambda: Quantity(0.0))
    name: str = ""
    serial: str = ""
    calibrated: date | None = None

    def independent(self, ohm: float) -> float:
        """Standard uncertainty that is new in every reading, ohm."""
        return float(independent_uncertainty(self.accuracy, np.asarray(ohm)))

    def uncertainty(self, ohm: float) -> float:
        """Standard uncertainty of a reading against a bound, ohm: everything counts."""
        return math.hypot(self.without_leads(ohm), self.leads.uncertainty)

    def without_leads(self, ohm: float) -> float:
        """The same without what is unsure of the leads, ohm."""
        shared = shared_uncertainties(self.accuracy, np.asarray(ohm)).values()
        return math.hypot(*(float(part) for part in shared), self.independent(ohm))

    @property
    def least(self) -> float:
        """What it may show between contacts that have nothing between them, ohm: below zero by what it is unsure of."""
        return -_ZERO * self.uncertainty(0.0)


@dataclass(frozen=True, slots=True)
class Locate:
    """A fault whose distance was measured.

    Parameters
    ----------
    method
        A key of `located.METHODS`.
    wires
        Names of the wires concerned: the faulty one first.
    at
        Name of the end that is called near.
    readings
        By the names that the method gives them, SI.
    """

    method: str
    wires: tuple[str, ...]
    at: str
    readings: Mapping[str, Quantity]


@dataclass(frozen=True, slots=True)
class CableRequest:
    """A cable, and how it is to be judged.

    Parameters
    ----------
    build
        As it should be.
    serial
        What tells it from others of its kind.
    temperature, temperature_tolerance
        Kelvin of the cable, and by how much it may be off either way.
    stated
        Whether somebody said so.
    meter
        None before one is stated.
    coverage
        Confidence that a verdict needs.
    no_path
        Ohm from which on a reading is no path.
    allowances
        Metre to be cut for each end by its name, where stated.
    joints
        Metre from the first end of joints on the way.
    locate
        Faults whose distance was measured.
    supply
        What it is made from, and how many copies.
    recorded
        Tests that were made with other equipment.
    """

    build: Build
    serial: str = ""
    temperature: float = USUAL_TEMPERATURE
    temperature_tolerance: float = USUAL_TOLERANCE
    stated: bool = True
    meter: CableMeter | None = None
    coverage: float = 0.95
    no_path: float = NO_PATH
    allowances: Mapping[str, float] = field(default_factory=dict)
    joints: tuple[float, ...] = ()
    locate: tuple[Locate, ...] = ()
    supply: Supply = field(default_factory=Supply)
    recorded: tuple[RecordedTest, ...] = ()


@dataclass(frozen=True, slots=True)
class CableRow:
    """One measurement.

    Parameters
    ----------
    line
        On which it stands.
    one, other
        Contacts joined by hand on either side of the meter.
    ohm
        What the meter showed; None for no path.
    """

    line: int
    one: tuple[Place, ...]
    other: tuple[Place, ...]
    ohm: float | None
