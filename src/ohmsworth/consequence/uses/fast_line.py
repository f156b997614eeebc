"""What a line for fast signals has to be, so that it can be reckoned at all of their frequencies."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import CableConstants, line_chain, wave_constants
from ohmsworth.consequence.use import Use, number
from ohmsworth.errors import ArgumentFault


def check_line(use: Use, cable: CableConstants, frequency: float) -> None:
    """Refuse a `cable` without capacitance, with a conductor too thick for `frequency` hertz, or that nothing passes through."""
    if cable.capacitance[0, 1] == 0:
        key = "capacitance" if "capacitance" in use.settings else "core_core"
        raise ArgumentFault(key, 0.0, "some capacitance between the two conductors")
    top = np.array([frequency])
    try:
        wave_constants(cable, top)
    except ArgumentFault as fault:
        if fault.name != "frequency":
            raise
        wanted = f"a thinner conductor: the skin effect of this one is not reckoned up to {frequency:g} Hz"
        raise ArgumentFault("conductor", use.settings["conductor"], wanted) from fault
    line_chain(cable, number(use, "length"), top)
