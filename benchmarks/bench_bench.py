"""From Enter to the fragment that says what the reading is worth, with the reading on disk.

A real server on loopback over records that hold 100,000 readings; the peer is what somebody would do without it: a row added
to a CSV file, flushed to disk, and the whole file read again and its resistances worked out. Both see the same disk.
"""

from __future__ import annotations

import csv
import http.client
import os
import random
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from urllib.parse import urlencode

import numpy as np

from ohmsworth import wiring
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.make_study import make_study
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.study_log import TAKEN

READINGS, EACH, ROUNDS = 100_000, 200, 400
FORM = StudyForm(
    "Do the tarnished contacts matter?",
    ("new", "tarnished"),
    limit="4 mΩ",
    limit_source="datasheet",
    specimens="10",
    matings="10",
)


def fill(path: Path) -> None:
    """Put studies with readings into the records, many lines to a transaction."""
    chance = random.Random(5)
    with wiring.open_records(str(path)) as records:
        shop = wiring.shop(records)
        for number in range(READINGS // EACH):
            study = make_study(shop, FORM, "somebody", f"study-{number}")
            lines = [NewLine(f"{number}-{i}", TAKEN, entry=entry(chance, i)) for i in range(EACH)]
            records.add(study, "somebody", lines)


def entry(chance: random.Random, i: int) -> Entry:
    """One reading of an invented contact."""
    sign = "-" if i % 2 else "+"
    volts = 0.25 * (1 + chance.gauss(0, 0.02))
    mating = str(i // 2 % 10 + 1)
    return Entry(
        f"new {i // 20 + 1}",
        "new",
        "",
        mating,
        sign,
        Typed(f"{volts:.4f}", "mV", "voltage"),
        Typed("100.02", "mA", "current"),
    )  # type: ignore[arg-type]


def serve(path: Path) -> tuple[subprocess.Popen[str], int]:
    """Start the bench."""
    command = [sys.executable, "-m", "ohmsworth", "bench", "--records", str(path), "--port", "0", "--no-open"]
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"}
    )
    assert process.stdout is not None
    for line in process.stdout:
        if found := re.search(r"127\.0\.0\.1:(\d+)", line):
            return process, int(found[1])
    raise SystemExit("the bench did not start")


def ask(
    connection: http.client.HTTPConnection, method: str, path: str, fields: dict[str, str] | None = None
) -> tuple[int, str]:
    """One request."""
    headers = {"HX-Request": "true", "Content-Type": "application/x-www-form-urlencoded"}
    connection.request(method, path, urlencode(fields) if fields else None, headers)
    answer = connection.getresponse()
    return answer.status, answer.read().decode()


def hidden(page: str, name: str) -> str:
    """The value of a hidden field."""
    found = re.search(rf'name="{name}" value="([^"]*)"', page)
    assert found is not None, name
    return found[1]


def bench_times(port: int) -> np.ndarray:
    """Seconds from Enter to the fragment."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    chance = random.Random(9)
    _, page = ask(connection, "POST", "/studies/new", {
        "question": "How fast is it?", "conditions": "new\ntarnished", "limit": "4 mΩ", "specimens": "10", "matings": "10",
        "reversal": "yes", "key": "speed",
    })  # fmt: skip
    _, listed = ask(connection, "GET", "/studies?search=fast")
    study = re.findall(r"/studies/(\d+)\"", listed)[0]
    _, page = ask(connection, "GET", f"/studies/{study}/bench/now")
    taken = []
    for _ in range(ROUNDS):
        fields = {
            name: hidden(page, name)
            for name in ("key", "step", "specimen", "condition", "contact", "mating", "polarity")
        }
        size = 0.25 if fields["condition"] == "new" else 0.6
        fields |= {
            "voltage": f"{size * (1 + chance.gauss(0, 0.02)):.4f}",
            "voltage_unit": "mV",
            "current": "100.02",
            "current_unit": "mA",
        }
        begun = time.perf_counter()
        status, page = ask(connection, "POST", f"/studies/{study}/bench", fields)
        if status == 409:
            status, page = ask(
                connection, "POST", f"/studies/{study}/bench", fields | {"keep": "yes", "anyway": "it is so"}
            )
        taken.append(time.perf_counter() - begun)
        assert status == 200, page[:500]
        if 'name="step"' not in page or not hidden(page, "step"):
            break
    return np.array(taken)


def csv_times(folder: Path) -> np.ndarray:
    """Seconds to add a row to a file, flush it, read the file again and work the resistances out."""
    path = folder / "readings.csv"
    path.write_text("specimen,condition,mating,polarity,voltage,current\n")
    taken = []
    for i in range(ROUNDS):
        begun = time.perf_counter()
        with path.open("a", newline="") as file:
            csv.writer(file).writerow([f"new {i // 20}", "new", i // 2 % 10, "-+"[i % 2 == 0], 0.25, 100.02])
            file.flush()
            os.fsync(file.fileno())
        with path.open(newline="") as file:
            rows = list(csv.DictReader(file))
        [float(row["voltage"]) / float(row["current"]) for row in rows]
        taken.append(time.perf_counter() - begun)
    return np.array(taken)


def main() -> None:
    """Measure and print one line each."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fill(folder / "shop.records")
        process, port = serve(folder / "shop.records")
        try:
            times = bench_times(port)
        finally:
            process.terminate()
            process.wait(20)
            assert process.stdout is not None
            process.stdout.close()
        peer = csv_times(folder)
    p50, p99 = (float(np.quantile(times, q)) * 1e3 for q in (0.5, 0.99))
    print(
        f"bench entry, {READINGS} readings in the records, {len(times)} entries: median {p50:.1f} ms, p99 {p99:.1f} ms; "
        f"{p50 / (float(np.median(peer)) * 1e3):.1f} x a flushed row of a CSV file that is read again"
    )


if __name__ == "__main__":
    main()
