"""The cable of a use with its contacts as a two-port, without source and load."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit import (
    Block,
    Circuit,
    Contact,
    Element,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    respond,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Complex
from ohmsworth.consequence.scattering import chain_from_scattering
from ohmsworth.consequence.twoport import TwoPort


@dataclass(frozen=True, slots=True)
class Port:
    """Two nodes of a circuit; where `back` is named both are driven against it in opposite phase, as a balanced port is."""

    plus: str
    minus: str
    back: str = ""


@dataclass(frozen=True, slots=True)
class Signal:
    """What drives a circuit, volts or amperes by name of its sources, and the volts that arrive."""

    drive: Mapping[str, float]
    arrives: Volts


@dataclass(frozen=True, slots=True)
class Path:
    """Where a use's cable begins and ends, the ohm in which it is usually told, and what its sources drive for a signal."""

    near: Port
    far: Port
    reference: float
    drive: Mapping[str, float]

    @property
    def signal(self) -> Signal:
        """The signal from end to end."""
        return Signal(self.drive, Volts(self.far.plus, self.far.minus))


def path_two_port(circuit: Circuit, path: Path, ohm: npt.ArrayLike, frequency: Array) -> TwoPort:
    """Cables, computed or measured, and contacts of `circuit` between the ports of `path`.

    Parameters
    ----------
    ohm
        Resistance of each contact of the circuit, shape (K,), in its order.
    frequency
        Hertz above 0, ascending, shape (m,).

    Notes
    -----
    By the waves of both ports, each driven and ended with the reference. Of a balanced port the common mode ends in the same way
    and is not told.
    """
    kept: list[Element] = [part for part in circuit.elements if isinstance(part, Contact | Line | Block)]
    columns = [_waves(kept, path, name, ohm, frequency) for name in ("near", "far")]
    scattering = np.stack(columns, -1)
    return TwoPort(frequency, chain_from_scattering(scattering, path.reference))


def _waves(kept: list[Element], path: Path, driven: str, ohm: npt.ArrayLike, frequency: Array) -> Complex:
    """What comes out of both ports for a wave into one, shape (m, 2)."""
    parts = [*kept, *_ended("near", path.near, path.reference), *_ended("far", path.far, path.reference)]
    # 2 V behind the reference are a wave of 1.
    asked = [Volts(port.plus, port.minus) for port in (path.near, path.far)]
    halves = {f"{driven} plus": 1.0, f"{driven} minus": -1.0}
    found = [
        respond(one, np.atleast_2d(ohm))[0]
        for one in transfers(Circuit(tuple(parts)), frequency, halves, asked)
    ]
    return np.stack([wave - (name == driven) for wave, name in zip(found, ("near", "far"), strict=True)], -1)


def _ended(name: str, port: Port, reference: float) -> list[Element]:
    """A port's source and reference, half of each in either leg against the middle."""
    middle = port.back or f"{name} middle"
    return [
        VoltageSource(f"{name} plus", f"{name} source plus", middle),
        VoltageSource(f"{name} minus", f"{name} source minus", middle),
        Resistor(f"{name} source plus", port.plus, reference / 2),
        Resistor(f"{name} source minus", port.minus, reference / 2),
    ]
