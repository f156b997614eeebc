"""What is known beside the takes of a contact."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.readings.study import Limit
from ohmsworth.resistance.impedance.circuit import Shunt


@dataclass(frozen=True, slots=True)
class Direct:
    """The same contact's resistance by direct current.

    Parameters
    ----------
    resistance, uncertainty
        Ohm, and its standard uncertainty in ohm.
    current
        Ampere that it was read with; None where nobody knows.
    reversed_too
        Whether the current was reversed, which cancels a thermal EMF.
    """

    resistance: float
    uncertainty: float
    current: float | None = None
    reversed_too: bool = False


@dataclass(frozen=True, slots=True)
class Known:
    """Everything beside circuit and takes.

    Parameters
    ----------
    limit
        A resistance not to be exceeded.
    direct
        The resistance by direct current.
    load
        The known resistor whose takes tell the scale, with what it has of inductance.
    calibrated
        The day on which short, load and open were taken, as it was written; None where nobody says.
    channels
        Numbers, from 1, of the channels of a recording that hold the first and the second input, where it has more than two.
    distortion
        Largest share of harmonic that an input makes of a tone at full scale, taken for one as large as the take.
    """

    limit: Limit | None = None
    direct: Direct | None = None
    load: Shunt | None = None
    calibrated: str | None = None
    channels: tuple[int, int] | None = None
    distortion: float = 1e-5
