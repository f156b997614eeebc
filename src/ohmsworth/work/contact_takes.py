"""From the recordings of one contact among many to its impedance, and what is to be said of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.dry import dryness
from ohmsworth.resistance.impedance.fluctuation import FEWEST_GROUPS, fluctuation
from ohmsworth.resistance.impedance.from_takes import Measured, Takes, impedance
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import windows_for
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.takes import CONTACT_INPUT, freed, heard_takes, unfit
from ohmsworth.work.takes_sound import SoundDoubt
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
    takes, _ = heard_takes(loaded, unfit(loaded, kept))
    found = dict(kept)
    for series in SERIES:
        mine = {kind: take for (of, kind), take in takes.items() if of == series}
        if mine:
            found[series] = _common(_measured(loaded, mine).curve, series)
    return found


def standard_of(
    loaded: LoadedTakes, series: Series, recordings: Mapping[Kind, Recording]
) -> tuple[Curve, tuple[SoundDoubt, ...]]:
    """The curve of one standard from its own `recordings`, as `standards_of` gives it, and the doubts about their sound.

    Raises
    ------
    InputRefused
        With the faults of all its recordings.
    """
    mine: dict[tuple[Series, Kind], Recording] = {(series, kind): one for kind, one in recordings.items()}
    takes, doubts = heard_takes(replace(loaded, recordings=mine))
    measured = _measured(loaded, {kind: take for (_, kind), take in takes.items()})
    return _common(measured.curve, series), doubts


def contact_of(
    loaded: LoadedTakes, recordings: Mapping[Kind, Recording], standards: Mapping[Series, Curve]
) -> tuple[Curve, TakeState]:
    """The impedance of one contact from its own `recordings`; `loaded` and `standards` are the folder's.

    Raises
    ------
    InputRefused
        With the faults of all its recordings.
    """
    mine: dict[tuple[Series, Kind], Recording] = {("contact", kind): one for kind, one in recordings.items()}
    heard, doubts = heard_takes(replace(loaded, recordings=mine))
    takes = {kind: take for (_, kind), take in heard.items()}
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
    rest = _rest(loaded.plan, straight)
    return TakeState(
        gains is not None,
        gains,
        dry.voltage.largest,
        beyond,
        rest,
        told,
        dry.current.largest,
        dry.open_circuit,
    )


def _rest(plan: TonePlan, straight: Take) -> str | None:
    if len(straight.tones.groups) < FEWEST_GROUPS:
        return None
    apart = windows_for(plan.periods).hop * plan.period / plan.rate
    return fluctuation(straight.tones, apart, plan.way, CONTACT_INPUT).verdict
