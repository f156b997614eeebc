"""The use case of a built cable: what to measure before anything is, the verdict after."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cables import (
    check_description,
    find_break,
    find_touch,
    keep_back,
    look_at_low,
    look_at_terminations,
    loosen_links,
    measure_cable,
    measure_next,
    mend_wiring,
    open_cable,
    pass_cable,
)
from ohmsworth.cables.ahead import Ahead, look_ahead
from ohmsworth.cables.fewest import separating
from ohmsworth.cables.recorded import RecordedTest
from ohmsworth.cables.request import ALLOWANCE, CableRequest
from ohmsworth.cables.tested import LOST, UNDER, CableFound, NextPlaces, judge_rows, places_of
from ohmsworth.cables.touched import loop_places
from ohmsworth.cables.workshop.pieces import wire_cut
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.report.answer import ActionAnswer, SourceAnswer
from ohmsworth.report.cable_answer import (
    FORMAT,
    LOOK,
    NOT_AS_DESCRIBED,
    NOT_YET,
    POOR_LINK,
    RIGHT,
    WRONG,
    CableAnswer,
    CableEndAnswer,
    CableFaultAnswer,
    CableMeasurementAnswer,
    CableWireAnswer,
    FellowAnswer,
    RecordedTestAnswer,
    StandsOutAnswer,
)
from ohmsworth.report.cable_pages import cable_report, cable_summary
from ohmsworth.report.cable_sentences import (
    cable_findings,
    cable_method,
    cable_sentence,
    explained,
    following_words,
)
from ohmsworth.report.cable_words import (
    fault_words,
    link_words,
    open_words,
    poor_link_words,
    recorded_words,
    shared_words,
)
from ohmsworth.report.document import Document
from ohmsworth.report.words import capital, listed
from ohmsworth.sources import source
from ohmsworth.units import show
from ohmsworth.work.cable_expected import expected_capacitances, expected_loops
from ohmsworth.work.cable_places import located, located_loops, sources_of_places
from ohmsworth.work.ports import LoadedCable

#: The kind of fault that a test with other equipment found.
RECORDED = "recorded test"
_WHY = {
    "exchanged": "Both wires do not reach: perhaps they are exchanged.",
    "wire": "This wire was not read from end to end yet.",
    "link": "This link was not read yet.",
    "touch": "It rules out the most of what may still touch, or halves where something does.",
}


@dataclass(frozen=True, slots=True)
class ToldCable:
    """An answer with its report and what of it fits a terminal."""

    answer: CableAnswer
    report: Document
    summary: Document


@dataclass(frozen=True, slots=True, eq=False)
class CableAhead:
    """What a description alone says of a cable: the answer before anything is measured, and what its wires should read."""

    answer: CableAnswer
    build: Ahead


def report_cable(loaded: LoadedCable) -> ToldCable:
    """The answer about a cable, and its report."""
    return tell_cable(cable_study(loaded))


def tell_cable(answer: CableAnswer) -> ToldCable:
    """An answer with its report."""
    return ToldCable(answer, cable_report(answer), cable_summary(answer))


def cable_ahead(request: CableRequest) -> CableAhead:
    """What the description says; it is the same after every measurement.

    Raises
    ------
    InputRefused
        When readings for a distance cannot be used together.
    """
    build = look_ahead(request)
    return CableAhead(replace(_described(request, build), places=located(request)), build)


def cable_study(loaded: LoadedCable, ahead: CableAhead | None = None) -> CableAnswer:
    """Say what to measure at a cable, or what its measurements show.

    Parameters
    ----------
    loaded
        The cable.
    ahead
        What its description says, where that is known already.

    Raises
    ------
    InputRefused
        When readings for a distance cannot be used together.
    ArgumentFault
        When there are measurements and no meter is stated.
    """
    request = loaded.request
    ahead = ahead or cable_ahead(request)
    answer = replace(ahead.answer, unused=loaded.unused)
    if loaded.rows is None:
        actions = measure_cable(len(answer.wires) + len(answer.links) + len(answer.measurements))
    else:
        tested = judge_rows(request, loaded.rows, ahead.build)
        answer = _judged(answer, tested)
        answer = replace(answer, places=(*answer.places, *located_loops(request, tested.loops)))
        actions = _actions(answer, tested)
    answer = replace(answer, actions=tuple(ActionAnswer(a.words, a.why, a.cautions) for a in actions))
    return replace(
        answer,
        sentence=cable_sentence(answer),
        findings=cable_findings(answer),
        method=cable_method(answer, request),
    )


def _described(request: CableRequest, ahead: Ahead) -> CableAnswer:
    """The answer as far as it needs no measurements."""
    build = request.build
    nets = ahead.nets
    measurements = (places_of(question, nets) for question in separating(len(nets)))
    keys = ("IACS", "IEC60228", "GUM", "JCGM106", "Rosner", *sources_of_places(request), "practice")
    return CableAnswer(
        format=FORMAT,
        name=build.name,
        serial=request.serial,
        sentence="",
        verdict=None,
        findings=(),
        coverage=request.coverage,
        length=build.length,
        length_tolerance=build.length_tolerance,
        temperature=request.temperature,
        temperature_tolerance=request.temperature_tolerance,
        ends=_ends(request),
        wires=_wires(request, ahead),
        links=tuple((str(one), str(other)) for one, other in build.links),
        nets=len(nets),
        pairs=len(nets) * (len(nets) - 1) // 2,
        pairs_left=len(nets) * (len(nets) - 1) // 2,
        measurements=tuple(
            CableMeasurementAnswer(tuple(map(str, one)), tuple(map(str, other)), "touch")
            for one, other in measurements
        ),
        following=None,
        faults=(),
        groups=(),
        stands_out=(),
        places=(),
        unused=(),
        actions=(),
        method=(),
        sources=tuple(SourceAnswer(s.key, s.citation, s.standing) for s in map(source, dict.fromkeys(keys))),
        recorded=tuple(_told(one) for one in request.recorded),
        hidden=ahead.hidden,
        loops=expected_loops(request),
        capacitances=expected_capacitances(request),
    )


def _told(one: RecordedTest) -> RecordedTestAnswer:
    on = "" if one.on is None else one.on.isoformat()
    return RecordedTestAnswer(
        one.test, one.between, one.voltage, one.resistance, one.at_least, one.held, one.instrument, one.by, on, one.passed
    )  # fmt: skip


def _ends(request: CableRequest) -> tuple[CableEndAnswer, ...]:
    stated = request.allowances
    return tuple(
        CableEndAnswer(
            end.name, end.connector, end.contacts, end.contact_resistance, end.contact_limit,
            stated.get(end.name, ALLOWANCE), end.name in stated,
        )
        for end in request.build.ends
    )  # fmt: skip


def _wires(request: CableRequest, ahead: Ahead) -> tuple[CableWireAnswer, ...]:
    build = request.build
    told = []
    for wire in build.wires:
        reads, together = ahead.readings[wire.name]
        told.append(
            CableWireAnswer(
                wire.name, str(wire.start), str(wire.stop), wire.kind.name, wire.kind.role, wire.pair, wire.colour,
                wire_cut(request, wire),
                together, reads.usual, reads.low, reads.high, None, None, None, None, None,
            )
        )  # fmt: skip
    return tuple(told)


def _judged(answer: CableAnswer, tested: CableFound) -> CableAnswer:
    """The answer with what the measurements say."""
    wires = []
    for wire in answer.wires:
        read = tested.readings.get(wire.name)
        wires.append(
            wire
            if read is None
            else replace(
                wire,
                line=read.line,
                resistance=read.ohm,
                standard_uncertainty=read.uncertainty,
                probability_within=read.probability,
                verdict=read.verdict,
            )
        )
    answer = replace(
        answer,
        wires=tuple(wires),
        pairs_left=tested.pairs_left,
        following=_following(tested.following),
        faults=(*_faults(answer, tested), *_not_passed(answer)),
        groups=_groups(tested),
        stands_out=_stands_out(tested),
        wanted=tuple(filter(None, map(_following, tested.wanted))),
    )
    return replace(answer, verdict=_verdict(answer))


def _following(after: NextPlaces | None) -> CableMeasurementAnswer | None:
    if after is None:
        return None
    return CableMeasurementAnswer(tuple(map(str, after.one)), tuple(map(str, after.other)), after.purpose)


def _faults(answer: CableAnswer, tested: CableFound) -> tuple[CableFaultAnswer, ...]:
    told = [
        CableFaultAnswer(fault.kind, fault.wires, tuple(map(str, fault.places)), fault_words(fault))
        for fault in tested.faults
    ]
    told += [
        CableFaultAnswer("link open", (), tuple(map(str, link)), link_words(link))
        for link in tested.open_links
    ]
    told += [
        CableFaultAnswer(POOR_LINK, (), tuple(map(str, link)), poor_link_words(link, ohm, most))
        for link, ohm, most in tested.poor_links
    ]
    for line in tested.unexplained:
        if line in tested.contradicting:
            words = f"Line {line} found a path that other lines rule out: a loose touch, or a slip. Measure it again."
        else:
            words = f"Something touches in the groups of line {line}: halve them to find it."
        told.append(CableFaultAnswer("touch not found yet", (), (), words))
    if (shared := tested.shared) is not None:
        words = shared_words(shared, answer.length, answer.temperature)
        told.append(CableFaultAnswer(NOT_AS_DESCRIBED, shared.wires, (), words))
    return tuple(told)


def _not_passed(answer: CableAnswer) -> tuple[CableFaultAnswer, ...]:
    """Tests made with other equipment that did not find what was asked: such a cable is not right, whatever else was read."""
    return tuple(
        CableFaultAnswer(RECORDED, (), (), recorded_words(one)) for one in answer.recorded if not one.passed
    )


def _groups(tested: CableFound) -> tuple[FellowAnswer, ...]:
    return tuple(
        FellowAnswer(group.wires, None, None, None)
        if group.fellows is None
        else FellowAnswer(group.wires, group.fellows.middle, group.fellows.scatter, group.fellows.smallest)
        for group in tested.groups
    )


def _stands_out(tested: CableFound) -> tuple[StandsOutAnswer, ...]:
    found = [
        StandsOutAnswer(
            group.wires[one.index], one.excess, one.low, one.high, len(group.wires) - len(group.fellows.out)
        )
        for group in tested.groups
        if group.fellows is not None
        for one in group.fellows.out
    ]
    return tuple(sorted(found, key=lambda one: -abs(one.excess)))


def _verdict(answer: CableAnswer) -> str:
    verdicts = {wire.verdict for wire in answer.wires}
    if answer.faults or verdicts & {OVER, UNDER}:
        return WRONG
    if answer.following is not None:
        return NOT_YET
    if OPEN in verdicts:
        return OPEN
    return LOOK if answer.stands_out else RIGHT


def _actions(answer: CableAnswer, tested: CableFound) -> list[Action]:
    """What to do, the wiring first: where it is at fault before it is opened."""
    actions = _where(answer, tested)
    wiring = [fault.words for fault in answer.faults if fault.kind not in (RECORDED, NOT_AS_DESCRIBED)]
    if wiring:
        actions += mend_wiring(wiring)
    if any(fault.kind == RECORDED for fault in answer.faults):
        actions += keep_back()
    told = explained(answer)
    if told:
        actions += check_description(next(wire.name for wire in answer.wires if wire.name in told))
    bridged = [wire.name for wire in answer.wires if wire.verdict == OVER and wire.together]
    if bridged:
        actions += loosen_links(listed(bridged))
    over = [wire.name for wire in answer.wires if wire.verdict == OVER and wire.name not in (*told, *bridged)]
    out = [one.wire for one in answer.stands_out if one.excess > 0 and one.wire not in over]
    if over:
        actions += look_at_terminations(listed(over), True)
    if out:
        actions += look_at_terminations(listed(out), False)
    actions += _of_low(answer)
    if answer.following is not None:
        actions += measure_next(following_words(answer), _WHY[answer.following.purpose])
    close = [wire.name for wire in answer.wires if wire.verdict == OPEN]
    if close:
        actions += measure_next(
            f"Read {listed(close)} again with a better meter.", "Too close to a bound to call."
        )
    return actions or pass_cable()


def _where(answer: CableAnswer, tested: CableFound) -> list[Action]:
    """Where to open a cable at fault, and what to measure to know it."""
    actions: list[Action] = []
    for place in answer.places:
        what = capital(listed(list(place.wires))) if place.wires else "The fault"
        told = open_words(place, answer.length)
        actions += open_cable(f"{what}, {show(place.metres, 'm')} from {place.near}: {told}")
    for one, other in tested.to_loop:
        near, far = loop_places((one, other))
        pairs = (f"{a} against {b}" for a, b in (near, far))
        actions += find_touch(f"{one.name} and {other.name}", *pairs)
    located = {name for place in answer.places for name in place.wires}
    broken = [wire.name for wire in answer.wires if wire.verdict == LOST]
    alone = {fault.wires[0] for fault in answer.faults if fault.kind in ("open", "screen open")}
    lost = [name for name in broken if name in alone and name not in located]
    return actions + (find_break(listed(lost)) if lost else [])


def _of_low(answer: CableAnswer) -> list[Action]:
    """What to do about wires that read too little, by their bounds or beside their fellows."""
    told = explained(answer)
    under = [wire.name for wire in answer.wires if wire.verdict == UNDER and wire.name not in told]
    less = [one.wire for one in answer.stands_out if one.excess < 0 and one.wire not in under]
    actions = look_at_low(listed(under), True) if under else []
    return actions + (look_at_low(listed(less), False) if less else [])
