"""The pictures of a cable: every wire beside its fellows."""

from __future__ import annotations

from ohmsworth.report.cable_answer import CableAnswer, FellowAnswer
from ohmsworth.report.document import Axis, IntervalFigure, IntervalMark
from ohmsworth.report.words import count, listed, natural

#: Wires that are drawn; beyond, those farthest from the mean of their fellows.
_MOST = 40


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
