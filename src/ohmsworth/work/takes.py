"""Takes in; the impedance of the contact out, with everything that is to be said of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.errors import ArgumentFault, Fault, InputRefused
from ohmsworth.resistance.impedance.against_dc import AgainstDirect, against_direct
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.dry import Dryness, dryness
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.fluctuation import FEWEST_GROUPS, Fluctuation, fluctuation
from ohmsworth.resistance.impedance.from_takes import Measured, Takes, impedance
from ohmsworth.resistance.impedance.input_scale import levels
from ohmsworth.resistance.impedance.interface import Hum, hum_of, noise_of
from ohmsworth.resistance.impedance.known import Direct, Known
from ohmsworth.resistance.impedance.nonohmic import NonOhmic, nonohmic
from ohmsworth.resistance.impedance.parts import Parts, parts
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.residual import Load, corrected
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import windows_for
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.takes_sound import SoundDoubt, sound_doubts
from ohmsworth.work.tone_files import KINDS, SERIES, WISHES, Kind, Series, stem_of

#: Input (from 0) that hears the contact in a straight take.
CONTACT_INPUT = 1


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """What is found in the takes of one contact.

    Parameters
    ----------
    takes
        Every take after lock-in.
    measured
        The contact as it was measured, and what the takes tell of the inputs.
    curve
        The same, freed from what short, load and open took off.
    parts
        What it is made of; None where too few groups were recorded, with the reason in `unfitted`.
    resistance
        At low frequency.
    direct
        Beside direct current; None where there is none.
    dry
        Against a dry circuit.
    full_scale
        Peak volts that read as full scale, by input.
    noise
        Noise density by input and tone, V/√Hz.
    hum
        In the straight take, full scale being 1.
    nonohmic
        What the contact adds of its own; None where the take holds no product of tones.
    rest
        Whether it rested in the straight take; None with too few groups.
    sound
        What is doubtful about the sound of the recordings.
    """

    takes: Mapping[tuple[Series, Kind], Take]
    measured: Measured
    curve: Curve
    parts: Parts | None
    unfitted: str
    resistance: Estimated
    direct: AgainstDirect | None
    dry: Dryness
    full_scale: tuple[float, float]
    noise: np.ndarray
    hum: Hum | None
    nonohmic: NonOhmic | None
    rest: Fluctuation | None
    sound: tuple[SoundDoubt, ...]


def find(loaded: LoadedTakes) -> Found:
    """Everything that is computed from the takes.

    Raises
    ------
    InputRefused
        With the faults of all recordings, those that could not be opened among them.
    """
    takes, sound = heard_takes(loaded, [*loaded.faults, *unfit(loaded)])
    plan, circuit, known = loaded.plan, loaded.wishes.circuit, loaded.known
    measured = {
        series: impedance(plan, circuit, Takes(*(takes.get((series, kind)) for kind in KINDS)))  # type: ignore[arg-type]
        for series in SERIES
        if (series, "straight") in takes
    }
    contact = measured["contact"]
    curve = freed({series: one.curve for series, one in measured.items()}, known)
    fitted, unfitted = _taken_apart(curve)
    resistance = at_tone(curve, 0).real if fitted is None else fitted.parameters["resistance"]
    straight = takes["contact", "straight"]
    scale = levels(straight.tones, plan, circuit, CONTACT_INPUT).full_scale[::-1]
    return Found(
        takes,
        contact,
        curve,
        fitted,
        unfitted,
        resistance,
        None if known.direct is None else _against(resistance, known.direct),
        dryness(straight, plan, circuit, CONTACT_INPUT),
        (scale[0], scale[1]),
        noise_of(straight.tones, plan) * np.array(scale)[:, None],
        hum_of(loaded.recordings["contact", "straight"], plan, straight.start),
        _bent(loaded, straight, takes.get(("contact", "swapped"))),
        _rested(loaded.plan, straight),
        sound,
    )


def heard_takes(
    loaded: LoadedTakes, before: Sequence[Fault] = ()
) -> tuple[dict[tuple[Series, Kind], Take], tuple[SoundDoubt, ...]]:
    """Every recording of `loaded` read, and what is doubtful about their sound.

    Raises
    ------
    InputRefused
        With all faults at once, those known `before` among them.
    """
    faults = [*before]
    takes: dict[tuple[Series, Kind], Take] = {}
    for place, recording in loaded.recordings.items():
        try:
            takes[place] = read_take(loaded.plan, recording)
        except InputRefused as refused:
            faults += refused.faults
    more, doubts = sound_doubts(loaded, takes)
    faults += more
    if faults:
        raise InputRefused(tuple(faults))
    return takes, doubts


def unfit(loaded: LoadedTakes, kept: Collection[Series] = ()) -> list[Fault]:
    """Takes of short, load and open that cannot be used as they are; of those `kept` the recordings need not be there."""
    return lacking({series for series, _ in loaded.recordings} | set(kept), loaded.known)


def lacking(there: Collection[Series], known: Known) -> list[Fault]:
    """What the takes of short, load and open that are `there` lack."""
    faults = []
    if "load" in there and known.load is None:
        mend = "Add [load] with resistance and tolerance."
        faults.append(Fault(WISHES, "no table [load], and takes of a load", "what the load is", mend))
    needed: tuple[tuple[Series, Series], ...] = (("load", "short"), ("open", "load"))
    for series, needs in needed:
        if series in there and needs not in there:
            of, other = stem_of(series, "straight"), stem_of(needs, "straight")
            mend = f"Record the {needs} as well, or move the takes of the {series} aside."
            faults.append(Fault(of, f"no {other} beside it", f"{other}.wav", mend))
    return faults


def freed(curves: Mapping[Series, Curve], known: Known) -> Curve:
    """The contact's curve without what short, load and open tell."""
    if "short" not in curves:
        return curves["contact"]
    load = None
    if "load" in curves and known.load is not None:
        load = Load(curves["load"], _standard(curves["load"].frequency, known))
    try:
        return corrected(curves["contact"], curves["short"], load, curves.get("open"))
    except ArgumentFault as fault:
        found = "takes of short, load and open that are alike"
        mend = "Check that each was recorded with the right thing in the contact's place."
        raise InputRefused((Fault("short, load and open", found, "three that differ", mend),)) from fault


