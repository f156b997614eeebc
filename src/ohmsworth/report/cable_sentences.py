"""What is said of a cable: one sentence, the findings below it, how it was found."""

from __future__ import annotations

from collections.abc import Iterable

from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.tested import LOST, UNDER
from ohmsworth.inference.conformity import OPEN, OVER, WITHIN
from ohmsworth.report.cable_answer import (
    LOOK,
    NOT_AS_DESCRIBED,
    NOT_YET,
    WRONG,
    CableAnswer,
    CableWireAnswer,
)
from ohmsworth.report.cable_words import length_words, places_in_short, recorded_words, stands_out_words
from ohmsworth.report.words import capital, count, listed
from ohmsworth.units import show, show_pm, show_stated

#: More wires than this are told by the first of them and a number.
_NAMED = 4
_MOST_TOLD = 12


def cable_sentence(answer: CableAnswer) -> str:
    """The answer in one sentence, or two."""
    who = answer.name + (f" {answer.serial}" if answer.serial else "")
    names = [wire.name for wire in answer.wires]
    if answer.verdict is None:
        return (
            f"{capital(who)} has {count(len(answer.wires), 'wire')}: {count(_to_read(answer), 'reading')} from end to end and "
            f"{count(len(answer.measurements), 'measurement')} more show whether it is right."
        )
    if answer.verdict == WRONG:
        first, more = _wrong(answer)
        rest = f" {count(more, 'more fault')} below." if more else ""
        return f"{capital(who)} is wrong: {_small(first, names)}{rest}"
    if answer.verdict == NOT_YET:
        return f"Nothing is wrong with {who} so far, and not everything is measured: {missing_words(answer)}."
    if answer.verdict == OPEN:
        close = [wire.name for wire in answer.wires if wire.verdict == OPEN]
        return f"{capital(who)} is wired right, and {listed(close, _NAMED)} too close to a bound to call."
    if answer.verdict == LOOK:
        one = answer.stands_out[0]
        return f"{capital(who)} is within its bounds, but look first: {_small(stands_out_words(one), names)}"
    told = (
        f"{capital(who)} is right: {count(len(answer.wires), 'wire')} from end to end within the bounds, and nothing "
        "touches what it must not."
    )
    return told if not answer.hidden else f"{told} {hidden_words(answer)}"


def hidden_words(answer: CableAnswer) -> str:
    """Wires of which a break would not show."""
    return f"Not seen from here: a break in one of {listed(list(answer.hidden), _NAMED)}, for others lead beside it."


def _small(sentence: str, names: Iterable[str]) -> str:
    """A sentence inside another: articles lose their capital, names keep theirs."""
    for word in ("the ", "a ", "all ", *names):
        if sentence.startswith(capital(word)):
            return word + sentence[len(word) :]
    return sentence


def _to_read(answer: CableAnswer) -> int:
    return len(answer.wires) + len(answer.links)


def _wrong(answer: CableAnswer) -> tuple[str, int]:
    """The first fault, and how many more there are."""
    told = wrong_words(answer)
    return told[0], len(told) - 1


def wrong_words(answer: CableAnswer) -> tuple[str, ...]:
    """Everything that is wrong, a sentence each: faults of the wiring, and wires outside of their bounds."""
    told = explained(answer)
    bounds = [
        _bound_words(wire) for wire in answer.wires if wire.verdict in (OVER, UNDER) and wire.name not in told
    ]
    return (*(fault.words for fault in answer.faults), *bounds)


def explained(answer: CableAnswer) -> frozenset[str]:
    """Wires outside of their bounds of which one cause that they share is told."""
    return frozenset(
        name for fault in answer.faults if fault.kind == NOT_AS_DESCRIBED for name in fault.wires
    )


def _bound_words(wire: CableWireAnswer) -> str:
    assert wire.resistance is not None
    read, u = wire.resistance, wire.standard_uncertainty or 0.0
    if wire.verdict == OVER:
        return f"{capital(wire.name)} has {show_pm(read, u, 'Ω')}, over the {show(wire.high, 'Ω')} of a good one at most."
    return f"{capital(wire.name)} has {show_pm(read, u, 'Ω')}, under the {show(wire.low, 'Ω')} of a good one at least."


def missing_words(answer: CableAnswer) -> str:
    """What is not measured yet."""
    unread = [wire.name for wire in answer.wires if wire.line is None]
    parts = []
    if unread:
        parts.append(f"{count(len(unread), 'wire')} not read ({listed(unread, _NAMED)})")
    if answer.pairs_left:
        parts.append(f"{answer.pairs_left} of {count(answer.pairs, 'pair')} may still touch")
    return " and ".join(parts) or "a link is not read"


