"""Wishes and recordings in; the plan to play, and what the recordings say of every wire, out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cautions import TONES_LOUD, WIRE_APART
from ohmsworth.report.answer import ActionAnswer, SourceAnswer, WarningAnswer
from ohmsworth.report.capacitance.answer import (
    CAPACITANCE,
    FORMAT,
    PATH,
    TOO_SMALL,
    BreakAnswer,
    CapacitanceAnswer,
    CapacitanceRecording,
    WireCapacitance,
)
from ohmsworth.report.capacitance.pages import capacitance_report, capacitance_summary
from ohmsworth.report.capacitance.sentences import (
    WORDS,
    capacitance_findings,
    capacitance_method,
    capacitance_sentence,
    locate_table,
)
from ohmsworth.report.document import Document
from ohmsworth.report.takes_budget import budget_lines
from ohmsworth.report.words import listed
from ohmsworth.resistance.admittance.wire import TOLD_AT, ClosedWire, OpenWire
from ohmsworth.resistance.impedance.drive import level_tone, peak
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.sources import source
from ohmsworth.units import show
from ohmsworth.work.capacitance.found import (
    BOTH_ENDS,
    FoundBreak,
    FoundInput,
    FoundWire,
    found_breaks,
    found_input,
    found_wires,
    open_changed,
    without_resistor,
)
from ohmsworth.work.capacitance.heard import HeardTakes, hear
from ohmsworth.work.capacitance.loaded import BOTH, OPEN, OPEN_AGAIN, WISHES, LoadedCapacitance
from ohmsworth.work.tones import planned, refuse_other_plan

_SOURCES = ("divider", "constant-loss", "Birge", "GUM", "open-by-capacitance", "Schroeder1970", "practice")
#: No insulation of a cable has so large a loss factor.
_NO_LOSS = 0.15
_BEFORE, _BEHIND = "before the resistor", "behind the resistor"


@dataclass(frozen=True, slots=True, eq=False)
class ToldCapacitance:
    """An answer with its report, what of it fits a terminal, and the plan; `new` where nothing was recorded with it yet."""

    answer: CapacitanceAnswer
    report: Document
    summary: Document
    plan: TonePlan
    new: bool


def tell_capacitance(loaded: LoadedCapacitance) -> ToldCapacitance:
    """What to record, or what the recordings say.

    Raises
    ------
    InputRefused
        With everything that is wrong with the wishes, or with the recordings.
    """
    plan = planned(loaded.wishes, WISHES)
    made = [recording.name for recording in loaded.recordings.values()]
    refuse_other_plan(made, loaded.plan, plan, WISHES)
    heard = hear(loaded, plan)
    wires = found_wires(plan, loaded.divider, heard.takes, loaded.measured)
    own = found_input(plan, loaded.divider, heard.takes)
    answer = _answer(loaded, plan, heard, wires, own)
    return ToldCapacitance(
        answer, capacitance_report(answer), capacitance_summary(answer), plan, not made and not loaded.faults
    )


def _answer(
    loaded: LoadedCapacitance,
    plan: TonePlan,
    heard: HeardTakes,
    wires: tuple[FoundWire, ...],
    own: FoundInput | None,
) -> CapacitanceAnswer:
    divider = loaded.divider
    recordings = _recordings(loaded)
    told = tuple(_wire(loaded, one) for one in wires)
    breaks = tuple(map(_break, found_breaks(wires)))
    bare = CapacitanceAnswer(
        format=FORMAT,
        sentence="",
        findings=(),
        resistor=divider.resistance,
        resistor_tolerance=divider.tolerance,
        leads=divider.leads,
        crosstalk=divider.crosstalk,
        told_at=TOLD_AT,
        level=peak(plan),
        rate=plan.rate,
        channels=loaded.wishes.channels,
        length=plan.length / plan.rate,
        level_check_frequency=level_tone(plan),
        level_check_seconds=plan.level / plan.rate,
        tones=tuple(map(float, plan.frequencies)),
        recordings=recordings,
        input_resistance=None if own is None else own.resistance,
        input_capacitance=None if own is None else own.capacitance,
        wires=told,
        breaks=breaks,
        warnings=_warnings(loaded, plan, heard, wires),
        actions=tuple(ActionAnswer(a.words, a.why, a.cautions) for a in _actions(recordings, told, breaks)),
        cautions=(WIRE_APART, TONES_LOUD),
        method=(),
        sources=tuple(SourceAnswer(s.key, s.citation, s.standing) for s in map(source, _SOURCES)),
    )
    led = replace(bare, sentence=capacitance_sentence(bare))
    return replace(led, findings=capacitance_findings(led), method=capacitance_method(led))


def _recordings(loaded: LoadedCapacitance) -> tuple[CapacitanceRecording, ...]:
    """The recordings to make, in their order; the second take of nothing last."""
    nothing = "nothing but the leads"
    rows = [(BOTH, _BEFORE, nothing), (OPEN, _BEHIND, nothing)]
    rows += [(one.take, _BEHIND, f"{one.wire}, from end {one.end}") for one in loaded.measured]
    rows.append((OPEN_AGAIN, _BEHIND, nothing))
    return tuple(
        CapacitanceRecording(_file(loaded, stem), _BEFORE, second, behind, stem in loaded.recordings)
        for stem, second, behind in rows
    )


def _file(loaded: LoadedCapacitance, stem: str) -> str:
    return loaded.recordings[stem].name if stem in loaded.recordings else f"{stem}.wav"


def _wire(loaded: LoadedCapacitance, one: FoundWire) -> WireCapacitance:
    named = one.measured
    bare = WireCapacitance(
        _file(loaded, named.take), named.wire, named.to, named.end, named.whole, TOO_SMALL,
        None, None, None, None, None, None, None, None, None, None, (),
    )  # fmt: skip
    if isinstance(one.wire, ClosedWire):
        ohm = one.wire.resistance
        low, high = ohm.interval()
        return replace(bare, found=PATH, resistance=ohm.value, resistance_low=low, resistance_high=high)
    farad = one.wire.capacitance
    low, high = farad.interval()
    seen = one.capacitance is not None
    return replace(
        bare,
        found=CAPACITANCE if seen else TOO_SMALL,
        capacitance=farad.value,
        low=low,
        high=high,
        standard_uncertainty=farad.uncertainty,
        without_resistor=without_resistor(one).uncertainty if seen else None,
        loss=one.wire.loss if seen else None,
        leak=one.leak,
        budget=budget_lines(farad, WORDS),
    )


def _break(one: FoundBreak) -> BreakAnswer:
    names = ("near", "far") if one.method == BOTH_ENDS else ("broken", "whole")
    read = (without_resistor(one.near), without_resistor(one.other))
    readings = {name: (found.value, found.uncertainty) for name, found in zip(names, read, strict=True)}
    named, (low, high) = one.near.measured, one.place.interval()
    return BreakAnswer(
        method=one.method,
        wire=named.wire,
        near=named.end,
        share=one.place.metres,
        standard_uncertainty=one.place.uncertainty,
        low=low,
        high=high,
        table=locate_table(one.method, named.wire, named.end, readings),
    )


def _warnings(
    loaded: LoadedCapacitance, plan: TonePlan, heard: HeardTakes, wires: tuple[FoundWire, ...]
) -> tuple[WarningAnswer, ...]:
    # Behind a short there is nothing but hum.
    shorts = {_file(loaded, one.measured.take) for one in wires if isinstance(one.wire, ClosedWire)}
    told = [
        (one.file, one.doubt) for one in heard.doubts if one.doubt.code != "HUM" or one.file not in shorts
    ]
    told += [(_file(loaded, OPEN_AGAIN), one) for one in open_changed(plan, loaded.divider, heard.takes)]
    found = [
        WarningAnswer(doubt.code, f"{file}: {doubt.words}.", (), doubt.mend, False) for file, doubt in told
    ]
    found += [_leaking(loaded, one, one.leak) for one in wires if one.leak is not None]
    found += [
        _long(loaded, one)
        for one in wires
        if isinstance(one.wire, OpenWire) and (one.wire.loss or 0.0) > _NO_LOSS
    ]
    if loaded.unused:
        words = f"Sound files that {WISHES} does not name were left aside: {listed(list(loaded.unused))}."
        do = f"Name a recording as 'take' of a table [[measured]] in {WISHES}, or move it aside."
        found.append(WarningAnswer("SOUND_LEFT_ASIDE", words, (), do, False))
    return tuple(found)


def _leaking(loaded: LoadedCapacitance, one: FoundWire, leak: float) -> WarningAnswer:
    named = one.measured
    words = f"{_file(loaded, named.take)}: beside its capacitance {named.wire} leaks to {named.to} through {show(leak, 'Ω', 2)}."
    do = (
        "Look for moisture or dirt in the plugs and for something that is still connected, and record again. The capacitance is "
        "told beside the leak; a break that is wet need not lie where it says."
    )
    return WarningAnswer("LEAKING_WIRE", words, (), do, False)


def _long(loaded: LoadedCapacitance, one: FoundWire) -> WarningAnswer:
    named = one.measured
    words = (
        f"{_file(loaded, named.take)}: to the tones {named.wire} is no capacitance such as any insulation has: the cable is "
        "too long for the highest of them, or a bad joint lies in the wire."
    )
    do = f'Move the recordings aside, write highest = "2 kHz" into {WISHES}, and record again. Look at the joints too.'
    return WarningAnswer("LONG_WIRE", words, (), do, False)


def _actions(
    recordings: tuple[CapacitanceRecording, ...],
    wires: tuple[WireCapacitance, ...],
    breaks: tuple[BreakAnswer, ...],
) -> list[Action]:
    """What to do next."""
    missing = [one.file for one in recordings if not one.recorded]
    actions = []
    if breaks:
        actions.append(
            Action(
                "Put the table [[locate]] into the cable's cable.toml, and run 'ohmsworth cable' on its folder.",
                "It tells the distance in metres, with what the length is not known to, and which end to open first.",
            )
        )
    shorts = [one.wire for one in wires if one.found == PATH]
    if shorts:
        actions.append(
            Action(
                f"Measure {listed(list(dict.fromkeys(shorts)))} with a meter for resistance, and take off what is still joined.",
                "It conducts, so that its capacitance tells nothing of where.",
            )
        )
    if missing:
        actions.append(
            Action(f"Record {listed(missing)}.", "A break is located by both ends, or beside a whole wire.")
        )
    return actions or [Action("Keep the recordings with this report.", "They can be read again at any time.")]
