"""What is said of one measurement of a cable at once, and of the one to make next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from ohmsworth.cables.ahead import Ahead
from ohmsworth.cables.build import Place
from ohmsworth.cables.request import CableRequest, CableRow
from ohmsworth.cables.tested import LOST, UNDER, is_path
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.report.cable_answer import POOR_LINK, CableAnswer, CableMeasurementAnswer, CableWireAnswer
from ohmsworth.report.cable_words import places_in_short, stands_out_words
from ohmsworth.report.words import capital
from ohmsworth.units import show, show_pm, show_stated

Sign = Literal["good", "bad", "open"]


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence on a measurement: `headline` is what was read, `word` the verdict in a word or two, `sign` its colour."""

    headline: str
    word: str
    sign: Sign
    words: str


@dataclass(frozen=True, slots=True)
class Leading:
    """The measurement to make: its sides as they are written, in short, what it is for, and what the meter should show.

    `path` is False where no path is hoped for; `wire` is the wire's name, "" where it is none.
    """

    one: str
    other: str
    one_short: str
    other_short: str
    wire: str
    purpose: str
    should: str
    path: bool
    joined: bool


def said_of(request: CableRequest, ahead: Ahead, answer: CableAnswer, row: CableRow) -> Said:
    """What a measurement that was just kept says, in the light of all others."""
    path = is_path(request, row)
    headline = show(row.ohm, "Ω", 4) if path and row.ohm is not None else "no path"
    wire = wire_between(answer, row.one, row.other)
    if wire is not None:
        return _of_wire(headline, wire, answer)
    net_of = {place: number for number, net in enumerate(ahead.nets) for place in net}
    together = {net_of[place] for place in row.one} & {net_of[place] for place in row.other}
    if together:
        asked = {str(one) for one in (*row.one, *row.other)}
        poor = next(
            (fault for fault in answer.faults if fault.kind == POOR_LINK and {*fault.places} == asked), None
        )
        if poor is not None:
            return Said(headline, "wrong", "bad", poor.words)
        if path:
            return Said(headline, "right", "good", "These belong together, and a path was found.")
        return Said(headline, "wrong", "bad", "These belong together, and no path was found.")
    if not path:
        return Said(headline, "right", "good", "No path, as it should be: these do not touch.")
    if len(row.one) == len(row.other) == 1:
        return Said(
            headline, "wrong", "bad", f"{capital(str(row.one[0]))} and {row.other[0]} touch, and must not."
        )
    words = "A path where there should be none: something in these two groups touches. The next measurements halve them."
    return Said(headline, "wrong", "bad", words)


def _of_wire(headline: str, wire: CableWireAnswer, answer: CableAnswer) -> Said:
    name = capital(wire.name)
    if wire.verdict == LOST or wire.resistance is None:
        return Said(
            headline, "wrong", "bad", f"{name} does not reach: no path from {wire.start} to {wire.stop}."
        )
    read = show_pm(wire.resistance, wire.standard_uncertainty or 0.0, "Ω")
    low, high = show(wire.low, "Ω"), show(wire.high, "Ω")
    if wire.verdict == OVER:
        return Said(headline, "over", "bad", f"{name} has {read}, over the {high} of a good one at most.")
    if wire.verdict == UNDER:
        return Said(headline, "under", "bad", f"{name} has {read}, under the {low} of a good one at least.")
    if wire.verdict == OPEN:
        return Said(
            headline, OPEN, "open", f"{name} has {read}, and a good one lies between {low} and {high}."
        )
    out = next((one for one in answer.stands_out if one.wire == wire.name), None)
    if out is not None:
        return Said(
            headline, "look first", "open", f"{name} is within its bounds, and yet: {stands_out_words(out)}"
        )
    return Said(headline, "right", "good", f"{name} has {read}; a good one lies between {low} and {high}.")


def wire_between(
    answer: CableAnswer, one: Sequence[Place | str], other: Sequence[Place | str]
) -> CableWireAnswer | None:
    """The wire that leads from one contact to the other; None for groups, and where none does."""
    if len(one) != 1 or len(other) != 1:
        return None
    between = {str(one[0]), str(other[0])}
    return next((wire for wire in answer.wires if {wire.start, wire.stop} == between), None)


#: What a measurement is for that a person chose.
AS_ASKED = "As you asked"
_PURPOSE = {
    "exchanged": "Both wires do not reach: perhaps they are exchanged",
    "wire": "From end to end",
    "link": "A link at one end",
    "touch": "Do any of these touch?",
    "asked": AS_ASKED,
    "where": "Where do these touch?",
}


def leading_of(request: CableRequest, answer: CableAnswer, after: CableMeasurementAnswer) -> Leading:
    """How the measurement `after` is led to."""
    wire = wire_between(answer, after.one, after.other)
    leads = request.meter.leads.value if request.meter is not None else 0.0
    one, other = (" ".join(side) for side in (after.one, after.other))
    if wire is not None:
        added = f", {show_stated(leads, 'Ω')} of leads among it" if leads else ""
        should = (
            f"The meter should show about {show(wire.usual + leads, 'Ω')}{added}; a good wire lies between "
            f"{show(wire.low + leads, 'Ω')} and {show(wire.high + leads, 'Ω')}."
        )
    elif after.purpose == "link":
        added = f", beside {show_stated(leads, 'Ω')} of leads" if leads else ""
        should = f"The meter should show nearly nothing{added}: these two are joined at this end."
    elif after.purpose == "exchanged":
        should = "A path here shows that two wires were exchanged."
    elif after.purpose == "where":
        should = "These touch: what the meter shows here and at the other end tells where. Leave the other end free."
    elif after.purpose == "touch":
        should = "The meter should show no path."
    else:
        should = ""
    return Leading(
        one, other, places_in_short(after.one), places_in_short(after.other), wire.name if wire else "",
        _PURPOSE.get(after.purpose, ""), should, after.purpose != "touch", len(after.one) + len(after.other) > 2,
    )  # fmt: skip
