"""What a person reads when the records cannot be opened, read or written."""

import os
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import event
from tests.adapters.records.child import NOBODY, nursery
from tests.disks import small_disk

from ohmsworth.adapters.records import open_records
from ohmsworth.adapters.records.database import Database
from ohmsworth.adapters.records.place import place_of
from ohmsworth.adapters.records.turns import lock_file
from ohmsworth.work.records import Face, NewLine, Records, RecordsFault


def face(_: object) -> Face:
    return Face("x")


def first(records: Records) -> None:
    records.open_card("job", "Kim", [NewLine("a", "x")], face)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Records with one card."""
    path = tmp_path / "shop" / "records.sqlite"
    with open_records(str(path)) as records:
        first(records)
    return path


def refused(address: object, words: str) -> None:
    with pytest.raises(RecordsFault, match=words), open_records(str(address)):
        pass


def test_places_that_are_none(tmp_path: Path) -> None:
    refused("", "No place")
    refused("mysql://u:secret@h/d", "begins with postgresql://")
    refused("postgresql://u:x@h:port/d", "cannot be read")
    refused(tmp_path, "is a folder")
    refused(tmp_path / "drive" / "shop" / "records.sqlite", "no folder .*drive.*plug in the drive")
    assert not (tmp_path / "drive").exists()
    (tmp_path / "file").write_text("")
    refused(tmp_path / "file" / "records.sqlite", "cannot be made: File exists|no folder")
    os.mkfifo(tmp_path / "pipe")
    refused(tmp_path / "pipe", "not a file")
    refused(tmp_path / ("n" * 300), "File name too long")


def test_the_folder_and_the_file_are_for_this_user_alone(path: Path) -> None:
    with open_records(str(path)) as records:
        records.add(1, "Kim", [NewLine("b", "x")])
        files = sorted(path.parent.iterdir())
        assert {file.stat().st_mode & 0o777 for file in files} == {0o600}
        assert [file.name for file in files] == [
            f"records.sqlite{end}" for end in ("", "-shm", "-wal", ".lock")
        ]
    assert path.parent.stat().st_mode & 0o777 == 0o700
    assert sorted(path.parent.iterdir()) == [path, lock_file(path)]


def test_missing_folders_at_home_are_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    with open_records("~/.local/share/shop/records.sqlite") as records:
        first(records)
    assert (tmp_path / ".local/share/shop/records.sqlite").is_file()


def test_without_a_home_a_whole_path_is_asked_for() -> None:
    refused("~nobody-of-that-name/records.sqlite", "has no home folder")


def test_a_name_that_means_something_to_sqlite(tmp_path: Path) -> None:
    path = tmp_path / "a?mode=memory#%20 ü.sqlite"
    with open_records(str(path)) as records:
        first(records)
    assert path.is_file()


def test_something_else_stands_in_the_file(tmp_path: Path) -> None:
    text = tmp_path / "text"
    text.write_text("readings,readings\n" * 100)
    refused(text, "not a records file.*left as it is")
    assert text.read_text().startswith("readings")
    other = tmp_path / "other"
    with closing(sqlite3.connect(other)) as made:
        made.execute("CREATE TABLE songs (name)")
    refused(other, "tables of another program")


def test_a_damaged_file(path: Path) -> None:
    with open_records(str(path)) as records:
        records.add(1, "Kim", [NewLine(f"k{n}", "x", {"text": "x" * 3000}) for n in range(50)])
    whole = path.read_bytes()
    # Its own description of the tables is whole, so that it opens; the rest is not.
    pages = len(whole) // 4096
    path.write_bytes(whole[: 4096 * (pages // 2)] + b"\x5a" * (len(whole) - 4096 * (pages // 2)))
    with open_records(str(path)) as records:
        assert any("damaged" in said for said in records.check())
        with pytest.raises(RecordsFault, match=r"are damaged.*restore the newest backup"):
            records.lines(1)
        with pytest.raises(RecordsFault, match=r"damaged|not sound"):
            records.back_up(path.with_name("copy"))
    assert not list(path.parent.glob("*copy*"))
    path.write_bytes(whole[:4096] + b"\x5a" * (len(whole) - 4096))
    refused(path, "damaged")


def test_another_program_does_not_let_go(path: Path) -> None:
    with open_records(str(path), patience=0.2) as records, closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(RecordsFault, match=r"in use by another program.*this was not kept.*try again"):
            records.add(1, "Kim", [NewLine("b", "x")])
        assert [line.key for line in records.lines(1)] == ["a"]
        other.execute("ROLLBACK")
        records.add(1, "Kim", [NewLine("b", "x")])
        assert [line.key for line in records.lines(1)] == ["a", "b"]


def test_writers_take_turns_also_across_programs(path: Path) -> None:
    """The turn ends after the commit and what SQLite does behind it; readers need none."""
    other = Database(place_of(str(path)))
    try:
        with open_records(str(path), patience=0.2) as records:
            with other.turn():
                with pytest.raises(RecordsFault, match="in use by another program"):
                    records.add(1, "Kim", [NewLine("b", "x")])
                assert records.card(1).lines == 1
            records.add(1, "Kim", [NewLine("b", "x")])
            with pytest.raises(ZeroDivisionError):
                other.write(lambda _: 1 // 0)
            records.add(1, "Kim", [NewLine("c", "x")])
            assert records.card(1).lines == 3
    finally:
        other.close()


def test_a_thread_that_does_not_let_go(path: Path) -> None:
    with open_records(str(path), patience=0.2) as records:

        def again(log: object) -> Face:
            records.add(1, "Kim", [NewLine("c", "x")])
            return Face("never")

        with pytest.raises(RecordsFault, match="in use"):
            records.add(1, "Kim", [NewLine("b", "x")], again)
        assert records.card(1).lines == 1


def write_until_full(records: Records) -> int:
    """The number of lines that were acknowledged; the fault says what to do."""
    for number in range(2, 1000):
        try:
            records.add(1, "Kim", [NewLine(f"k{number}", "x", content=os.urandom(10_000))], face)
        except RecordsFault as fault:
            assert "this was not kept" in str(fault)  # noqa: PT017
            assert "room" in str(fault)  # noqa: PT017
            return number - 1
    raise AssertionError("never full")


def test_a_full_disk(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as disk:
        filler = disk / "filler"
        filler.write_bytes(b"\0" * 400_000)
        with open_records(str(disk / "records.sqlite")) as records:
            first(records)
            kept = write_until_full(records)
            assert records.card(1).lines == kept > 2
            with pytest.raises(RecordsFault, match=r"copy .* cannot be written.*untouched"):
                records.back_up(disk / "copy")
            assert not list(disk.glob("*copy*"))
            filler.unlink()
            records.add(1, "Kim", [NewLine("after", "x")], face)
            assert records.card(1).lines == kept + 1
            assert records.check() == ()


def test_a_file_that_may_not_grow(path: Path) -> None:
    with open_records(str(path)) as records:
        engine = records._database.engine  # type: ignore[attr-defined]
        engine.dispose()
        event.listen(engine, "connect", lambda raw, _: raw.execute("PRAGMA max_page_count=60"))
        kept = write_until_full(records)
        assert records.card(1).lines == kept > 2
        assert records.check() == ()
    with open_records(str(path)) as records:
        records.add(1, "Kim", [NewLine("after", "x")])
        assert records.card(1).lines == kept + 1


def test_a_system_that_lets_no_file_grow(path: Path) -> None:
    """A limit of the system is met in the midst of a write to the file."""
    code = f"""
