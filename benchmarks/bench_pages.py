"""Every page of the bench over records with 500 studies and 100,000 readings: its time in the server and its size.

The time is that of the processor, so that a busy machine changes it little, without the pictures that a page fetches later; the
peer is the page that says nothing but that the program is there.
"""

from __future__ import annotations

import os
import re
import tempfile
import time
from pathlib import Path

import numpy as np
from bench_bench import EACH, READINGS, entry, fill
from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.records import Face, NewLine, Records
from ohmsworth.work.study_log import TAKE, TAKEN

#: A drawing in the page, which is a picture and not counted.
PICTURE = re.compile(rb"<svg.*?</svg>", re.DOTALL)
ROUNDS, LARGE, TAKES = 7, 2_000, 60
MOST_MS, MOST_KB = 150.0, 200.0
#: {large} is a study with 2,000 readings, {specimen} a specimen that was read in many studies, {tones} a study with takes of 60
#: contacts over frequency.
PAGES = (
    "/", "/studies", "/studies?first=450", "/studies?search=tarnished", "/studies/new", "/specimens", "/meters", "/circuits",
    "/shop", "/search?q=tarnished", "/who", "/studies/1/bench", "/studies/1/bench/now", "/studies/1/bench/ahead",
    "/studies/1/bench/live", "/studies/1/readings", "/studies/1/question", "/studies/1/frequency", "/studies/{tones}/frequency",
    "/studies/{large}/bench",
    "/studies/{large}/bench/now", "/studies/{large}/bench/live", "/studies/{large}/readings",
    "/studies/{large}/readings?first=1900", "/studies/{large}/readings/100", "/studies/{large}/report",
    "/studies/{large}/answer", "/specimens/{specimen}", "/api/studies", "/api/studies/{large}/log?after=1990",
)  # fmt: skip


def add_large(records: Records) -> tuple[int, int]:
    """A study with 2,000 readings, and a specimen that twenty studies have read."""
    import random

    from bench_bench import FORM

    from ohmsworth.work.make_study import make_study

    chance, shop = random.Random(8), wiring.shop(records)
    large = make_study(shop, FORM, "somebody", "large")
    records.add(
        large, "somebody", [NewLine(f"l{i}", TAKEN, entry=entry(chance, i % EACH)) for i in range(LARGE)]
    )
    fields = {"name": "lead 7"}
    specimen = records.open_card(
        "specimen", "somebody", [NewLine("lead-7", "card written", fields)], lambda _: Face("lead 7")
    )
    for study in range(1, 21):
        lines = [
            NewLine(f"s{study}-{i}", TAKEN, entry=entry(chance, i), specimen=specimen) for i in range(20)
        ]
        records.add(study, "somebody", lines)
    return large, specimen


def add_tones(records: Records) -> int:
    """A study with takes of 60 contacts over 11 tones."""
    from bench_bench import FORM

    from ohmsworth.resistance.impedance.curve import Curve
    from ohmsworth.work.make_study import make_study
    from ohmsworth.work.study_desk import Desk
    from ohmsworth.work.study_tones import plan_tones
    from ohmsworth.work.take_log import TakeFile, take_fields
    from ohmsworth.work.take_state import TakeState
    from ohmsworth.work.take_told import digest_of, told_of
    from ohmsworth.work.tone_form import ToneForm

    shop, rng = wiring.shop(records), np.random.default_rng(9)
    desk = Desk(shop)
    study = make_study(shop, FORM, "somebody", "tones")
    text = shop.tones_text(ToneForm(), "")
    frequency = plan_tones(shop, desk, study, desk.state(study), text, "somebody", "plan").plan.frequencies
    noise = np.broadcast_to(1e-12 * np.eye(2), (len(frequency), 2, 2))
    lines = []
    for number in range(TAKES):
        value = 9e-3 * rng.lognormal(0, 0.1) + 2j * np.pi * frequency * 40e-9
        curve = Curve(frequency, value, noise, np.full(len(frequency), 20.0), {"shunt": 0.003 * value})
        told = told_of(curve, TakeState(True, 0.01, 2e-4, (), "at rest"))
        files = {"straight": (TakeFile("straight.wav", f"{number:064x}"),)}
        fields = take_fields(files, digest_of(files), "0" * 64, told)
        about = Entry(
            f"lead {number}",
            "new",
            mating="1",
            resistance=Typed(f"{1e3 * value[0].real:.4f}", "mΩ", "resistance"),
        )
        lines.append(NewLine(f"t{number}", TAKE, fields, entry=about))
    records.add(study, "somebody", lines)
    return study


def measure(client: TestClient, path: str) -> tuple[int, float, float, float, float]:
    """Status; milliseconds of processor, the first time and after; milliseconds on the clock; kilobytes."""
    took, passed, size, status = [], [], 0, 0
    for _ in range(ROUNDS):
        begun, at = time.process_time(), time.perf_counter()
        answer = client.get(path)
        took.append((time.process_time() - begun) * 1e3)
        passed.append((time.perf_counter() - at) * 1e3)
        size, status = len(PICTURE.sub(b"", answer.content)), answer.status_code
    return status, took[0], float(np.median(took[1:])), float(np.median(passed[1:])), size / 1e3


def main() -> None:
    """Measure and print a line for each page."""
    with tempfile.TemporaryDirectory() as name:
        path = Path(name) / "shop.records"
        fill(path)
        with wiring.open_records(str(path)) as records:
            large, specimen = add_large(records)
            tones = add_tones(records)
            serving = Serving(frozenset({"testserver"}), wiring.typeface_folder(), drawing=wiring.drawing())
            client = TestClient(create_app(wiring.shop(records), serving))
            for warm in ("/studies/2/answer", "/studies/2/bench/live"):
                client.get(warm)
            peer = measure(client, "/health")[2]
            slow = []
            for page in PAGES:
                asked = page.format(large=large, specimen=specimen, tones=tones)
                status, first, after, clock, size = measure(client, asked)
                note = "" if after < MOST_MS and size < MOST_KB else "  <-- too much"
                slow += [asked] if note else []
                print(
                    f"page {asked:42} {status}: {after:6.1f} ms ({after / peer:5.1f} x /health), first {first:7.1f} ms, "
                    f"{clock:6.1f} ms on the clock, {size:6.1f} kB{note}"
                )
            print(
                f"pages: {len(PAGES)} over {READINGS} readings, {len(slow)} beyond {MOST_MS:.0f} ms or {MOST_KB:.0f} kB; "
                f"load {os.getloadavg()[0]:.1f}"
            )


if __name__ == "__main__":
    main()