def cable_findings(answer: CableAnswer) -> tuple[str, ...]:
    """What was found, the worst first."""
    if answer.verdict is None:
        return _before(answer)
    told = list(wrong_words(answer))
    told += [stands_out_words(one) for one in answer.stands_out]
    close = [wire.name for wire in answer.wires if wire.verdict == OPEN]
    if close:
        told.append(f"Too close to a bound to call: {listed(close, _NAMED)}.")
    told = [
        *told[:_MOST_TOLD],
        *([f"{len(told) - _MOST_TOLD} more in the tables."] if told[_MOST_TOLD:] else []),
    ]
    within = sum(wire.verdict == WITHIN for wire in answer.wires)
    told.append(f"{within} of {count(len(answer.wires), 'wire')} are within their bounds.")
    if answer.hidden:
        told.append(hidden_words(answer))
    told += _comparable(answer)
    if answer.pairs_left or any(wire.line is None for wire in answer.wires):
        told.append(f"Not measured yet: {missing_words(answer)}.")
    elif answer.pairs:
        told.append(f"Nothing else touches: all {count(answer.pairs, 'pair')} are ruled out or found.")
    if any(wire.verdict == LOST for wire in answer.wires):
        told.append(
            "A touch at the far end of a wire that does not reach is not seen from the near end: mend first, then test again."
        )
    told += [place.words for place in answer.places]
    told += [recorded_words(one) for one in answer.recorded if one.passed]
    if answer.unused:
        told.append(f"Columns of test.csv that are not used: {listed(list(answer.unused))}.")
    return tuple(told)


def _before(answer: CableAnswer) -> tuple[str, ...]:
    told = []
    kinds = dict.fromkeys((wire.kind, wire.usual, wire.low, wire.high) for wire in answer.wires)
    for kind, usual, low, high in list(kinds)[:_NAMED]:
        told.append(
            f"A wire of the kind {kind} usually reads {show(usual, 'Ω')} from end to end; a good one lies between "
            f"{show(low, 'Ω')} and {show(high, 'Ω')}."
        )
    if answer.hidden:
        told.append(hidden_words(answer))
    if any(wire.together for wire in answer.wires):
        told.append(
            "Wires that others bridge are read together with these: loosen the links to judge one by itself."
        )
    told.append(
        f"Of {count(answer.nets, 'net')} any two could touch: {count(answer.pairs, 'pair')}, and yet "
        f"{count(len(answer.measurements), 'measurement')} show that none do, with contacts joined by hand in two groups."
    )
    recorded = (recorded_words(one) for one in answer.recorded)
    return (*told, *(place.words for place in answer.places), *recorded)


def _comparable(answer: CableAnswer) -> list[str]:
    told = []
    for group in answer.groups:
        if group.smallest is not None and group.scatter is not None:
            told.append(
                f"{count(len(group.wires), 'like wire')} (such as {group.wires[0]}) differ by {show(group.scatter, 'Ω', 2)} "
                f"(standard deviation): one that is off by {show(group.smallest, 'Ω', 2)} would stand out."
            )
    few = sum(group.smallest is None for group in answer.groups)
    if few:
        told.append(
            f"{count(few, 'group')} of like wires {'is' if few == 1 else 'are'} too small to compare: it takes four."
        )
    return told


def following_words(answer: CableAnswer) -> str:
    """The measurement to make next, as a step; "" where there is none."""
    after = answer.following
    if after is None:
        return ""
    return f"Measure {places_in_short(after.one)} against {places_in_short(after.other)}."


def cable_method(answer: CableAnswer, request: CableRequest) -> tuple[str, ...]:
    """How everything was found."""
    temperature = f"{answer.temperature - 273.15:.3g} °C ± {answer.temperature_tolerance:.3g} K"
    stated = "" if request.stated else " (not stated: taken for granted)"
    length = length_words(answer.length, answer.length_tolerance)
    told = [
        (
            f"A wire's bounds take every tolerance at its end at once: {length} of cable, the wire's, {temperature}{stated}, "
            "and contacts from none to their limit at both ends."
        ),
        f"A reading is judged by its bounds with the meter's uncertainty; a verdict needs {100 * answer.coverage:g} %.",
        f"A reading of {show_stated(request.no_path, 'Ω')} or more is no path (common practice where not stated).",
        "Any two nets stand on different sides of one measurement at least; where a group shows a path, halving finds it.",
        (
            "Like wires share length, copper and temperature; the farthest from the mean is taken out again and again, and told "
            "where chance reaches so far in one sound cable of a hundred only."
        ),
        "What is read again replaces what was read before of the same contacts.",
    ]
    if request.meter is not None and request.meter.leads.value:
        told.append(
            f"Two-wire readings: {show_stated(request.meter.leads.value, 'Ω')} of leads are taken off each."
        )
    if answer.places:
        told.append(
            "Distances: what stands after ± is certain and taken as a rectangle; the interval is two standard uncertainties "
            "either way, and not beyond the ends."
        )
    told.append("Allowances for cutting that nobody stated are common practice.")
    return tuple(told)
