"""Several programs and several threads at the same records."""

import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.adapters.records.child import nursery

from ohmsworth.adapters.records import open_records
from ohmsworth.work.records import Face, Line, NewLine

MANY = 60


def face(_: object) -> Face:
    return Face("x")


def side_by_side(*acts: Callable[[], None]) -> None:
    """Do all at once; raise what one of them raised."""
    raised: list[BaseException] = []
    begin = threading.Barrier(len(acts))

    def run(act: Callable[[], None]) -> None:
        try:
            begin.wait(30)
            act()
        except BaseException as error:
            raised.append(error)

    threads = [threading.Thread(target=run, args=(act,)) for act in acts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(120)
        assert not thread.is_alive()
    if raised:
        raise raised[0]


def test_two_programs_write_one_log(address: str) -> None:
    with open_records(address) as records:
        records.open_card("study", "Kim", [NewLine("first", "x")], face)
    with nursery() as one, nursery() as two:
        own = {"a": [f"a{n}" for n in range(MANY)], "b": [f"b{n}" for n in range(MANY)]}
        for child, name in ((one, "a"), (two, "b")):
            child.order("write", address=address, card=1, keys=own[name])
        said = one.rest() + two.rest()
        # The same keys from both.
        for child in (one, two):
            child.order("write", address=address, card=1, keys=[f"c{n}" for n in range(MANY)])
        same = one.rest(), two.rest()
    assert same[0] == same[1]
    with open_records(address) as records:
        log = records.lines(1, after=1)
        assert records.check() == ()
    assert [line.number for line in log] == list(range(2, 3 * MANY + 2))
    assert sorted(said + same[0]) == sorted(f"{line.number} {line.key}" for line in log)


def test_threads_that_send_the_same_key_get_the_same_line(address: str) -> None:
    with open_records(address) as records:
        records.open_card("study", "Kim", [NewLine("first", "x")], face)
        got: list[tuple[Line, ...]] = []
        opened: list[int] = []

        def send() -> None:
            for n in range(10):
                got.append(records.add(1, "Kim", [NewLine(f"k{n}", "x"), NewLine(f"l{n}", "x")]))
                opened.append(records.open_card("job", "Kim", [NewLine(f"o{n}", "x")], face))

        side_by_side(*[send] * 6)
        assert len(got) == 60
        assert len({line for lines in got for line in [(one.number, one.key) for one in lines]}) == 20
        assert records.count("job") == 10
        assert sorted(set(opened)) == list(range(2, 12))
        assert records.check() == ()


def test_the_same_keys_for_two_cards_at_once(address: str) -> None:
    """One of them has it; the other is told so, whichever order the keys come in."""
    from ohmsworth.work.records import RevisionRefused

    with open_records(address) as records:
        cards = [records.open_card("job", "Kim", [NewLine(f"first{n}", "x")], face) for n in range(2)]
        refused: list[int] = []

        def send(card: int, step: int) -> None:
            for n in range(20):
                try:
                    records.add(card, "Kim", [NewLine(f"{n}{end}", "x") for end in "ab"[::step]])
                except RevisionRefused:
                    refused.append(card)

        side_by_side(lambda: send(cards[0], 1), lambda: send(cards[1], -1))
        assert len(refused) == 20
        assert sum(card.lines for card in records.cards()) == 2 + 40
        assert records.check() == ()


def test_new_records_opened_by_many_at_once(address: str) -> None:
    def use(n: int) -> None:
        with open_records(address, patience=30) as records:
            records.open_card("job", "Kim", [NewLine(f"k{n}", "x")], face)

    side_by_side(*[lambda n=n: use(n) for n in range(5)])
    with open_records(address) as records:
        assert [card.number for card in records.cards()] == [5, 4, 3, 2, 1]
        assert records.check() == ()


def test_one_reads_while_another_writes(tmp_path: Path) -> None:
    """A reader sees what was there when it began, and is not kept waiting by a writer that is at it."""
    address = str(tmp_path / "records.sqlite")
    with open_records(address) as records, open_records(address) as other:
        records.open_card("job", "Kim", [NewLine("a", "x")], face)
        seen: list[int] = []

        def slow(log: object) -> Face:
            seen.append(len(other.lines(1)))
            return Face("slow")

        records.add(1, "Kim", [NewLine("b", "x")], slow)
        assert seen == [1]
        assert len(other.lines(1)) == 2


@pytest.mark.parametrize("most", [1, 900])
def test_many_lines_in_one_go(address: str, most: int) -> None:
    with open_records(address) as records:
        lines = [NewLine(f"k{n}", "x", {"n": n}, about=1 if n else None) for n in range(most)]
        number = records.open_card("job", "Kim", lines, face)
        assert [line.fields["n"] for line in records.lines(number)] == list(range(most))
        assert [line.number for line in records.add(number, "Kim", lines)] == list(range(1, most + 1))