import os, resource, signal
from ohmsworth.adapters.records import open_records
from tests.adapters.records.test_faults import write_until_full
with open_records({str(path)!r}) as records:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, resource.RLIM_INFINITY))
    print(write_until_full(records), flush=True)
"""
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(("src", "."))}
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    with open_records(str(path)) as records:
        assert records.card(1).lines == int(done.stdout) > 2
        assert records.check() == ()


@pytest.mark.parametrize("what", ["folder", "file", "both"])
def test_what_may_only_be_read(path: Path, what: str) -> None:
    user = NOBODY if os.getuid() == 0 else None
    if user is not None:
        for place in (path.parent, path):
            os.chown(place, user, user)
        for place in path.parents[1:]:
            if not place.stat().st_mode & 0o001 and place != Path("/"):
                place.chmod(place.stat().st_mode | 0o711)
    if what != "folder":
        path.chmod(0o400)
    if what != "file":
        path.parent.chmod(0o500)
    try:
        with nursery() as child:
            child.order("try", address=str(path), user=user)
            (said,) = child.rest()
    finally:
        path.parent.chmod(0o700)
    assert said.startswith("The records in"), said
    assert "may" in said or "read-only" in said
    path.chmod(0o600)
    with open_records(str(path)) as records:
        assert records.count() == 1


def test_a_folder_in_which_nothing_may_be_made(tmp_path: Path) -> None:
    folder = tmp_path / "closed"
    folder.mkdir(mode=0o500)
    user = NOBODY if os.getuid() == 0 else None
    for place in tmp_path.parents[:3] if user else ():
        place.chmod(place.stat().st_mode | 0o711)
    with nursery() as child:
        child.order("try", address=str(folder / "records.sqlite"), user=user)
        (said,) = child.rest()
    assert "Permission denied" in said
    assert "choose a folder" in said


def test_a_file_that_is_gone_is_not_written_on(path: Path) -> None:
    with open_records(str(path)) as records:
        moved = path.with_name("moved")
        path.rename(moved)
        with pytest.raises(RecordsFault, match=r"was moved, deleted or replaced.*not kept"):
            records.add(1, "Kim", [NewLine("b", "x")])
        shutil.copy(moved, path)
        with pytest.raises(RecordsFault, match="replaced"):
            records.add(1, "Kim", [NewLine("b", "x")])
        path.unlink()
        moved.rename(path)
        records.add(1, "Kim", [NewLine("b", "x")])
        assert records.card(1).lines == 2


def test_a_drive_that_cannot_keep_them_safe(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a drive of the network SQLite answers with another mode; here the answer is put into its mouth."""
    connect = sqlite3.connect

    class Elsewhere(sqlite3.Connection):
        def execute(self, sql: str, *parameters: object) -> sqlite3.Cursor:
            return super().execute("SELECT 'delete'" if "journal_mode" in sql else sql, *parameters)  # type: ignore[arg-type]

    monkeypatch.setattr(sqlite3, "connect", lambda *a, **k: connect(*a, factory=Elsewhere, **k))
    refused(path, "one on the network. Choose a folder on a disk of this computer")


