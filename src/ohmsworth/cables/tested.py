"""What the measurements of a cable say: wiring, every wire against its bounds and its fellows, and what is still to measure."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.cables.ahead import Ahead, look_ahead
from ohmsworth.cables.alike import Fellows, compare_fellows
from ohmsworth.cables.build import Place, Wire
from ohmsworth.cables.fewest import (
    Asked,
    Question,
    contradicting,
    left_open,
    next_question,
    touching,
    unexplained,
)
from ohmsworth.cables.request import CableMeter, CableRequest, CableRow, Locate
from ohmsworth.cables.shared import SharedCause, shared_cause
from ohmsworth.cables.touched import TwoWires, loop_of, loop_places, two_that_touch
from ohmsworth.cables.wiring import WiringFault, wiring_faults
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conformity import OPEN, OVER, WITHIN, probability_within

UNDER, LOST = "under", "no path"


@dataclass(frozen=True, slots=True)
class WireReading:
    """One wire as it was read.

    `ohm` is None where there was no path; `uncertainty` and `probability`, that it lies between its bounds, then too.
    """

    line: int
    ohm: float | None
    uncertainty: float | None
    probability: float | None
    verdict: str


@dataclass(frozen=True, slots=True)
class Group:
    """Wires that should read alike, by their names, and what was found of them; None where they are too few."""

    wires: tuple[str, ...]
    fellows: Fellows | None


@dataclass(frozen=True, slots=True)
class NextPlaces:
    """The measurement to make next: contacts on either side of the meter, and what it is for."""

    one: tuple[Place, ...]
    other: tuple[Place, ...]
    purpose: str


@dataclass(frozen=True, slots=True)
class CableFound:
    """Everything that the rows say.

    Parameters
    ----------
    readings
        Of each wire by its name, those that were read.
    faults
        Of the wiring.
    open_links
        Links at which no path was found.
    poor_links
        Links that read more than a sound one does, each with the ohm that it read and the most that a sound one shows.
    groups
        Wires beside their fellows.
    shared
        What wires outside of their bounds have in common; None where they have nothing.
    unread
        Names of wires without a reading.
    loops
        Of two wires that touch: what was read at both ends, from which the distance follows.
    to_loop
        Two wires that touch and of which that is not read yet.
    wanted
        What is left to measure of it.
    pairs_left
        Pairs of nets that may still touch.
    unexplained, contradicting
        Lines on which something touched that is not found yet, or that others contradict.
    following
        What to measure next; None when nothing is left.
    """

    readings: Mapping[str, WireReading]
    faults: tuple[WiringFault, ...]
    open_links: tuple[tuple[Place, Place], ...]
    poor_links: tuple[tuple[tuple[Place, Place], float, float], ...]
    groups: tuple[Group, ...]
    shared: SharedCause | None
    unread: tuple[str, ...]
    loops: tuple[Locate, ...]
    to_loop: tuple[TwoWires, ...]
    wanted: tuple[NextPlaces, ...]
    pairs_left: int
    unexplained: tuple[int, ...]
    contradicting: tuple[int, ...]
    following: NextPlaces | None


def judge_rows(request: CableRequest, rows: Sequence[CableRow], ahead: Ahead | None = None) -> CableFound:
    """Judge the measurements of a cable; of a measurement that was made again the last counts.

    Parameters
    ----------
    request, rows
        The cable, and what was measured at it.
    ahead
        What its build says, where that is known already.

    Raises
    ------
    ArgumentFault
        Without a meter.
    """
    if request.meter is None:
        raise ArgumentFault("meter", None, "the accuracy of the meter")
    build = request.build
    ahead = ahead or look_ahead(request)
    rows = _that_count(rows)
    at = _between_two(rows)
    single = [*at.values()]
    read = _of_wires(request, at)
    readings = _readings(request, request.meter, ahead, read)
    nets = ahead.nets
    asked, lines = _asked(request, nets, rows)
    open_links = tuple(
        link for link in build.links if (row := at.get(frozenset(link))) and not is_path(request, row)
    )
    paths = _paths(request, nets, single, asked, readings)
    faults = wiring_faults(build, [*paths, *(link for link in build.links if link not in open_links)])
    unread = tuple(wire.name for wire in build.wires if wire.name not in readings)
    whole = {name: one.ohm for name, one in readings.items() if one.ohm is not None}
    alone = [wire for wire in build.wires if not ahead.readings[wire.name][1]]
    return CableFound(
        readings,
        faults,
        open_links,
        _poor_links(request, request.meter, ahead, at),
        _groups(alone, readings, request.meter),
        _shared(alone, readings, ahead),
        unread,
        *_loops(request, request.meter, two_that_touch(build, nets, touching(asked), whole), whole, at),
        left_open(len(nets), asked),
        tuple(lines[number] for number in unexplained(asked)),
        tuple(lines[number] for number in contradicting(asked)),
        next(_left(request, nets, asked, at), None),
    )


def left_to_measure(
    request: CableRequest, rows: Sequence[CableRow], ahead: Ahead | None = None
) -> tuple[NextPlaces, ...]:
    """Everything that is left to measure, in the order in which it is asked for, as long as each finds what a sound cable has.

    Parameters
    ----------
    request, rows, ahead
        As of `judge_rows`; no meter is needed.
    """
    rows = _that_count(rows)
    nets = (ahead or look_ahead(request)).nets
    return tuple(_left(request, nets, _asked(request, nets, rows)[0], _between_two(rows)))


def _that_count(rows: Sequence[CableRow]) -> tuple[CableRow, ...]:
    """Of a measurement that was made again the last one."""
    return tuple({frozenset((frozenset(row.one), frozenset(row.other))): row for row in rows}.values())


def _between_two(rows: Sequence[CableRow]) -> dict[frozenset[Place], CableRow]:
    """Rows between two single contacts."""
    return {frozenset((row.one[0], row.other[0])): row for row in rows if len(row.one) == len(row.other) == 1}


def _poor_links(
    request: CableRequest, meter: CableMeter, ahead: Ahead, at: Mapping[frozenset[Place], CableRow]
) -> tuple[tuple[tuple[Place, Place], float, float], ...]:
    """Links that lead, and have more than a sound one beyond what the meter leaves in doubt (JCGM 106)."""
    found = []
    for link, most in ahead.links.items():
        row = at.get(frozenset(link))
        if row is None or row.ohm is None or not is_path(request, row):
            continue
        ohm = row.ohm - meter.leads.value
        chance = float(probability_within(ohm, meter.uncertainty(row.ohm), math.inf, most))
        if 1 - chance >= request.coverage:
            found.append((link, ohm, most))
    return tuple(found)


def _of_wires(request: CableRequest, at: Mapping[frozenset[Place], CableRow]) -> dict[str, CableRow]:
    """Rows from end to end of a wire, by its name."""
    wires = request.build.wires
    return {wire.name: at[pair] for wire in wires if (pair := frozenset((wire.start, wire.stop))) in at}


def is_path(request: CableRequest, row: CableRow) -> bool:
    """Whether a measurement found a path."""
    return row.ohm is not None and row.ohm < request.no_path


def _readings(
    request: CableRequest, meter: CableMeter, ahead: Ahead, rows: Mapping[str, CableRow]
) -> dict[str, WireReading]:
    """Wires against their bounds, with the meter's uncertainty (JCGM 106)."""
    shown = {name: row.ohm for name, row in rows.items() if row.ohm is not None and is_path(request, row)}
    uncertainty = {name: meter.uncertainty(ohm) for name, ohm in shown.items()}
    ohm = np.array([*shown.values()]) - meter.leads.value
    spread = np.array([*uncertainty.values()])
    bounds = [ahead.readings[name][0] for name in shown]
    below, up_to = (
        probability_within(ohm, spread, math.inf, np.array(limits))
        for limits in ([one.low for one in bounds], [one.high for one in bounds])
    )
    chances = {name: (float(below[k]), float(up_to[k])) for k, name in enumerate(shown)}
    return {
        name: _reading(row.line, shown[name] - meter.leads.value, uncertainty[name], *chances[name], request.coverage)
        if name in shown
        else WireReading(row.line, None, None, None, LOST)
        for name, row in rows.items()
    }  # fmt: skip


