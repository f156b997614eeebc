"""A bench for practice: one contact between a current source and meters that are read one after another.

    V at the contact = R(t)·I + E + D·t + noise
    R(t) = R·(1 + excess·exp(−t/relax))
    I = level, or as much as the compliance lets through R and the leads

t runs from the closing of the contact. A two-wire reading has the leads in it; an ohmmeter has a current of its own and
leaves the EMF in. The meters are without error but for noise and their last digit.
"""

from __future__ import annotations

import math
import threading
import zlib
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

#: Volt, ampere, ohm: the largest that the meters show, and one count of each.
MOST = {"voltage": 1.2, "current": 1.2, "resistance": 120.0}
COUNT = {"voltage": 1e-7, "current": 1e-6, "resistance": 1e-6}
#: Ampere: what the ohmmeter sends through the contact.
_OHMMETER_CURRENT = 0.01
_NOISE = 1e-7


@dataclass(frozen=True, slots=True)
class Contact:
    """What is true of a closed contact.

    Parameters
    ----------
    resistance
        Ohm, settled; infinite for an open one.
    emf, drift
        Thermal EMF in volt, and its drift in volt per second.
    excess, relax
        How much higher it stands when just closed, as a fraction, and the seconds in which that falls to 1/e.
    lead
        Ohm: what two-wire readings have in them besides.
    noise
        Standard deviation of a voltage reading, volt.
    """

    resistance: float = 2.35e-3
    emf: float = 4e-6
    drift: float = 0.0
    excess: float = 0.0
    relax: float = 60.0
    lead: float = 0.12
    noise: float = _NOISE


class ScpiBench:
    """The bench: its source, its contact, and what the meters show.

    Parameters
    ----------
    seed
        Of the noise and of the contacts that `connect` draws.
    clock
        A clock that only goes forward, in seconds.
    contact
        The first one.
    """

    def __init__(self, seed: int, clock: Callable[[], float], contact: Contact | None = None) -> None:
        self._seed = seed
        self._rng = np.random.default_rng(seed)
        self._clock = clock
        self._lock = threading.RLock()
        self.output = False
        self.level = 0.0
        self.compliance = 10.0
        self.step = 0.0  # of the source's settings, ampere and volt; 0 for one that sets anything
        self.turned = False
        self.close_contact(contact or Contact())

    def close_contact(self, contact: Contact) -> None:
        """Close another contact, now."""
        with self._lock:
            self.contact, self._closed = contact, self._clock()

    def connect(self, name: str) -> Contact:
        """Close the contact of a specimen: the same name and seed give the same one."""
        rng = np.random.default_rng([self._seed, zlib.crc32(name.encode("utf-8"))])
        contact = Contact(
            resistance=float(2.3e-3 * np.exp(0.15 * rng.standard_normal())),
            emf=float(2e-6 * rng.standard_normal()),
            drift=float(3e-9 * rng.standard_normal()),
            excess=float(rng.choice([0.0, 0.0, 0.02])),
        )
        self.close_contact(contact)
        return contact

    def turn_leads(self, turned: bool) -> None:
        """Lay the current leads the other way round, as a person does."""
        self.turned = turned

    def resistance(self) -> float:
        """The true resistance now."""
        age = self._clock() - self._closed
        return self.contact.resistance * (1 + self.contact.excess * math.exp(-age / self.contact.relax))

    def current(self) -> float:
        """What flows now, ampere."""
        with self._lock:
            if not self.output or math.isinf(self.contact.resistance):
                return 0.0
            most = self.compliance / (self.resistance() + self.contact.lead)
            return math.copysign(min(abs(self.level), most), self.level) * (-1 if self.turned else 1)

    def shown(self, quantity: str, four_wire: bool = True) -> float | None:
        """What a meter shows, rounded to a count; None for an overload."""
        with self._lock:
            if quantity == "voltage":
                value = self._voltage()
            else:
                value = self.current() if quantity == "current" else self._ohms(four_wire)
        if not abs(value) <= MOST[quantity]:
            return None
        return round(value / COUNT[quantity]) * COUNT[quantity]

    def _voltage(self) -> float:
        if math.isinf(self.contact.resistance):
            return math.copysign(self.compliance, self.level) if self.output and self.level else self._noise()
        return self.resistance() * self.current() + self._emf() + self._noise()

    def _ohms(self, four_wire: bool) -> float:
        drop = (self.resistance() + (0.0 if four_wire else self.contact.lead)) * _OHMMETER_CURRENT
        return (drop + self._emf() + self._noise()) / _OHMMETER_CURRENT

    def _emf(self) -> float:
        return self.contact.emf + self.contact.drift * (self._clock() - self._closed)

    def _noise(self) -> float:
        return float(self.contact.noise * self._rng.standard_normal())
