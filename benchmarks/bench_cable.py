"""Seconds from the folder of a 48-way multicore, three contacts a way, to its answer and report, beside measuring every pair."""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from ohmsworth import wiring
from ohmsworth.cables.fewest import separating
from ohmsworth.work.cable_study import report_cable

WAYS, CONTACTS, ROUNDS = 48, 3, 5
#: Seconds within which the answer is wanted.
WANTED = 1.0
_CABLE = """\
name = "multicore"
length = "40 m"
[ends.A]
contacts = ["1-48.1-3", "shell"]
[ends.B]
contacts = ["1-48.1-3", "shell"]
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
name = "wire"
from = "A:1-48.1-3"
to = "B:1-48.1-3"
[meter]
accuracy = "0.1 % + 2 counts"
resolution = "1 mΩ"
"""


def write_multicore(folder: Path) -> tuple[int, int]:
    """Write the cable with all its measurements, and say how many nets and how many measurements against touches there are."""
    rng = np.random.default_rng(1)
    names = [f"{way}.{k}" for way in range(1, WAYS + 1) for k in range(1, CONTACTS + 1)]
    nets = [*(f"A:{name}" for name in names), "A:shell", "B:shell"]
    rows = [f"A:{name},B:{name},{3.135 * (1 + 1e-3 * rng.standard_normal()):.3f}" for name in names]
    questions = separating(len(nets))
    rows += [
        f"{' '.join(nets[n] for n in q.one)},{' '.join(nets[n] for n in q.other)},open" for q in questions
    ]
    (folder / "cable.toml").write_text(_CABLE, "utf-8")
    (folder / "test.csv").write_text("\n".join(["from,to,resistance [Ω]", *rows, ""]), "utf-8")
    return len(nets), len(questions)


def timed(work: Callable[[], object]) -> float:
    """Seconds of the best round."""
    taken = []
    for _ in range(ROUNDS):
        begun = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begun)
    return min(taken)


def main() -> None:
    """Print the time of the answer, and how many measurements are saved."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        nets, fewest = write_multicore(folder)
        told = report_cable(wiring.load_cable(folder))
        assert (told.answer.verdict, told.answer.pairs_left) == ("right", 0)
        whole = timed(lambda: report_cable(wiring.load_cable(folder)))
        page = timed(lambda: wiring.as_html(told.report))
    pairs = nets * (nets - 1) // 2
    print(
        f"bench_cable: {len(told.answer.wires)} wires and {pairs} pairs in {whole:.2f} s, {whole / WANTED:.2f} x what is "
        f"wanted ({WANTED:g} s); page {page:.2f} s; {fewest} measurements show no touch, {pairs / fewest:.0f} x fewer than pairs"
    )
    if whole > WANTED:
        sys.exit("bench_cable: slower than its bound")


if __name__ == "__main__":
    main()
