"""A program that is killed, and a power cut: what was acknowledged is there, and what is there is whole."""

import os
import random
import shutil
import signal
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from tests.adapters.records.child import Nursery, nursery

from ohmsworth.adapters.records import open_records
from ohmsworth.work.records import Face, NewLine

KILLS = 100
SNAPSHOTS = 25
TEARS = 40


@pytest.fixture(scope="module")
def children() -> Iterator[Nursery]:
    with nursery() as started:
        yield started


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "records.sqlite"
    with open_records(str(path)) as records:
        records.open_card("study", "Kim", [NewLine("first", "x")], lambda _: Face("study"))
    return path


def kept(path: Path) -> list[str]:
    """The log as "number key", after everything was looked through."""
    with open_records(str(path)) as records:
        assert records.check() == ()
        return [f"{line.number} {line.key}" for line in records.lines(1, after=1)]


def keys(start: str) -> list[str]:
    return [f"{start}-{n}" for n in range(5000)]


def test_a_program_killed_a_hundred_times(children: Nursery, path: Path) -> None:
    chance = random.Random(20261126)
    acknowledged: list[str] = []
    for kill in range(KILLS):
        # Files let the log beside the records grow and be folded back into them while it goes on.
        children.order(
            "write",
            address=str(path),
            card=1,
            keys=keys(f"k{kill}"),
            content=chance.choice([0, 3000, 20_000]),
        )
        said = [children.line() for _ in range(chance.randrange(1, 12))]
        time.sleep(chance.random() * 0.02)
        said += children.kill()
        acknowledged += said
        with closing(sqlite3.connect(path)) as plain:
            assert plain.execute("PRAGMA quick_check").fetchall() == [("ok",)]
    log = kept(path)
    assert set(acknowledged) <= set(log)
    # One more a kill at most: the line that was on disk when the answer was not yet out.
    assert len(acknowledged) <= len(log) <= len(acknowledged) + KILLS
    assert len(acknowledged) > 5 * KILLS / 2


def stop(pid: int) -> None:
    """Return once it has stopped, which may be a moment after the signal."""
    os.kill(pid, signal.SIGSTOP)
    state = Path(f"/proc/{pid}/stat")
    until = time.monotonic() + 5
    while state.exists() and state.read_text().rpartition(")")[2].split()[0] != "T":
        assert time.monotonic() < until, "it does not stop"
        time.sleep(0.0005)
    if not state.exists():
        time.sleep(0.05)  # a system that does not tell


def snapshots(
    children: Nursery, path: Path, folder: Path, count: int, **settings: int
) -> Iterator[tuple[Path, int, list[str]]]:
    """Copies of the files as they are at a moment, with what was acknowledged before it.

    The writer is stopped while it is copied: it may be in the midst of a write, but nothing moves. The file that only
    helps programs share (-shm) is not copied; after a power cut it means nothing.
    """
    chance = random.Random(7)
    pid = children.order("write", address=str(path), card=1, keys=keys("p"), **settings)
    said: list[str] = []
    for number in range(count):
        said += [children.line() for _ in range(chance.randrange(1, 8))]
        time.sleep(chance.random() * 0.005)
        stop(pid)
        copy = folder / f"{number}.sqlite"
        for end in ("", "-wal"):
            if Path(f"{path}{end}").exists():
                shutil.copyfile(f"{path}{end}", f"{copy}{end}")
        before = list(said)
        os.kill(pid, signal.SIGCONT)
        yield copy, number, before
    children.kill()


@pytest.mark.parametrize(("content", "checkpoint"), [(0, 40), (20_000, 1000)])
def test_power_lost_at_any_moment(
    children: Nursery, path: Path, tmp_path: Path, content: int, checkpoint: int
) -> None:
    taken = snapshots(children, path, tmp_path, SNAPSHOTS, content=content, checkpoint=checkpoint)
    log: list[str] = []
    for copy, _, acknowledged in taken:
        log = kept(copy)
        assert log[: len(acknowledged)] == acknowledged
    assert len(log) > SNAPSHOTS


def test_a_log_beside_the_records_that_is_torn(children: Nursery, path: Path, tmp_path: Path) -> None:
    """Bytes that never reached the disk, or reached it wrong: the lines up to there are kept, and none after."""
    *_, (copy, _, acknowledged) = snapshots(children, path, tmp_path, 15, content=500, checkpoint=0)
    whole = Path(f"{copy}-wal").read_bytes()
    records = copy.read_bytes()
    full = kept(copy)
    assert full[: len(acknowledged)] == acknowledged
    chance = random.Random(3)
    lengths = set()
    for tear in range(TEARS):
        torn = tmp_path / f"torn{tear}.sqlite"
        torn.write_bytes(records)
        at = chance.randrange(len(whole))
        rest = b"" if tear % 2 else bytes(chance.randrange(256) for _ in range(64)) + whole[at + 64 :]
        Path(f"{torn}-wal").write_bytes(whole[:at] + rest)
        log = kept(torn)
        assert log == full[: len(log)]
        lengths.add(len(log))
    assert len(lengths) > TEARS / 4
