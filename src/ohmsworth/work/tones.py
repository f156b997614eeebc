"""Wishes in; the plan of the tones out, with what is to be connected and what it will tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ohmsworth.advice.cautions import TONES_APART, TONES_HOT, TONES_LOUD, TONES_OUTPUT
from ohmsworth.errors import ArgumentFault, Fault, InputRefused
from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.tones_answer import (
    FORMAT,
    CircuitAnswer,
    LevelAnswer,
    RecordingAnswer,
    ToneAnswer,
    TonesAnswer,
)
from ohmsworth.report.tones_sentences import tones_findings, tones_method, tones_sentence
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.drive import largest_sample, level_tone, peak
from ohmsworth.resistance.impedance.levels import (
    Level,
    dry_bridge,
    largest_current,
    largest_series,
    level_of,
)
from ohmsworth.resistance.impedance.predicted import (
    lasting_uncertainty,
    random_uncertainty,
    seconds_of,
    times_needed,
)
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for
from ohmsworth.sources import source
from ohmsworth.units import show, show_stated
from ohmsworth.work.in_place import IN_PLACE
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.tone_files import KINDS, PLAN, WISHES, Series, stem_of

#: A resistor that bears more than this gets hot to the touch, watt.
HOT = 0.5
#: Recordings that a refusal names.
_NAMED = 6
#: A series resistor of fewer ohm is no load for an output; none is told of.
LEAST_LOAD = 8.0
#: Amplitudes that differ by no larger share are alike: plans are written with nine decimals.
_ALIKE = 1e-6
_SOURCES = (
    "Schroeder1970",
    "VanDerOuderaa1988",
    "Riesz1914",
    "Kay",
    "IEEE1057",
    "IEC60512-2-1",
    "IEC60512-4",
)
#: Where in tones.toml each wish stands, and how to mend it.
_KEYS = {
    "tones": ("[tones], key 'number'", "Wish for fewer tones, a wider range, or a longer period."),
    "low": ("[tones], key 'lowest'", "Choose a range that ascends."),
    "high": ("[tones], key 'highest'", "Choose a lower highest tone, or a faster rate."),
    "period": ("[tones], key 'period'", "Choose another period, or leave it out."),
    "seconds": ("[tones], key 'time'", "Give the tones more time, or wish for fewer."),
}


def plan_tones(loaded: LoadedTones) -> tuple[TonePlan, TonesAnswer]:
    """The plan for what a folder wishes, and everything that is to be said of it.

    Raises
    ------
    InputRefused
        Where the wishes cannot be had, or where recordings of another plan are in the folder.
    """
    plan = planned(loaded.wishes)
    if _recordings(loaded) and loaded.plan is not None and made_earlier(loaded.plan, plan):
        plan = loaded.plan
    refuse_other_plan(_recordings(loaded), loaded.plan, plan)
    return plan, answer_of(loaded.wishes, plan)


def planned(wishes: Wishes, file: str = WISHES) -> TonePlan:
    """The plan for wishes that stand in `file`.

    Raises
    ------
    InputRefused
        Where they cannot be had.
    """
    try:
        return plan_for(wishes)
    except ArgumentFault as fault:
        if fault.name == "current":
            raise InputRefused((_too_much(wishes),)) from fault
        if fault.name not in _KEYS:
            raise
        where, mend = _KEYS[fault.name]
        found, _, expected = str(fault).removeprefix(f"{fault.name}: got ").partition(", wanted ")
        raise InputRefused((Fault(f"{file}, {where}", found, expected, mend),)) from fault


def _too_much(wishes: Wishes) -> Fault:
    """The refusal of a current that the output cannot give, and what could."""
    circuit = wishes.circuit
    crest = _crest(wishes)
    peak_wanted = wishes.current * crest
    most = largest_current(circuit, wishes.contact)
    series = largest_series(circuit, wishes.contact, peak_wanted)
    ways = [f"a series resistor of at most {show(series, 'Ω')}"] if series >= LEAST_LOAD else []
    if circuit.bridge is not None:
        ways.append("a larger bridge")
    ways.append("a stronger output")
    key = "current_rms" if wishes.rms else "current"
    return Fault(
        f"{WISHES}, key '{key}'",
        show_stated(wishes.current, "A"),
        f"at most {show(most / crest, 'A')} from this output through this circuit",
        f"Less current will do, or {', or '.join(ways)}.",
    )


def _crest(wishes: Wishes) -> float:
    """Peak over root mean square of what such a plan plays; 1 where the peak is what is wished for."""
    if not wishes.rms:
        return 1.0
    quiet = replace(wishes, current=1e-3 * largest_current(wishes.circuit, wishes.contact))
    level = level_of(plan_for(quiet), wishes.circuit, wishes.contact)
    return level.current / level.current_rms


def refuse_other_plan(made: Sequence[str], kept: TonePlan | None, plan: TonePlan, file: str = WISHES) -> None:
    """Refuse a plan that plays otherwise than the one `kept`, which the recordings `made` were made with.

    Raises
    ------
    InputRefused
        Where they would be of no use any more.
    """
    if not made or (kept is not None and same_plan(kept, plan)):
        return
    more = f" and {len(made) - _NAMED} more" if len(made) > _NAMED else ""
    found = f"recordings ({', '.join(made[:_NAMED])}{more}) of another plan than {file} now asks for"
    mend = "Take a new folder for the new plan, or move the recordings away together with their plan.json."
    raise InputRefused((Fault(PLAN, found, "the plan that the recordings were made with", mend),))


def _recordings(loaded: LoadedTones) -> tuple[str, ...]:
    return (*loaded.recordings, *loaded.contacts)


def made_earlier(kept: TonePlan, plan: TonePlan) -> bool:
    """Whether `kept` is `plan` as earlier releases made it: its largest sample, not its peak, reaches the wished current."""
    if len(kept.cycles) != len(plan.cycles) or not same_plan(replace(kept, amplitudes=plan.amplitudes), plan):
        return False
    louder = peak(plan) / largest_sample(plan)
    return bool(np.allclose(kept.amplitudes, louder * plan.amplitudes, rtol=_ALIKE, atol=0))


def same_plan(one: TonePlan, other: TonePlan) -> bool:
    """Whether both play the same."""
    names = TonePlan.__dataclass_fields__
    return all(np.array_equal(getattr(one, name), getattr(other, name)) for name in names)


def answer_of(wishes: Wishes, plan: TonePlan) -> TonesAnswer:
    """Everything that is to be said of a plan."""
    circuit = wishes.circuit
    level = level_of(plan, circuit, wishes.contact)
    left = random_uncertainty(plan, level, circuit, wishes.contact, wishes.noise, wishes.takes)
    worst = float(left.max())
    times = None if wishes.uncertainty is None else times_needed(left, wishes.uncertainty)
    bare = TonesAnswer(
        format=FORMAT,
        sentence="",
        findings=(),
        contact=wishes.contact,
        way=plan.way,
        rate=plan.rate,
        period=plan.period / plan.rate,
        seconds=seconds_of(plan),
        length=plan.length / plan.rate,
        channels=wishes.channels,
        level_check_frequency=level_tone(plan),
        level_check_seconds=plan.level / plan.rate,
        tones=_tones(plan, level, left),
        circuit=_circuit(circuit),
        level=_level(wishes, plan, level),
        noise=wishes.noise,
        standard_uncertainty=worst,
        lasting_uncertainty=lasting_uncertainty(circuit, wishes.contact, wishes.turned),
        in_turn_uncertainty=_in_turn(plan, level, worst),
        wished_uncertainty=wishes.uncertainty,
        seconds_enough=None if times is None else times * seconds_of(plan) * plan.turns,
        current_enough=None if times is None else float(np.sqrt(times)) * level.current,
        recordings=recordings_of(wishes.turned),
        cautions=_cautions(level),
        method=tones_method(),
        sources=tuple(SourceAnswer(s.key, s.citation, s.standing) for s in map(source, _SOURCES)),
    )
    return replace(bare, sentence=tones_sentence(bare), findings=tones_findings(bare, circuit.inputs))


def _tones(plan: TonePlan, level: Level, left: np.ndarray) -> tuple[ToneAnswer, ...]:
    columns = (plan.frequencies, plan.amplitudes, level.tone_currents, left)
    return tuple(ToneAnswer(*map(float, row)) for row in zip(*columns, strict=True))


def _circuit(circuit: Circuit) -> CircuitAnswer:
    shunt = circuit.shunt
    return CircuitAnswer(
        circuit.series, circuit.bridge, shunt.resistance, shunt.tolerance, shunt.inductance, circuit.output
    )


def _level(wishes: Wishes, plan: TonePlan, level: Level) -> LevelAnswer:
    bridge = None if level.dry else dry_bridge(wishes.circuit, wishes.contact, level.current)
    return LevelAnswer(
        peak=peak(plan),
        output_voltage=level.output,
        current=level.current,
        current_rms=level.current_rms,
        crest_factor=level.current / level.current_rms,
        shunt_voltage=level.shunt_voltage,
        contact_voltage=level.contact_voltage,
        open_circuit_voltage=level.open_circuit,
        dry_circuit=level.dry,
        bridge_for_dry=bridge if bridge is not None and np.isfinite(bridge) else None,
        series_power=level.series_power,
        shunt_power=level.shunt_power,
    )


def _in_turn(plan: TonePlan, level: Level, worst: float) -> float | None:
    """What noise would leave if the tones came one after the other, with the same peak in the same time."""
    if plan.way == "in turn" or len(plan.cycles) == 1:
        return None
    return worst * float(level.tone_currents.min() / level.current) * float(np.sqrt(len(plan.cycles)))


def recordings_of(turned: bool, series: Series = "contact") -> tuple[RecordingAnswer, ...]:
    """The recordings to make with something in the contact's place, in their order."""
    first = ("shunt", IN_PLACE[series])
    return tuple(
        RecordingAnswer(
            f"{stem_of(series, kind)}.wav",
            *(first[::-1] if kind.startswith("swapped") else first),
            kind.endswith("turned"),
        )
        for kind in KINDS
        if turned or not kind.endswith("turned")
    )


def _cautions(level: Level) -> tuple[str, ...]:
    hot = (TONES_HOT,) if level.series_power > HOT else ()
    return (TONES_APART, TONES_OUTPUT, *hot, TONES_LOUD)
