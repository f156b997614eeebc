"""The server is killed while readings stream in over HTTP: what was confirmed is there, once, and the file is sound."""

import os
import random
import shutil
import signal
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
from tests.reliability.kept import all_kept, file_in, sound
from tests.reliability.nursery import Nursery
from tests.reliability.writers import Writer, confirmed, four_writers, new_study, writing
from tests.web.running import bench

pytestmark = pytest.mark.slow
KILLS, STARTS, CUTS = 100, 5, 20


def until_more(writers: Sequence[Writer], before: int) -> None:
    end = time.monotonic() + 60
    while len(confirmed(writers)) <= before:
        assert time.monotonic() < end, "nothing is confirmed any more"
        time.sleep(0.002)


def test_a_server_killed_a_hundred_times(children: Nursery, tmp_path: Path) -> None:
    path, chance = file_in(tmp_path), random.Random(20261126)
    first = children.serve(path)
    study = new_study(first.port)
    first.kill()
    writers = four_writers(study)
    for _ in range(KILLS):
        server = children.serve(path)
        before = len(confirmed(writers))
        with writing(writers, [server.port] * 4):
            until_more(writers, before)
            time.sleep(chance.random() * 0.1)
            server.kill()
        sound(path)
    assert all(not writer.told for writer in writers), writers[0].told
    # One a writer at most: the one that the last kill left without an answer.
    all_kept(path, study, writers, unsure=4)
    assert len(confirmed(writers)) >= KILLS


def test_the_command_itself_killed_five_times(tmp_path: Path) -> None:
    path, study, writers = file_in(tmp_path), 0, list[Writer]()
    for _ in range(STARTS):
        with bench("--records", path, "--port", "0", "--no-open") as running:
            study = study or new_study(running.port)
            writers = writers or four_writers(study)
            before = len(confirmed(writers))
            with writing(writers, [running.port] * 4):
                until_more(writers, before + 5)
                running.program.kill()
        sound(path)
    all_kept(path, study, writers, unsure=4)
    assert len(confirmed(writers)) > 5 * STARTS


def test_power_lost_in_mid_stream(children: Nursery, tmp_path: Path) -> None:
    """The files as they are on the disk at a moment are all that is left: a server over them has every confirmed reading.

    The server is stopped while they are copied; what had not been written when the power went is not in them.
    """
    path, chance = file_in(tmp_path), random.Random(3)
    server = children.serve(path)
    writers = four_writers(study := new_study(server.port))
    copies: list[tuple[str, int, list[list[str]]]] = []
    with writing(writers, [server.port] * 4):
        for number in range(CUTS):
            until_more(writers, len(confirmed(writers)) + chance.randrange(12))
            time.sleep(chance.random() * 0.02)
            before = [list(writer.confirmed) for writer in writers]
            server.signal(signal.SIGSTOP)
            while Path(f"/proc/{server.pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "T":
                time.sleep(0.001)
            copy = str(tmp_path / f"cut {number}")
            for end in ("", "-wal"):
                if os.path.exists(f"{path}{end}"):
                    shutil.copyfile(f"{path}{end}", f"{copy}{end}")
            server.signal(signal.SIGCONT)
            copies.append((copy, number, before))
    for copy, _, before in copies:
        then = [Writer(one.name, study, confirmed=known) for one, known in zip(writers, before, strict=True)]
        keys = all_kept(copy, study, then, unsure=8)
        assert len(keys) >= len(confirmed(then))
    again = children.serve(copies[-1][0])
    with writing(writers, [again.port] * 4):
        until_more(writers, len(confirmed(writers)))
