"""Which copies are kept, when one is due, and when it is said that one is missing."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.work.backups import (
    DAILY,
    MONTHLY,
    Copy,
    copy_name,
    is_due,
    kept,
    make_copy,
    moment_of,
    newest,
    told_if_old,
)
from ohmsworth.work.records import Records, RecordsFault

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
MOMENTS = st.integers(0, 3 * 365 * 86_400).map(lambda seconds: NOON - timedelta(seconds=seconds))


def copy(at: datetime) -> Copy:
    return Copy(copy_name(at), at)


@given(MOMENTS)
def test_a_name_says_its_moment(at: datetime) -> None:
    assert moment_of(copy_name(at)) == at


@pytest.mark.parametrize(
    "name",
    [
        "shop.sqlite",
        "copy.sqlite",
        "copy 2026-13-02 093000Z.sqlite",
        "copy 2026-03-02 093000Z.sqlite.part",
        "",
    ],
)
def test_other_files_are_no_copies(name: str) -> None:
    assert moment_of(name) is None


@given(st.lists(MOMENTS, max_size=60, unique=True))
def test_what_is_kept(moments: list[datetime]) -> None:
    copies = [copy(at) for at in moments]
    stay = kept(copies)
    days = sorted({one.day for one in copies}, reverse=True)
    months = sorted({(d.year, d.month) for d in days}, reverse=True)
    assert set(stay) <= set(copies)
    assert kept(stay) == stay
    if not copies:
        return
    assert stay[0] == max(copies, key=lambda one: one.at)
    assert {one.day for one in stay} >= set(days[:DAILY])
    assert {(one.day.year, one.day.month) for one in stay} >= set(months[:MONTHLY])
    older = [one for one in stay if one.day != days[0]]
    assert len(older) <= DAILY - 1 + MONTHLY
    assert len({one.day for one in older}) == len(older)
    for one in older:
        assert one.at == max(other.at for other in copies if other.day == one.day)


@given(st.lists(st.integers(1, 4), min_size=1, max_size=120))
def test_thinning_day_by_day_keeps_two_weeks_and_six_months(pauses: list[int]) -> None:
    held: tuple[Copy, ...] = ()
    made = []
    at = NOON
    for days in pauses:
        at += timedelta(days=days)
        made.append(copy(at))
        held = kept([*held, made[-1]])
    assert held[:DAILY] == tuple(reversed(made))[:DAILY]
    ends = {}
    for one in made:
        ends[one.day.year, one.day.month] = one
    assert set(list(reversed(ends.values()))[:MONTHLY]) <= set(held)


class Folder:
    """Copies in memory; `broken` is what making one raises."""

    place = "a folder"

    def __init__(self, *moments: datetime) -> None:
        self.held = {copy_name(at): at for at in moments}
        self.broken = False
        self.stuck = False

    def copies(self) -> tuple[Copy, ...]:
        return tuple(Copy(name, at) for name, at in self.held.items())

    def make(self, name: str, write: object) -> Copy:
        if self.broken:
            raise RecordsFault("no room")
        at = moment_of(name)
        assert at is not None
        self.held[name] = at
        return Copy(name, at)

    def path(self, name: str) -> Path:
        return Path(name)

    def remove(self, name: str) -> None:
        if self.stuck:
            raise RecordsFault("in use")
        del self.held[name]


class Copied:
    def back_up(self, _: Path) -> None:
        """Nothing to be written here."""


RECORDS = cast(Records, Copied())


def test_older_copies_go_once_the_new_one_is_there() -> None:
    folder = Folder(*(NOON - timedelta(days=n) for n in range(1, 40)))
    made = make_copy(RECORDS, folder, NOON)
    assert made.name in folder.held
    assert set(folder.held.values()) == {
        *(NOON - timedelta(days=n) for n in range(DAILY)),
        datetime(2026, 1, 31, 12, tzinfo=UTC),
        datetime(2026, 2, 28, 12, tzinfo=UTC),
    }


def test_none_goes_where_the_new_one_cannot_be_made() -> None:
    folder = Folder(*(NOON - timedelta(days=n) for n in range(1, 40)))
    folder.broken = True
    with pytest.raises(RecordsFault, match="no room"):
        make_copy(RECORDS, folder, NOON)
    assert len(folder.held) == 39


def test_one_that_cannot_be_removed_does_no_harm() -> None:
    folder = Folder(*(NOON - timedelta(days=n) for n in range(1, 40)))
    folder.stuck = True
    assert make_copy(RECORDS, folder, NOON).at == NOON


def test_a_copy_is_kept_that_was_made_while_the_clock_was_behind() -> None:
    folder = Folder(*(NOON + timedelta(days=n) for n in range(1, 40)))
    assert make_copy(RECORDS, folder, NOON).name in folder.held


def test_when_a_copy_is_due() -> None:
    assert is_due([], NOON)
    assert not is_due([copy(NOON - timedelta(hours=11))], NOON)
    assert is_due([copy(NOON - timedelta(hours=13))], NOON)
    assert is_due([copy(datetime(2099, 1, 1, tzinfo=UTC))], NOON)


def test_what_is_said_of_old_copies() -> None:
    assert told_if_old([], NOON, 0) == ""
    assert told_if_old([], NOON, 3) == "No copy of the records has been made yet."
    assert told_if_old([copy(NOON - timedelta(days=7))], NOON, 3) == ""
    assert told_if_old([copy(NOON - timedelta(days=8))], NOON, 3).endswith("is 8 days old.")
    far = copy(datetime(2099, 1, 1, tzinfo=UTC))
    assert told_if_old([far], NOON, 3).startswith("No copy")
    assert newest([far, copy(NOON)], NOON) == copy(NOON)
