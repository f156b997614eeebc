"""From the recordings of one contact among many to its impedance, and what is to be said of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.dry import dryness
from ohmsworth.resistance.impedance.fluctuation import FEWEST_GROUPS, fluctuation
from ohmsworth.resistance.impedance.from_takes import Measured, Takes, impedance
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import windows_for
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.takes import CONTACT_INPUT, freed, unfit
from ohmsworth.work.tone_files import KINDS, SERIES, Kind, Series


@dataclass(frozen=True, slots=True)
class TakeState:
    """What the recordings of a contact say beside its impedance.

    Parameters
    ----------
    swapped
        Whether there is a take with the inputs exchanged.
    gains
        Relative difference of the inputs' gains; None without a swapped take.
    voltage
        Largest volts across the contact.
    exceeded
        Limits of a dry circuit that were exceeded: "voltage", "current", "open circuit".
    rest
        "at rest", or what it did instead; None where too little was recorded to tell.
    """

    swapped: bool
    gains: float | None
    voltage: float
    exceeded: tuple[str, ...]
    rest: str | None


def standards_of(loaded: LoadedTakes) -> dict[Series, Curve]:
    """Curves of short, load and open, which every contact of the folder has in common.

    Their noise is one error of all contacts: it stands among the shared parts, in phase with R and a quarter of a turn off.

    Raises
    ------
    InputRefused
        With the faults of all their recordings.
    """
    faults = unfit(loaded)
    takes: dict[tuple[Series, Kind], Take] = {}
    for place, recording in loaded.recordings.items():
        try:
            takes[place] = read_take(loaded.plan, recording)
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    found = {}
    for series in SERIES:
        mine = {kind: take for (of, kind), take in takes.items() if of == series}
        if mine:
            found[series] = _common(_measured(loaded, mine).curve, series)
    return found


def contact_of(
    loaded: LoadedTakes, recordings: Mapping[Kind, Recording], standards: Mapping[Series, Curve]
) -> tuple[Curve, TakeState]:
    """The impedance of one contact from its own `recordings`; `loaded` and `standards` are the folder's.

    Raises
    ------
    InputRefused
        With the faults of all its recordings.
    """
    faults: list[Fault] = []
    takes: dict[Kind, Take] = {}
    for kind, recording in recordings.items():
        try:
            takes[kind] = read_take(loaded.plan, recording)
        except InputRefused as refused:
            faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    measured = _measured(loaded, takes)
    curve = freed({"contact": measured.curve, **standards}, loaded.known)
    return curve, _state(loaded, takes["straight"], measured)


def _measured(loaded: LoadedTakes, takes: Mapping[Kind, Take]) -> Measured:
    four = Takes(*(takes.get(kind) for kind in KINDS))  # type: ignore[arg-type]
    return impedance(loaded.plan, loaded.wishes.circuit, four)


def _common(curve: Curve, series: Series) -> Curve:
    """`curve` with its noise as an error of everything that it is taken off."""
    sizes = np.sqrt(curve.random[:, [0, 1], [0, 1]])
    noise = {
        f"noise of the {series} in step": sizes[:, 0] + 0j,
        f"noise of the {series} a quarter off": 1j * sizes[:, 1],
    }
    none, sure = np.zeros_like(curve.random), np.full(len(curve.frequency), np.inf)
    return replace(curve, random=none, degrees=sure, shared={**curve.shared, **noise})


def _state(loaded: LoadedTakes, straight: Take, measured: Measured) -> TakeState:
    dry = dryness(straight, loaded.plan, loaded.wishes.circuit, CONTACT_INPUT)
    gains = None if measured.inputs is None else float(np.abs(np.abs(measured.inputs).mean() - 1))
    beyond = tuple(one for one in dry.exceeded if one != "frequency")
    return TakeState(gains is not None, gains, dry.voltage.largest, beyond, _rest(loaded.plan, straight))


def _rest(plan: TonePlan, straight: Take) -> str | None:
    if len(straight.tones.groups) < FEWEST_GROUPS:
        return None
    apart = windows_for(plan.periods).hop * plan.period / plan.rate
    return fluctuation(straight.tones, apart, plan.way, CONTACT_INPUT).verdict
