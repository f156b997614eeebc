"""Other programs at the same records: real processes that can be stopped, killed, or be somebody else.

Run as a program it loads the store once and then forks for each order, so that a hundred of them cost no hundred imports.
An order is a line of JSON; the answers are lines too: "pid N", one line for each that was acknowledged, "ended STATUS".
"""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[3]
NOBODY = 65534


class Nursery:
    """The program that forks, from outside."""

    def __init__(self, process: "subprocess.Popen[str]") -> None:
        self.process = process
        self.pid = 0

    def order(self, act: str, **settings: Any) -> int:
        """Start one; return its process id."""
        assert self.process.stdin is not None
        self.process.stdin.write(json.dumps({"act": act, **settings}) + "\n")
        self.process.stdin.flush()
        word, pid = self.line().split()
        assert word == "pid"
        self.pid = int(pid)
        return self.pid

    def line(self) -> str:
        assert self.process.stdout is not None
        said = self.process.stdout.readline()
        assert said, "the program that forks has ended"
        return said.rstrip("\n")

    def rest(self) -> list[str]:
        """What the one that runs still says until it has ended."""
        said = []
        while not (line := self.line()).startswith("ended "):
            said.append(line)
        return said

    def kill(self) -> list[str]:
        os.kill(self.pid, signal.SIGKILL)
        return self.rest()


@contextmanager
def nursery() -> Iterator[Nursery]:
    environment = os.environ | {"PYTHONPATH": os.pathsep.join((str(ROOT / "src"), str(ROOT)))}
    process = subprocess.Popen(
        [sys.executable, __file__], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
    )
    try:
        yield Nursery(process)
    finally:
        assert process.stdin is not None
        assert process.stdout is not None
        process.stdin.close()
        process.wait(30)
        process.stdout.close()


def say(line: str) -> None:
    """One write, so that a line is said whole or not at all."""
    os.write(1, f"{line}\n".encode())


def write(
    address: str,
    card: int,
    keys: Sequence[str],
    content: int = 0,
    checkpoint: int | None = None,
    readings: bool = True,
) -> None:
    """Add one line after the other and say each that was acknowledged, with its number."""
    from sqlalchemy import event

    from ohmsworth.adapters.records import open_records
    from ohmsworth.readings.entry import Entry, Typed
    from ohmsworth.work.records import NewLine
    from ohmsworth.work.study_log import TAKEN

    entry = Entry("lead 7", "new", resistance=Typed("2.50", "mΩ", "resistance")) if readings else None
    with open_records(address, patience=30) as records:
        if checkpoint is not None:
            engine = records._database.engine  # type: ignore[attr-defined]
            engine.dispose()
            event.listen(
                engine, "connect", lambda raw, _: raw.execute(f"PRAGMA wal_autocheckpoint={checkpoint}")
            )
        for key in keys:
            more = os.urandom(content) if content else None
            (line,) = records.add(card, "child", [NewLine(key, TAKEN, entry=entry, content=more)])
            say(f"{line.number} {key}")


def try_to_write(address: str, user: int | None = None) -> None:
    """Open and write as another user; say what went wrong."""
    from ohmsworth.adapters.records import open_records
    from ohmsworth.work.records import Face, NewLine, RecordsFault

    if user is not None:
        os.setgroups([])
        os.setgid(user)
        os.setuid(user)
    try:
        with open_records(address, patience=1) as records:
            records.open_card("job", "child", [NewLine("child", "x")], lambda _: Face("x"))
            say("kept")
    except RecordsFault as fault:
        say(str(fault))


def serve() -> None:
    import ohmsworth.adapters.records.checking
    import ohmsworth.adapters.records.layout
    import ohmsworth.adapters.records.opening  # noqa: F401

    for order in sys.stdin:
        settings = json.loads(order)
        act = {"write": write, "try": try_to_write}[settings.pop("act")]
        # The child waits until its number has been said.
        ready, go = os.pipe()
        pid = os.fork()
        if pid == 0:
            status = 1
            try:
                os.read(ready, 1)
                act(**settings)
                status = 0
            except BaseException as error:
                say(f"broken: {error!r}".replace("\n", " "))
            finally:
                os._exit(status)
        say(f"pid {pid}")
        os.write(go, b"x")
        os.close(go)
        os.close(ready)
        say(f"ended {os.waitpid(pid, 0)[1]}")


if __name__ == "__main__":
    serve()