def _standard(frequency: np.ndarray, known: Known) -> Curve:
    """What the load is, by what is stated of it; a half-width of a rectangle is √3 standard uncertainties."""
    load = known.load
    assert load is not None
    turn = 2j * np.pi * frequency
    shared = {
        "load": np.full(len(frequency), load.resistance * load.tolerance / np.sqrt(3), complex),
        "load's inductance": turn * load.inductance_tolerance / np.sqrt(3),
    }
    none = np.zeros((len(frequency), 2, 2))
    return Curve(frequency, load.impedance(frequency), none, np.full(len(frequency), np.inf), shared)


def _taken_apart(curve: Curve) -> tuple[Parts | None, str]:
    try:
        return parts(curve), ""
    except ArgumentFault as fault:
        return None, str(fault)


def _against(resistance: Estimated, direct: Direct) -> AgainstDirect:
    voltage = None if direct.current is None else direct.current * direct.resistance
    return against_direct(
        resistance, direct.resistance, direct.uncertainty, voltage=voltage, reversed_too=direct.reversed_too
    )


def _bent(loaded: LoadedTakes, straight: Take, swapped: Take | None) -> NonOhmic | None:
    circuit, distortion = loaded.wishes.circuit, loaded.known.distortion
    try:
        return nonohmic(straight, loaded.plan, circuit, CONTACT_INPUT, swapped, distortion)
    except ArgumentFault:  # a single tone near the end of the band has no harmonic in it
        return None


def _rested(plan: TonePlan, straight: Take) -> Fluctuation | None:
    """Groups follow each other by a hop."""
    if len(straight.tones.groups) < FEWEST_GROUPS:
        return None
    apart = windows_for(plan.periods).hop * plan.period / plan.rate
    return fluctuation(straight.tones, apart, plan.way, CONTACT_INPUT)


@dataclass(frozen=True, slots=True)
class AtTone:
    """R and X at one tone, in ohm."""

    real: Estimated
    imaginary: Estimated


def at_tone(curve: Curve, tone: int) -> AtTone:
    """R and X at tone number `tone`, each with its uncertainty by source."""
    effects = {name: complex(effect[tone]) for name, effect in curve.shared.items()}
    value, noise, degrees = complex(curve.value[tone]), curve.random[tone], float(curve.degrees[tone])
    real = Estimated(
        value.real, float(np.sqrt(noise[0, 0])), degrees, {name: e.real for name, e in effects.items()}
    )
    return AtTone(
        real,
        replace(
            real,
            value=value.imag,
            random=float(np.sqrt(noise[1, 1])),
            shared={name: e.imag for name, e in effects.items()},
        ),
    )
