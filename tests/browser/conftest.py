"""A browser, and a bench that runs as its own process."""

import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

playwright = pytest.importorskip("playwright.sync_api")

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"desktop": (1280, 900), "tablet": (820, 1180), "tablet lying": (1180, 820)}
AXE = (Path(__file__).parent / "axe.min.js").read_text(encoding="utf-8")
#: The rules of WCAG 2.0 to 2.2 at levels A and AA.
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass
class Served:
    """A running bench."""

    address: str
    records: Path
    process: subprocess.Popen[str]

    @property
    def port(self) -> int:
        return int(self.address.rsplit(":", 1)[1])

    def kill(self) -> None:
        """Pull the plug."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait(10)


def start_bench(records: Path, *more: str, port: int = 0) -> Served:
    """Start a bench on this port of this machine, or any free one, and wait until it says its address."""
    # By the environment: practice has records of its own, and refuses to be told others.
    environment = {**os.environ, "PYTHONUNBUFFERED": "1", "OHMSWORTH_RECORDS": str(records)}
    process = subprocess.Popen(
        [sys.executable, "-m", "ohmsworth", "bench", "--port", str(port), "--no-open", *more],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env=environment,
    )  # fmt: skip
    assert process.stdout is not None
    said = []
    for line in process.stdout:
        said.append(line)
        found = re.search(r"https?://127\.0\.0\.1:\d+", line)
        if found:
            return Served(found[0], records, process)
    raise AssertionError("the bench did not start: " + "".join(said))


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Return Debian's chromium."""
    program = shutil.which("chromium")
    if program is None:
        pytest.skip("needs Debian's chromium: apt-get install chromium")
    with playwright.sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=program, args=FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Callable[..., Served]]:
    """Return what starts a bench; every one that was started is ended."""
    started: list[Served] = []

    def start(*more: str, records: Path | None = None, port: int = 0) -> Served:
        served = start_bench(records or tmp_path / "shop.records", *more, port=port)
        started.append(served)
        return served

    yield start
    for served in started:
        if served.process.poll() is None:
            served.process.terminate()
            served.process.wait(20)
        assert served.process.stdout is not None
        served.process.stdout.close()


def violations(page: Any) -> list[str]:
    """What axe finds on a page, a line each."""
    page.evaluate(AXE)
    found = page.evaluate("tags => axe.run(document, {runOnly: {type: 'tag', values: tags}})", TAGS)
    return [
        f"{one['id']} ({one['impact']}): {one['help']} – {node['html'][:160]} – {node['failureSummary'][:300]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]
