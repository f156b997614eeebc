"""Four benches at once on one PostgreSQL, twenty readings a second each: from the request to the fragment with the verdict.

    python benchmarks/bench_four.py [seconds]

Two servers, two benches at each. The peer is psycopg alone, in the same run and at the same pace: four connections that each
insert a row and commit. The database of the tests does not flush to disk, for either of them.
"""

from __future__ import annotations

import http.client
import os
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from urllib.parse import urlencode

import numpy as np
import psycopg

sys.path.insert(0, str(Path(__file__).parents[1]))
from tests.adapters.records.servers import Server, server

BENCHES, EACH_SECOND = 4, 20
HEADERS = {"HX-Request": "true", "Content-Type": "application/x-www-form-urlencoded"}


def at_pace(seconds: float, act: Callable[[int], None]) -> np.ndarray:
    """Do `act` at the pace of a bench; return how long each took (second)."""
    took, begun = [], time.perf_counter()
    for number in range(int(seconds * EACH_SECOND)):
        time.sleep(max(0.0, begun + number / EACH_SECOND - time.perf_counter()))
        if time.perf_counter() - begun > seconds:
            break
        at = time.perf_counter()
        act(number)
        took.append(time.perf_counter() - at)
    return np.array(took)


def all_at_once(acts: list[Callable[[], np.ndarray]]) -> np.ndarray:
    """What all of them took together."""
    found: list[np.ndarray] = []
    threads = [threading.Thread(target=lambda act=act: found.append(act())) for act in acts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if len(found) < len(acts):
        raise SystemExit("a bench failed")
    return np.concatenate(found)


def serve(address: str, folder: Path, ending: ExitStack) -> tuple[int, int]:
    """Start a server; return its port and its process."""
    folder.mkdir()
    command = [sys.executable, "-m", "ohmsworth", "bench", "--records", address, "--port", "0", "--no-open"]
    # The note of who serves lies beside the user's own records: each server here is another user's.
    environment = os.environ | {"PYTHONUNBUFFERED": "1", "OHMSWORTH_RECORDS": str(folder / "own.records")}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
    assert process.stdout is not None
    ending.callback(process.stdout.close)
    ending.callback(process.wait, 30)
    ending.callback(process.terminate)
    for line in process.stdout:
        if found := re.search(r"127\.0\.0\.1:(\d+)", line):
            return int(found[1]), process.pid
    raise SystemExit("the bench did not start")


class Bench:
    """Somebody who reads as fast as the meter gives."""

    def __init__(self, port: int, number: int) -> None:
        self.number = number
        self.chance = random.Random(number)
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        question = {
            "question": f"How fast is bench {number}?", "conditions": "new\ntarnished", "limit": "4 mΩ", "specimens": "10",
            "matings": "10", "reversal": "yes", "key": f"study-{number}",
        }  # fmt: skip
        self.ask("POST", "/studies/new", question)
        listed = self.ask("GET", f"/studies?search=bench+{number}")[1]
        self.study = re.findall(r"/studies/(\d+)\"", listed)[0]

    def ask(self, method: str, path: str, fields: dict[str, str] | None = None) -> tuple[int, str]:
        self.connection.request(method, path, urlencode(fields) if fields else None, HEADERS)
        answer = self.connection.getresponse()
        return answer.status, answer.read().decode()

    def read(self, i: int) -> None:
        """One reading, beside the sheet, so that there is no end to them."""
        fields = {
            "key": f"{self.number}-{i}", "step": "", "volunteered": "yes", "specimen": f"new {i // 20 + 1}", "condition": "new",
            "mating": str(i // 2 % 10 + 1), "polarity": "-" if i % 2 else "+",
            "voltage": f"{0.25 * (1 + self.chance.gauss(0, 0.02)):.4f}", "voltage_unit": "mV", "current": "100.02",
            "current_unit": "mA", "anyway": "it is so",
        }  # fmt: skip
        status, page = self.ask("POST", f"/studies/{self.study}/bench", fields)
        if status != 200 or "Kept:" not in page:
            raise SystemExit(page[:500])


def alone(database: Server, seconds: float) -> np.ndarray:
    """The peer."""
    database.execute(
        "CREATE TABLE plain (bench int, number int, key text UNIQUE, text text, PRIMARY KEY (bench, number))"
    )

    def one(bench: int) -> np.ndarray:
        with psycopg.connect(database.address()) as connection:

            def insert(i: int) -> None:
                row = (bench, i, f"{bench}-{i}", "0.2513 mV 100.02 mA")
                connection.execute("INSERT INTO plain VALUES (%s, %s, %s, %s)", row)
                connection.commit()

            return at_pace(seconds, insert)

    return all_at_once([lambda bench=bench: one(bench) for bench in range(BENCHES)])


def processor(pid: int) -> float:
    """Seconds of processor that a process has used."""
    fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    """Measure and print one line."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60.0
    with tempfile.TemporaryDirectory() as name, server() as database, ExitStack() as ending:
        address = database.fresh()
        started = [serve(address, Path(name) / str(n), ending) for n in range(2)]
        benches = [Bench(started[n % 2][0], n) for n in range(BENCHES)]
        before = sum(processor(pid) for _, pid in started)
        took = all_at_once([lambda bench=bench: at_pace(seconds, bench.read) for bench in benches]) * 1e3
        used = sum(processor(pid) for _, pid in started) - before
        peer = alone(database, seconds) * 1e3
    p50, p99 = np.quantile(took, [0.5, 0.99])
    plain, plain99 = np.quantile(peer, [0.5, 0.99])
    print(
        f"four benches on PostgreSQL, {len(took) / seconds:.0f} readings a second of {BENCHES * EACH_SECOND} wanted: "
        f"median {p50:.1f} ms, p99 {p99:.1f} ms, {1e3 * used / len(took):.1f} ms of processor each; "
        f"psycopg alone {plain:.1f} ms and {plain99:.1f} ms ({p50 / plain:.1f} x); load {os.getloadavg()[0]:.1f}"
    )


if __name__ == "__main__":
    main()
