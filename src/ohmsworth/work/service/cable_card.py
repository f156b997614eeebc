"""The service card of a built cable: its complete tests, what was mended between them, and its latest paper."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.report.cable_answer import NOT_YET, CableAnswer, CableWireAnswer
from ohmsworth.report.cable_sentences import wrong_words
from ohmsworth.report.cable_words import length_words
from ohmsworth.report.document import Document
from ohmsworth.report.papers.service_cable import cable_document
from ohmsworth.report.papers.service_card import CABLE_FORMAT, CablePaper, CableService, CableTest
from ohmsworth.units import show_interval, show_pm
from ohmsworth.work.builds.complete_tests import complete_tests
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.log import CableState, MeasuredRow
from ohmsworth.work.paper_lines import papers_of
from ohmsworth.work.records import NOBODY
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_settings import read_settings, signed


def cable_paper(desk: CableDesk, shop: Shop, cable: int) -> Document:
    """The service card as of today, in the shop's name; see `cable_service`."""
    return cable_page(shop, cable_service(desk, cable))


def cable_page(shop: Shop, card: CableService) -> Document:
    """What a service card says as its page of today, in the shop's name."""
    today = shop.clock().astimezone().date()
    return signed(cable_document(card, today.isoformat()), read_settings(shop.records))


def cable_service(desk: CableDesk, cable: int) -> CableService:
    """What the service card of a cable says.

    Raises
    ------
    InputRefused
        With every fault of its folder, where it cannot be judged.
    NoSuchCard
        When there is no such cable.
    """
    state = desk.state(cable)
    answer = desk.answer(state)
    tests = _tests(desk, state)
    complete = bool(state.counted) and answer.verdict != NOT_YET
    return CableService(
        format=CABLE_FORMAT,
        name=answer.name,
        serial=answer.serial,
        facts=_facts(state, answer),
        sentence=answer.sentence,
        verdict=answer.verdict or "not tested",
        now=tests[-1] if complete and tests else None,
        tests=tests[:-1] if complete else tests,
        nearest=_nearest(answer),
        paper=_paper(state),
        notes=tuple(str(note.fields.get("text", "")) for note in reversed(state.notes)),
    )


def _tests(desk: CableDesk, state: CableState) -> tuple[CableTest, ...]:
    """The complete tests; of several in a row that say the same the last is told."""
    found: list[CableTest] = []
    begun = 0
    for end, answer in complete_tests(desk.teller, state.toml, state.written):
        rows, begun = state.counted[begun:end], end
        test = _test(rows, answer)
        if found and (found[-1].verdict, found[-1].wrong, found[-1].last) == (
            test.verdict,
            test.wrong,
            test.first,
        ):
            found.pop()
        found.append(test)
    return tuple(found)


def _test(rows: Sequence[MeasuredRow], answer: CableAnswer) -> CableTest:
    days = sorted(row.at.astimezone().date().isoformat() for row in rows)
    people = tuple(name for name in dict.fromkeys(row.by for row in rows) if name and name != NOBODY)
    return CableTest(days[0], days[-1], answer.verdict or NOT_YET, wrong_words(answer), people)


def _facts(state: CableState, answer: CableAnswer) -> tuple[tuple[str, str], ...]:
    described = state.descriptions[0].at.astimezone().date().isoformat() if state.descriptions else ""
    connectors = dict.fromkeys(end.connector for end in answer.ends if end.connector)
    told = (
        ("serial", "" if answer.serial else "not stated"),
        ("length", length_words(answer.length, answer.length_tolerance)),
        ("connectors", "; ".join(connectors)),
        ("in the records since", described),
    )
    return tuple((label, words) for label, words in told if words)


def _nearest(answer: CableAnswer) -> str:
    """The wire that was read nearest to one of its bounds, as a share of what lies between them."""
    read = [wire for wire in answer.wires if wire.resistance is not None and wire.high > wire.low]
    if not read:
        return ""
    wire = min(read, key=_room)
    assert wire.resistance is not None
    reads = show_pm(wire.resistance, wire.standard_uncertainty or 0.0, "Ω")
    return (
        f"Nearest to a bound: {wire.name} reads {reads}; a good one lies between "
        f"{show_interval(wire.low, wire.high, 'Ω').replace(' to ', ' and ')}."
    )


def _room(wire: CableWireAnswer) -> float:
    assert wire.resistance is not None
    return min(wire.resistance - wire.low, wire.high - wire.resistance) / (wire.high - wire.low)


def _paper(state: CableState) -> CablePaper | None:
    papers = papers_of(state)
    current = next((one for one in papers if one.current), None)
    if current is None:
        return None
    issued = current.at.astimezone().date().isoformat()
    return CablePaper(current.number, current.kind, current.result, issued, len(papers) - 1)
