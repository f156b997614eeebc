"""Lines that were kept elsewhere come in as they were, on both systems as in memory."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.adapters.records_in_memory import RecordsInMemory

from ohmsworth.adapters.records import open_records
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import Face, Line, NewLine, NoSuchCard, Records, RevisionRefused
from ohmsworth.work.study_log import FILE, QUESTION, TAKEN

LONG_AGO = datetime(2021, 3, 4, 5, 6, 7, 89, tzinfo=UTC)


def title(log: Sequence[Line]) -> Face:
    return Face(f"{len(log)} lines", text=" ".join(line.kind for line in log))


def line(number: int, key: str, kind: str = "note written", **said: object) -> Line:
    at = LONG_AGO + timedelta(days=number)
    whole = Line(number, key, kind, f"person {number % 2}", at, {"text": key}, None, "", None, None, False)
    return replace(whole, **said)  # type: ignore[arg-type]


@pytest.fixture(params=["sqlite", "postgres", "in memory"])
def records(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Records]:
    if request.param == "in memory":
        yield RecordsInMemory()
        return
    on_file = request.param == "sqlite"
    place = str(tmp_path / "x.sqlite") if on_file else request.getfixturevalue("postgres_server").fresh()
    with open_records(place) as opened:
        yield opened
        assert opened.check() == ()


def three(specimen: int | None = None) -> list[Line]:
    reading = Entry("lead", "new", resistance=Typed("2.50", "mΩ", "resistance"))
    return [
        line(1, "a", QUESTION, fields={"toml": ""}),
        line(2, "b", TAKEN, entry=reading, specimen=specimen),
        line(3, "c", FILE, fields={"name": "x", "media_type": ""}, about=2, has_content=True, reason="why"),
    ]


def test_a_card_comes_back_as_it_was(records: Records) -> None:
    specimen = records.open_card("specimen", "Kim", [NewLine("s", "card written", {"name": "lead"})], title)
    number = records.restore_card("study", LONG_AGO, three(specimen), {3: b"\0bytes"}, title)
    assert records.lines(number) == tuple(three(specimen))
    card = records.card(number)
    assert (card.opened, card.touched, card.lines, card.face.title) == (
        LONG_AGO,
        LONG_AGO + timedelta(days=3),
        3,
        "3 lines",
    )
    assert records.content(number, 3) == b"\0bytes"
    assert records.card_of("b") == number
    assert records.card_of("z") is None
    assert [one.line.number for one in records.readings_of(specimen)] == [2]


def test_it_has_the_number_that_is_asked_for(records: Records) -> None:
    assert records.restore_card("job", LONG_AGO, [line(1, "j")], {}, title, 17) == 17
    assert records.open_card("job", "Kim", [NewLine("k", "card written")], title) == 18
    with pytest.raises(RevisionRefused):
        records.restore_card("job", LONG_AGO, [line(1, "l")], {}, title, 17)


@pytest.mark.parametrize(
    ("lines", "error"),
    [
        ([], RevisionRefused),
        ([line(2, "p")], RevisionRefused),
        ([line(1, "p"), line(3, "q")], RevisionRefused),
        ([line(1, "p", about=1)], RevisionRefused),
        ([line(1, "taken")], RevisionRefused),
        ([line(1, "p", has_content=True)], RevisionRefused),
        ([line(1, "p", specimen=99, entry=Entry("", ""))], NoSuchCard),
    ],
)
def test_what_is_not_whole_is_refused(records: Records, lines: list[Line], error: type[Exception]) -> None:
    records.open_card("job", "Kim", [NewLine("taken", "card written")], title)
    with pytest.raises(error):
        records.restore_card("study", LONG_AGO, lines, {}, title)
    assert records.count() == 1


def test_what_is_missing_is_added_behind(records: Records) -> None:
    number = records.restore_card("study", LONG_AGO, [line(1, "a")], {}, title)
    records.add(number, "Lee", [NewLine("own", "note written")], title)
    new = [line(2, "b", about=1), line(3, "c", about=3, has_content=True)]
    added = records.restore_lines(number, [line(1, "a"), *new], {3: b"file"}, title)
    assert [one.number for one in added] == [1, 3, 4]
    assert records.lines(number)[2:] == (replace(new[0], number=3), replace(new[1], number=4))
    assert records.content(number, 4) == b"file"
    assert records.card(number).face.title == "4 lines"
    assert records.restore_lines(number, new, {3: b"file"}, title) == added[1:]
    assert records.card(number).lines == 4


def test_lines_of_another_card_are_refused(records: Records) -> None:
    number = records.restore_card("study", LONG_AGO, [line(1, "a")], {}, title)
    records.open_card("job", "Kim", [NewLine("k", "card written")], title)
    with pytest.raises(RevisionRefused):
        records.restore_lines(number, [line(2, "k")], {}, title)
    with pytest.raises(NoSuchCard):
        records.restore_lines(99, [line(2, "b")], {}, title)
    with pytest.raises(RevisionRefused):
        records.restore_lines(number, [line(2, "b", about=2)], {}, title)
    assert records.card(number).lines == 1


def test_a_moment_without_its_zone_is_refused(address: str) -> None:
    with open_records(address) as records, pytest.raises(ArgumentFault):
        records.restore_card("job", LONG_AGO, [line(1, "j", at=datetime(2021, 1, 1))], {}, title)  # noqa: DTZ001