def _reading(
    line: int, ohm: float, uncertainty: float, below: float, up_to: float, coverage: float
) -> WireReading:
    """A wire by the chances that it lies below its low bound, and below its high one."""
    inside = max(up_to - below, 0.0)
    verdict = OPEN
    if inside >= coverage:
        verdict = WITHIN
    elif 1 - up_to >= coverage:
        verdict = OVER
    elif below >= coverage:
        verdict = UNDER
    return WireReading(line, ohm, uncertainty, inside, verdict)


def _asked(
    request: CableRequest, nets: Sequence[tuple[Place, ...]], rows: Sequence[CableRow]
) -> tuple[list[Asked], list[int]]:
    """Measurements between different nets as questions, and the line of each."""
    net_of = {place: number for number, net in enumerate(nets) for place in net}
    asked, lines = [], []
    for row in rows:
        one, other = (tuple(sorted({net_of[place] for place in side})) for side in (row.one, row.other))
        if not set(one) & set(other):
            asked.append(Asked(Question(one, other), is_path(request, row)))
            lines.append(row.line)
    return asked, lines


def _paths(
    request: CableRequest,
    nets: Sequence[tuple[Place, ...]],
    single: Sequence[CableRow],
    asked: Sequence[Asked],
    readings: Mapping[str, WireReading],
) -> list[tuple[Place, Place]]:
    """Paths that were found, those that groups of contacts lead to, and wires that nobody read yet taken for sound."""
    net_of = {place: number for number, net in enumerate(nets) for place in net}
    found = [(row.one[0], row.other[0]) for row in single if is_path(request, row)]
    exact = {frozenset((net_of[one], net_of[other])) for one, other in found}
    led_to = [(nets[a][0], nets[b][0]) for a, b in touching(asked) if frozenset((a, b)) not in exact]
    unread = [(wire.start, wire.stop) for wire in request.build.wires if wire.name not in readings]
    return [*found, *led_to, *unread]


