"""The pictures of a cable: its wires from end to end with the places of faults, and every wire beside its fellows."""

from __future__ import annotations

from ohmsworth.inference.conformity import WITHIN
from ohmsworth.report.cable_answer import NOT_AS_DESCRIBED, CableAnswer, FellowAnswer
from ohmsworth.report.document import (
    Axis,
    CableFigure,
    CablePlaceMark,
    CableWireMark,
    IntervalFigure,
    IntervalMark,
)
from ohmsworth.report.words import count, listed, natural

#: Wires that are drawn; beyond, those farthest from the mean of their fellows.
_MOST = 40
#: Wires in the drawing of the cable; beyond, those at fault and then the first.
_MOST_DRAWN = 24


def fellows_figure(answer: CableAnswer) -> IntervalFigure | None:
    """Like wires about the mean of those that do not stand out; None where none could be compared."""
    out = {one.wire: one for one in answer.stands_out}
    ohm = {wire.name: wire for wire in answer.wires}
    marks = []
    for group in answer.groups:
        if group.middle is None or group.smallest is None:
            continue
        for name in group.wires:
            read, u = ohm[name].resistance, ohm[name].standard_uncertainty
            if read is None or u is None:
                continue
            excess, half = read - group.middle, 2 * u
            flag = ("more" if excess > 0 else "less") if name in out else ""
            marks.append(
                IntervalMark(_called(group, answer), name, excess, excess - half, excess + half, flag)
            )
    if not marks:
        return None
    far = sorted(marks, key=lambda mark: (mark.flag == "", -abs(mark.value)))[:_MOST]
    far.sort(key=lambda mark: (mark.group, natural(mark.label)))
    words = f"{listed(list(out))} stand{'s' if len(out) == 1 else ''} out" if out else "none stands out"
    left = (
        f" The {len(far)} farthest of {count(len(marks), 'wire')} are drawn." if len(marks) > len(far) else ""
    )
    return IntervalFigure(
        "cable-fellows",
        f"Wires beside their fellows: {words}.",
        f"What each wire has more or less than the mean of its fellows, with two standard uncertainties of the meter.{left}",
        Axis("more than the mean of its fellows", "Ω"),
        tuple(far),
        0.0,
    )


def _called(group: FellowAnswer, answer: CableAnswer) -> str:
    kinds = {wire.name: wire.kind for wire in answer.wires}
    return kinds[group.wires[0]]


def cable_figure(answer: CableAnswer, name: str = "cable-wiring", called: str = "The cable") -> CableFigure:
    """The cable as it should be, what is wrong marked on it; `name` is the picture's, `called` what its caption begins with."""
    flags = _flags(answer)
    order = {
        f"{end.name}:{contact}": (k, number)
        for k, end in enumerate(answer.ends)
        for number, contact in enumerate(end.contacts)
    }
    ranked = sorted(answer.wires, key=lambda wire: wire.name not in flags)[:_MOST_DRAWN]
    shown = sorted(ranked, key=lambda wire: order[wire.start])
    stops = sorted({wire.stop for wire in shown}, key=order.__getitem__)
    first = answer.ends[0].name
    places = []
    for place in answer.places:
        ends = place.metres, place.low, place.high
        if place.near != first:  # drawn from the first end
            ends = answer.length - place.metres, answer.length - place.high, answer.length - place.low
        if not place.beyond:
            places.append(CablePlaceMark(listed(list(place.wires)), *ends))
    left = len(answer.wires) - len(shown)
    more = f" {count(left, 'more wire')} in the table." if left else ""
    marked = " What is wrong is drawn heavier and named; a gap is no path." if flags else ""
    told = "; ".join(f"{name}: {flag}" for name, flag in flags.items())
    alt = (
        f"{count(len(shown), 'wire')} from contact to contact. {told}"
        if told
        else f"{count(len(shown), 'wire')} from contact to contact."
    )
    return CableFigure(
        name,
        " ".join([alt, *(place.words for place in answer.places)]),
        f"{called} as it should be wired.{marked}{more}",
        tuple(
            CableWireMark(w.name, w.start, w.stop, flags.get(w.name, ""), w.verdict == "no path")
            for w in shown
        ),
        tuple(stops),
        answer.length,
        tuple(places),
    )


def _flags(answer: CableAnswer) -> dict[str, str]:
    """What is wrong with each wire, in a word or two; the wiring comes first."""
    flags: dict[str, str] = {}
    for fault in answer.faults:
        if fault.kind == NOT_AS_DESCRIBED:
            continue  # each of them is over or under
        for name in fault.wires:
            flags.setdefault(name, fault.kind)
    for wire in answer.wires:
        if wire.verdict not in (None, WITHIN):
            flags.setdefault(wire.name, wire.verdict)
    for one in answer.stands_out:
        flags.setdefault(one.wire, "stands out")
    return flags