def test_a_file_that_was_changed_from_outside_is_noticed(path: Path) -> None:
    with open_records(str(path)) as records:
        records.add(1, "Kim", [NewLine("b", "x", content=b"photo"), NewLine("c", "x"), NewLine("d", "x")])
        with closing(sqlite3.connect(path)) as other:
            for table, act in (("content", "update"), ("line", "delete"), ("line", "update")):
                other.execute(f"DROP TRIGGER {table}_no_{act}")
            other.execute("UPDATE content SET bytes = x'00'")
            other.execute("DELETE FROM line WHERE number = 3")
            other.execute("UPDATE line SET about = 4 WHERE number = 1")
            other.execute("UPDATE face SET lines = 7")
            other.execute("UPDATE reading SET card = 5")
            other.commit()
        assert records.check() == (
            "The log of card 1 has a gap.",
            "Line 1 of card 1 is about a later one.",
            "The list does not show card 1 as it is.",
            "The file in line 2 of card 1 is damaged.",
        )
        with pytest.raises(RecordsFault, match="newest backup"):
            records.content(1, 2)
        with closing(sqlite3.connect(path)) as other:
            other.execute("INSERT INTO content VALUES (1, 9, x'00', 'x')")
            other.commit()
        assert "A row of content refers to a row of line that is not there." in records.check()
