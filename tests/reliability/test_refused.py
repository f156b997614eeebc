"""When a reading cannot be kept: what a person and a program are told, that nothing confirmed is lost, and how it goes on."""

import json
import os
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from tests.adapters.records.child import NOBODY
from tests.disks import small_disk
from tests.reliability.kept import all_kept, file_in, keys_of, log_of
from tests.reliability.nursery import Nursery
from tests.reliability.writers import (
    Answer,
    Caller,
    Writer,
    for_form,
    for_program,
    four_writers,
    new_study,
    writing,
)

TITLE = "The records cannot be reached just now"


def told(port: int, study: int, *words: str) -> None:
    """A program, a page with scripts and one without are told the same, and what was typed is still there."""
    caller = Caller(port)
    program = caller.api("POST", f"/studies/{study}/readings", for_program("refused-1", "new 9"))
    assert program.status == 503
    part = Caller(port, scripts=True).ask(
        "POST", f"/studies/{study}/bench", for_form("refused-2", "new 9", "0.2599")
    )
    page = caller.ask("POST", f"/studies/{study}/bench", for_form("refused-3", "new 9", "0.2599"))
    for answer, said in (
        (program, json.loads(program.text)["message"]),
        (part, part.words),
        (page, page.words),
    ):
        assert answer.status == 503
        for word in (TITLE, "this was not kept", *words):
            assert word in said, said
        assert "Traceback" not in said
    assert "<html" not in part.text
    assert 'name="key" value="refused-3"' in page.text
    assert "What you typed is kept on this page" in page.words
    assert "specimen new 9" in page.words
    assert "voltage 0.2599" in page.words
    assert "Send it again" in page.words


def kept_again(port: int, study: int) -> None:
    """The cause is gone: what had been refused is sent again and kept."""
    answer = Caller(port).ask("POST", f"/studies/{study}/bench", for_form("refused-3", "new 9", "0.2599"))
    assert answer.status == 200, answer.words
    assert "Kept:" in answer.words


def fill(writer: Writer, port: int) -> Answer:
    """Send until it is refused; return what was said."""
    with writing([writer], [port]) as enough:
        while not writer.told and len(writer.confirmed) < 3000:
            enough.wait(0.01)
    assert writer.told, "never full"
    return writer.told[0]


