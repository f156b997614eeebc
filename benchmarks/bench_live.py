"""How long the live answer takes after a reading, beside the full answer of the same readings in the same run.

python benchmarks/bench_live.py
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

import ohmsworth as ow
from ohmsworth.work.live_answer import live_answer
from ohmsworth.work.live_progress import Planned
from ohmsworth.work.ports import LoadedStudy

SEED, TIMES = 2026, 5


def study(specimens: int, matings: int, readings: int) -> LoadedStudy:
    """Two conditions, read forward and reversed, against a limit and in a microphone's line."""
    rng = np.random.default_rng(SEED)
    cells = [
        (f"{c}{s}", c, str(m), level * own)
        for c, level in (("new", 2.5e-3), ("old", 3.5e-3))
        for s in range(specimens)
        for own in [np.exp(rng.normal(0, 0.1))]
        for m in range(matings)
    ]
    rows = [
        (*cell[:3], cell[3] * np.exp(rng.normal(0, 0.03)), sign)
        for cell in cells
        for _ in range(readings)
        for sign in (1, -1)
    ]
    question = ow.Study(
        "Does it matter?",
        reference="new",
        limit=ow.Limit(3e-3, "a datasheet"),
        bench=ow.Bench(ow.Accuracy(0.0005, 5, 1e-7), ow.Accuracy(0.002, 3, 1e-5)),
        uses=(ow.UseRequest("dynamic microphone"),),
    )
    return ow.from_arrays(
        question,
        specimen=[row[0] for row in rows],
        condition=[row[1] for row in rows],
        mating=[row[2] for row in rows],
        polarity=[row[4] for row in rows],
        voltage=[0.1 * row[3] * row[4] + 2e-6 for row in rows],
        current=[0.1 * row[4] for row in rows],
    )


def best(run: Callable[[], object]) -> float:
    """Shortest time of several, ms."""
    run()
    taken = []
    for _ in range(TIMES):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return 1e3 * min(taken)


def main() -> None:
    """Print one line a study."""
    for sizes in ((3, 2, 1), (8, 3, 2)):
        loaded, sheet = study(*sizes), Planned(*sizes)
        live, full = best(lambda: live_answer(loaded, sheet)), best(lambda: ow.answer(loaded))  # noqa: B023
        print(
            f"{len(loaded.table)} rows: live {live:.0f} ms, full answer {full:.0f} ms, ratio {full / live:.1f}"
        )


if __name__ == "__main__":
    main()
