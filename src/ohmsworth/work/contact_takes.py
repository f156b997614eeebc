"""From the recordings of one contact among many to its impedance, and what is to be said of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

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
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.takes import CONTACT_INPUT, freed, unfit
from ohmsworth.work.takes_sound import SoundDoubt, sound_doubts
from ohmsworth.work.tone_files import KINDS, SERIES, Kind, Series


def standards_of(loaded: LoadedTakes, kept: Mapping[Series, Curve] | None = None) -> dict[Series, Curve]:
    """Curves of short, load and open, which every contact of the folder has in common.

    `kept` are those whose recordings told it before. The noise of each is one error of all contacts: it stands among the shared
    parts, in phase with R and a quarter of a turn off.

    Raises
    ------
    InputRefused
        With the faults of all their recordings.
    """
    kept = kept or {}
    faults = unfit(loaded, kept)
    takes: dict[tuple[Series, Kind], Take] = {}
    for place, recording in loaded.recordings.items():
        try:
            takes[place] = read_take(loaded.plan, recording)
        except InputRefused as refused:
            faults += refused.faults
    faults += sound_doubts(loaded, takes)[0]
    if faults:
        raise InputRefused(tuple(faults))
    found = dict(kept)
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
    mine: dict[tuple[Series, Kind], Recording] = {("contact", kind): one for kind, one in recordings.items()}
    more, doubts = sound_doubts(
        replace(loaded, recordings=mine), {("contact", kind): take for kind, take in takes.items()}
    )
    faults += more
    if faults:
        raise InputRefused(tuple(faults))
    measured = _measured(loaded, takes)
    curve = freed({"contact": measured.curve, **standards}, loaded.known)
    return curve, _state(loaded, takes["straight"], measured, doubts)


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


def _state(
    loaded: LoadedTakes, straight: Take, measured: Measured, doubts: tuple[SoundDoubt, ...]
) -> TakeState:
    dry = dryness(straight, loaded.plan, loaded.wishes.circuit, CONTACT_INPUT)
    gains = None if measured.inputs is None else float(np.abs(np.abs(measured.inputs).mean() - 1))
    beyond = tuple(one for one in dry.exceeded if one != "frequency")
    told = tuple((one.doubt.code, f"{one.file}: {one.doubt.words}", one.doubt.mend) for one in doubts)
    return TakeState(
        gains is not None, gains, dry.voltage.largest, beyond, _rest(loaded.plan, straight), told
    )


def _rest(plan: TonePlan, straight: Take) -> str | None:
    if len(straight.tones.groups) < FEWEST_GROUPS:
        return None
    apart = windows_for(plan.periods).hop * plan.period / plan.rate
    return fluctuation(straight.tones, apart, plan.way, CONTACT_INPUT).verdict
