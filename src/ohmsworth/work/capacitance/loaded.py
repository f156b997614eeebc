"""The folder of a measurement of capacitance, as it is handed to the use case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.errors import Fault
from ohmsworth.resistance.admittance.divider import Divider
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes

#: What is wished for.
WISHES = "capacitance.toml"
#: Both inputs before the resistor; nothing behind it, before and after the wires.
BOTH, OPEN, OPEN_AGAIN = "both", "open", "open-again"
#: Takes that belong to no wire.
STANDARDS = (BOTH, OPEN, OPEN_AGAIN)


@dataclass(frozen=True, slots=True)
class MeasuredWire:
    """A wire that is measured from one end of a cable.

    Parameters
    ----------
    take
        The recording, without its ending.
    wire
        Its name, as in cable.toml.
    to
        What it is measured against.
    end
        The end of the cable at which the leads are.
    whole
        Whether it is known to be whole, and stands beside a broken one.
    """

    take: str
    wire: str
    to: str
    end: str
    whole: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class LoadedCapacitance:
    """What the folder holds.

    Parameters
    ----------
    wishes
        Which tones are played, and how loud.
    divider
        What stands before the wire.
    measured
        The wires, in their order.
    begin
        The text of the capacitance.toml to begin with, where there was none.
    plan
        What drive.wav was made of; None where there is none or it cannot be read.
    recordings
        Those that are there, opened and not read yet, by their names without ending.
    unused
        Sound files that nothing in the folder speaks of.
    faults
        Of recordings that cannot be opened.
    """

    wishes: Wishes
    divider: Divider
    measured: tuple[MeasuredWire, ...]
    begin: bytes | None
    plan: TonePlan | None
    recordings: Mapping[str, Recording]
    unused: tuple[str, ...]
    faults: tuple[Fault, ...]
