"""Whatever is added, sent again or refused, in whatever order: the store says what records in plain dicts say."""

import shutil
import tempfile
from collections.abc import Callable, Sequence
from datetime import date, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings, strategies
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule, run_state_machine_as_test
from tests.adapters.records.clocks import Clock
from tests.adapters.records.plain import PlainRecords
from tests.adapters.records.servers import Server

from ohmsworth.adapters.records import open_store
from ohmsworth.errors import OhmsworthError
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work import study_log
from ohmsworth.work.records import Face, Line, NewLine, Records
from ohmsworth.work.take_log import TakeFile, take_fields

# Few of each, so that keys come again, cards are missed and lines are corrected more than once.
KEYS = strategies.sampled_from([f"k{n}" for n in range(30)])
CARDS = strategies.integers(0, 6)
WORDS = strategies.text(strategies.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8)
CONDITIONS = ("check bar", "Check bar", "")
CHANGES = (study_log.WITHDRAWN, study_log.PUT_BACK, study_log.KEPT, study_log.SET_ASIDE)
TAKING = (study_log.TAKEN, study_log.TAKE)
WITH_ENTRY = (*TAKING, study_log.CORRECTED, study_log.QUESTIONED)
KINDS = strategies.sampled_from((study_log.TAKEN, *WITH_ENTRY, *CHANGES, "card written"))
JSON = strategies.recursive(
    strategies.none() | strategies.booleans() | strategies.integers(-(2**63) + 1, 2**63 - 1) | WORDS,
    lambda inner: strategies.lists(inner, max_size=3) | strategies.dictionaries(WORDS, inner, max_size=3),
    max_leaves=6,
)
TOLD = take_fields(
    {"straight": (TakeFile("a.wav", "0" * 64),)}, "1" * 64, "2" * 64, {"value": [["0.009", "1e-05"]]}
)
# A time is kept with its offset from UTC, as it was written, and not with the name of a zone. Both must be asked with the
# offset: Python finds no time of an hour that a zone's clocks showed twice equal to the same time with an offset.
TIMES = strategies.datetimes(timezones=strategies.timezones()).map(
    lambda time: time.replace(tzinfo=timezone(time.utcoffset() or timedelta()))
)
ENTRIES = strategies.builds(
    Entry,
    specimen=WORDS,
    condition=strategies.sampled_from(CONDITIONS) | WORDS,
    polarity=strategies.sampled_from(["+", "-", "0", ""]),
    resistance=strategies.none()
    | strategies.builds(
        Typed,
        strategies.decimals(0, 1000, places=4).map(str),
        strategies.just("mΩ"),
        strategies.just("resistance"),
    ),
    time=strategies.none() | TIMES,
    note=WORDS,
    step=strategies.none() | strategies.integers(0, 2**63 - 1),
    others=strategies.dictionaries(WORDS, WORDS, max_size=2),
)


@strategies.composite
def new_lines(draw: Callable[..., Any]) -> NewLine:
    kind = draw(KINDS)
    with_entry = kind in WITH_ENTRY
    return NewLine(
        key=draw(KEYS),
        kind=kind,
        fields=draw(strategies.dictionaries(WORDS, JSON, max_size=2))
        | (TOLD if kind == study_log.TAKE else {}),
        about=None if kind in TAKING else draw(strategies.none() | strategies.integers(1, 6)),
        reason=draw(WORDS),
        entry=draw(ENTRIES) if with_entry else None,
        specimen=draw(strategies.none() | strategies.integers(1, 3)) if with_entry else None,
        content=draw(strategies.none() | strategies.binary(max_size=5)),
    )


LINES = strategies.lists(new_lines(), min_size=1, max_size=4)


def face(log: Sequence[Line]) -> Face:
    last = log[-1]
    due = date(2026, 1, len(log) % 28 + 1) if last.reason else None
    figures = {"lines": len(log), "share": len(log) / 7, last.reason: [last.about]} if last.about else {}
    return Face(last.key, "open" if last.about else "closed", f"{last.reason} {last.kind}", due, "", figures)


class Both(RuleBasedStateMachine):
    """The store beside the plain records."""

    server: Server | None = None

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.mkdtemp()
        self.clock = Clock()
        self.plain = PlainRecords(self.clock)
        address = str(Path(self.folder) / "records.sqlite") if self.server is None else self.server.fresh()
        self.opened = open_store(address, clock=self.clock)
        self.real = self.opened.__enter__().records

    def teardown(self) -> None:
        try:
            assert self.real.check() == ()
        finally:
            self.opened.__exit__(None, None, None)
            shutil.rmtree(self.folder)

    def same(self, ask: Callable[[Records], object]) -> None:
        """Both answer alike, or both refuse, for the same kind of reason."""
        answers: list[object] = []
        for records in (self.plain, self.real):
            try:
                answers.append(ask(records))
            except OhmsworthError as error:
                answers.append(type(error))
        assert answers[0] == answers[1]

    @initialize()
    def specimens(self) -> None:
        for n in range(2):
            self.same(
                lambda records, n=n: records.open_card("specimen", "Kim", [NewLine(f"s{n}", "x")], face)
            )

    @rule(seconds=strategies.sampled_from([1, 1, 60, -30]))
    def wait(self, seconds: int) -> None:
        self.clock.step(seconds)

    @rule(kind=strategies.sampled_from(["study", "specimen"]), lines=LINES)
    def open_card(self, kind: Any, lines: list[NewLine]) -> None:
        self.same(lambda records: records.open_card(kind, "Kim", lines, face))

    @rule(card=CARDS, lines=LINES, faced=strategies.booleans())
    def add(self, card: int, lines: list[NewLine], faced: bool) -> None:
        for _ in range(2):  # sent twice, as after an answer that was lost
            self.same(lambda records: records.add(card, "Lee", lines, face if faced else None))

    @rule(name=WORDS, value=WORDS)
    def write_setting(self, name: str, value: str) -> None:
        self.same(lambda records: records.write_setting(name, value, "Kim"))

    @rule(search=WORDS, first=strategies.integers(0, 3), most=strategies.integers(0, 5))
    def look(self, search: str, first: int, most: int) -> None:
        self.same(lambda records: records.cards(search=search, first=first, most=most))
        self.same(lambda records: records.count("study", search=search, state="open"))
        self.same(lambda records: records.figures_of("study", search=search))
        self.same(lambda records: records.cards(due_by=date(2026, 1, 2 + most)))

    @invariant()
    def alike(self) -> None:
        self.same(lambda records: records.cards())
        self.same(lambda records: records.figures_of("study"))
        self.same(lambda records: records.settings())
        self.same(lambda records: records.setting_lines(3))
        self.same(lambda records: records.count_readings())
        for card in self.plain.held:
            self.same(lambda records, card=card: records.lines(card))
            self.same(lambda records, card=card: records.readings_of(card))
        for condition in CONDITIONS:
            self.same(lambda records, condition=condition: records.readings_under(condition))
        for place in self.plain.files:
            self.same(lambda records, place=place: records.content(*place))


@pytest.mark.parametrize("system", ["sqlite", "postgres"])
def test_the_store_says_what_plain_records_say(system: str, request: pytest.FixtureRequest) -> None:
    server = request.getfixturevalue("postgres_server") if system == "postgres" else None
    examples = 20 if system == "sqlite" else 6
    machine = type("Machine", (Both,), {"server": server})
    run_state_machine_as_test(machine, settings=settings(max_examples=examples, stateful_step_count=15))  # type: ignore[no-untyped-call]