def test_a_full_disk(children: Nursery, tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk") as disk:
        path, filler = file_in(disk), disk / "filler"
        server = children.serve(path)
        writer = Writer("full", study := new_study(server.port))
        filler.write_bytes(b"\0" * (os.statvfs(disk).f_bavail * os.statvfs(disk).f_frsize - 250_000))
        first = fill(writer, server.port)
        assert first.status == 503
        told(server.port, study, "The disk is full", "Make room on the disk, then try again")
        # What is kept can still be read.
        assert Caller(server.port).ask("GET", f"/studies/{study}/bench").status == 200
        filler.unlink()
        kept_again(server.port, study)
        server.kill()
        assert "refused-3" in all_kept(path, study, [writer], unsure=2)
        assert len(writer.confirmed) > 2


def test_files_that_may_not_grow(children: Nursery, tmp_path: Path) -> None:
    """A limit of the system, as a quota is one: met in the midst of a write."""
    path = file_in(tmp_path)
    server = children.serve(path, largest_file=400_000)
    writer = Writer("quota", study := new_study(server.port))
    fill(writer, server.port)
    told(server.port, study, "room")
    server.kill()
    again = children.serve(path)
    kept_again(again.port, study)
    assert "refused-3" in all_kept(path, study, [writer], unsure=2)
    assert len(writer.confirmed) > 2


def test_a_folder_that_becomes_read_only(children: Nursery, tmp_path: Path) -> None:
    folder = tmp_path / "shop"
    folder.mkdir()
    first = children.serve(file_in(folder))
    study = new_study(first.port)
    kept = for_program("kept-000")
    assert Caller(first.port).api("POST", f"/studies/{study}/readings", kept).status == 200
    first.kill()
    user = NOBODY if os.getuid() == 0 else None
    if user is not None:
        for place in (tmp_path, *tmp_path.parents[:3]):
            place.chmod(place.stat().st_mode | 0o711)
    for place in (folder, *folder.iterdir()):
        os.chown(place, user or -1, user or -1)
    for place in folder.iterdir():
        place.chmod(0o400)
    folder.chmod(0o500)
    try:
        closed = children.serve(file_in(folder), user=user)
        told(closed.port, study, "read-only", "Allow this user to write both the file and its folder")
        assert "new 1" in Caller(closed.port).ask("GET", f"/studies/{study}/readings").words
        closed.kill()
    finally:
        folder.chmod(0o700)
        for place in folder.iterdir():
            place.chmod(0o600)
    again = children.serve(file_in(folder), user=user)
    kept_again(again.port, study)
    again.kill()
    assert keys_of(log_of(file_in(folder), study)) == ["kept-000", "refused-3"]


def test_a_file_that_somebody_else_holds(children: Nursery, tmp_path: Path) -> None:
    path = file_in(tmp_path)
    server = children.serve(path, patience=0.3)
    study = new_study(server.port)
    with closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN EXCLUSIVE")
        told(server.port, study, "in use by another program", "Close the other program, then try again")
        assert Caller(server.port).ask("GET", f"/studies/{study}/bench").status == 200
        other.execute("ROLLBACK")
    kept_again(server.port, study)
    server.kill()
    assert keys_of(log_of(path, study)) == ["refused-3"]


def test_a_file_that_is_held_for_a_moment(children: Nursery, tmp_path: Path) -> None:
    """Shorter than anybody's patience: nobody notices."""
    path = file_in(tmp_path)
    server = children.serve(path)
    writers = four_writers(study := new_study(server.port))
    with closing(sqlite3.connect(path)) as other, writing(writers, [server.port] * 4) as enough:
        for _ in range(3):
            other.execute("BEGIN EXCLUSIVE")
            enough.wait(0.4)
            other.execute("ROLLBACK")
            enough.wait(0.2)
    assert [writer.told for writer in writers] == [[]] * 4
    server.kill()
    all_kept(path, study, writers)


def test_a_file_that_was_moved_away(children: Nursery, tmp_path: Path) -> None:
    path = file_in(tmp_path)
    server = children.serve(path)
    study = new_study(server.port)
    os.rename(path, tmp_path / "elsewhere")
    caller = Caller(server.port)
    answer = caller.ask("POST", f"/studies/{study}/bench", for_form("refused-3", "new 9", "0.2599"))
    assert answer.status == 503
    assert "was moved, deleted or replaced while it was in use. This was not kept." in answer.words
    assert "What you typed is kept on this page" in answer.words
    os.rename(tmp_path / "elsewhere", path)
    kept_again(server.port, study)


def test_a_clock_that_steps_back(children: Nursery, tmp_path: Path) -> None:
    """Readings stand in the order in which they were kept, whatever the clock says."""
    path = file_in(tmp_path)
    server = children.serve(path, steps_back=True)
    writers = four_writers(study := new_study(server.port))
    with writing(writers, [server.port] * 4) as enough:
        while any(len(writer.confirmed) < 5 for writer in writers):
            enough.wait(0.05)
    page = Caller(server.port).ask("GET", f"/studies/{study}/readings")
    assert page.status == 200
    server.kill()
    all_kept(path, study, writers)
    times = [line.at for line in log_of(path, study)]
    assert times == sorted(times, reverse=True)
    assert len(set(times)) > 20


def test_many_at_once_while_nothing_can_be_written(children: Nursery, tmp_path: Path) -> None:
    """Whoever waits for the file does not keep others from reading for longer than the wait."""
    path = file_in(tmp_path)
    server = children.serve(path, patience=0.5)
    study = new_study(server.port)
    answers: list[Answer] = []
    with closing(sqlite3.connect(path)) as other:
        other.execute("BEGIN EXCLUSIVE")

        def send(n: int) -> None:
            answers.append(
                Caller(server.port).api("POST", f"/studies/{study}/readings", for_program(f"many-{n:03d}"))
            )

        threads = [threading.Thread(target=send, args=(n,)) for n in range(12)]
        for thread in threads:
            thread.start()
        assert Caller(server.port).ask("GET", f"/studies/{study}/bench").status == 200
        for thread in threads:
            thread.join(60)
        other.execute("ROLLBACK")
    assert [answer.status for answer in answers] == [503] * 12
    assert (
        Caller(server.port).api("POST", f"/studies/{study}/readings", for_program("many-000")).status == 200
    )


@pytest.mark.parametrize("path", ["/studies/1/bench", "/studies/1/readings", "/api/studies/1/readings"])
def test_pages_over_a_damaged_file(children: Nursery, tmp_path: Path, path: str) -> None:
    """It is said, with what to do; the program goes on."""
    records = file_in(tmp_path)
    server = children.serve(records)
    new_study(server.port)
    server.kill()
    whole = Path(records).read_bytes()
    again = children.serve(records)
    with Path(records).open("r+b") as file:
        for start in range(4096, len(whole), 4096):
            file.seek(start)
            file.write(b"\x5a" * 4096)
    answer = Caller(again.port).ask("GET", path)
    assert answer.status == 503
    assert "damaged" in answer.words
    assert "restore the newest backup" in answer.words
    assert Caller(again.port).ask("GET", "/health").status == 200