def _groups(
    wires: Sequence[Wire], readings: Mapping[str, WireReading], meter: CableMeter
) -> tuple[Group, ...]:
    """Wires of one kind between the same ends, those that have a path."""
    alike: dict[tuple[str, ...], list[tuple[str, float]]] = {}
    for wire in wires:
        reading = readings.get(wire.name)
        if reading is not None and reading.ohm is not None:
            key = (wire.kind.name, *sorted((wire.start.end, wire.stop.end)))
            alike.setdefault(key, []).append((wire.name, reading.ohm))
    groups = []
    for members in alike.values():
        ohm = [value for _, value in members]
        own = meter.independent(sum(ohm) / len(ohm))
        groups.append(Group(tuple(name for name, _ in members), compare_fellows(ohm, own)))
    return tuple(groups)


def _shared(wires: Sequence[Wire], readings: Mapping[str, WireReading], ahead: Ahead) -> SharedCause | None:
    """What wires over their bounds, or those under them, have in common."""
    read = {wire.name: ohm for wire in wires if (ohm := _ohm_of(readings, wire)) is not None}
    expected = {name: ahead.readings[name][0] for name in read}
    sides = ([name for name in read if readings[name].verdict == verdict] for verdict in (OVER, UNDER))
    causes = (shared_cause(read, expected, outside) for outside in sides)
    return next((cause for cause in causes if cause is not None), None)


def _ohm_of(readings: Mapping[str, WireReading], wire: Wire) -> float | None:
    reading = readings.get(wire.name)
    return None if reading is None else reading.ohm


def _loops(
    request: CableRequest,
    meter: CableMeter,
    touching_wires: Sequence[TwoWires],
    whole: Mapping[str, float],
    at: Mapping[frozenset[Place], CableRow],
) -> tuple[tuple[Locate, ...], tuple[TwoWires, ...], tuple[NextPlaces, ...]]:
    """Loops that were read from both ends, wires that touch of which they are not, and what is missing of those.

    Where a [[locate]] tells of both wires, it counts.
    """
    told = {frozenset(wish.wires) for wish in request.locate}
    found, left = [], []
    for wires in touching_wires:
        if frozenset(wire.name for wire in wires) in told:
            continue
        near, far = (at.get(frozenset(pair)) for pair in loop_places(wires))
        ohms = [
            row.ohm
            for row in (near, far)
            if row is not None and row.ohm is not None and is_path(request, row)
        ]
        if len(ohms) == 2:
            found.append(loop_of(wires, ohms[0], ohms[1], whole, meter))
        elif near is None or far is None:
            left.append(wires)
    pairs = (pair for wires in left for pair in loop_places(wires) if frozenset(pair) not in at)
    return tuple(found), tuple(left), tuple(NextPlaces((a,), (b,), "where") for a, b in pairs)


def _left(
    request: CableRequest,
    nets: Sequence[tuple[Place, ...]],
    asked: Sequence[Asked],
    at: Mapping[frozenset[Place], CableRow],
) -> Iterator[NextPlaces]:
    """Where an open wire ends first, then what nobody read, then what may touch."""
    read = _of_wires(request, at)
    exchanged = _perhaps_exchanged(request, read, at)
    if exchanged is not None:
        yield exchanged  # where the next one leads depends on what this one shows
    for wire in request.build.wires:
        if wire.name not in read:
            yield NextPlaces((wire.start,), (wire.stop,), "wire")
    for link in request.build.links:
        if frozenset(link) not in at:
            yield NextPlaces((link[0],), (link[1],), "link")
    asked = list(asked)
    while (question := next_question(len(nets), asked)) is not None:
        yield NextPlaces(*places_of(question, nets), "touch")
        asked.append(Asked(question, False))


def _perhaps_exchanged(
    request: CableRequest, read: Mapping[str, CableRow], at: Mapping[frozenset[Place], CableRow]
) -> NextPlaces | None:
    """From the start of a wire that does not reach to the stop of another."""
    lost = [
        wire for wire in request.build.wires if wire.name in read and not is_path(request, read[wire.name])
    ]
    ended = {place for pair, row in at.items() if is_path(request, row) for place in pair}
    for wire in lost:
        for other in lost:
            pair = frozenset((wire.start, other.stop))
            free = other is not wire and wire.start not in ended and other.stop not in ended
            if free and pair not in at and len(pair) == 2:
                return NextPlaces((wire.start,), (other.stop,), "exchanged")
    return None


def places_of(
    question: Question, nets: Sequence[tuple[Place, ...]]
) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
    """The contacts to join on either side: of each net its first."""
    one, other = (tuple(nets[number][0] for number in side) for side in (question.one, question.other))
    return one, other
