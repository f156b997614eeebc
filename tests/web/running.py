"""The bench as a program of its own, for tests of how it starts, answers and ends."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

#: Seconds for a start or an end; far more than it takes.
PATIENCE = 30


@dataclass
class Running:
    """A bench that serves; `address` ends with a slash."""

    program: subprocess.Popen[str]
    address: str
    line: str

    @property
    def port(self) -> int:
        return int(re.findall(r":(\d+)/", self.address)[0])


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "ohmsworth", *arguments]


def environment(**more: str) -> dict[str, str]:
    """No screen, so that no browser is opened, and no records but those that are named."""
    kept = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")}
    return kept | {"PYTHONUNBUFFERED": "1"} | more


@contextmanager
def bench(*arguments: str, **more: str) -> Iterator[Running]:
    """Start the bench, and end it when the test is done with it."""
    program = subprocess.Popen(
        command("bench", *arguments),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=environment(**more),
    )
    try:
        assert program.stdout is not None
        line = program.stdout.readline()
        found = re.search(r"https?://\S+", line)
        assert found, f"{line!r} {program.stderr.read() if program.stderr else ''}"
        yield Running(program, found[0], line)
    finally:
        if program.poll() is None:
            program.terminate()
            try:
                program.wait(PATIENCE)
            except subprocess.TimeoutExpired:
                program.kill()
                program.wait()
        for pipe in (program.stdout, program.stderr):
            if pipe is not None:
                pipe.close()


def run(*arguments: str, typed: str = "", **more: str) -> subprocess.CompletedProcess[str]:
    """Run a command to its end."""
    return subprocess.run(
        command(*arguments),
        capture_output=True,
        text=True,
        input=typed,
        env=environment(**more),
        timeout=PATIENCE,
        check=False,
    )


def until(true: object, seconds: float = PATIENCE) -> None:
    """Wait until `true()`."""
    end = time.monotonic() + seconds
    while not true():  # type: ignore[operator]
        assert time.monotonic() < end
        time.sleep(0.05)


def records_in(folder: Path) -> str:
    return str(folder / "shop.records")
