"""Time to judge one entry before it is accepted, beside the full answer of the study that it belongs to; one run, one machine.

Target: the 200th entry of a study within 8 ms, so that a person never waits for it.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

from ohmsworth.adapters.simulated import TRUTH, read_bench, rounds
from ohmsworth.adapters.simulated.folder import figures
from ohmsworth.readings.entries import table_of_entries
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.study import Bench, Limit, Study
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.judge_entry import judge_entry
from ohmsworth.work.ports import LoadedStudy

SEED = 1
STUDY = Study(
    "How long does it take?",
    reference="cleaned",
    limit=Limit(3e-3, "datasheet"),
    bench=Bench(TRUTH.voltmeter, TRUTH.ammeter),
    plating="silver",
)


def bench_entries(number: int) -> list[Entry]:
    """So many readings of a simulated bench, four a mating."""
    specimens = max(number // (3 * 3 * 4), 1) + 1
    cells = [(f"ch {i}", condition) for i in range(specimens) for condition in TRUTH.surfaces]
    found = []
    for one in read_bench(TRUTH, rounds(cells, 3, 2, SEED), SEED):
        volts, amperes = figures(one, TRUTH).split(",")
        found.append(
            Entry(
                one.specimen,
                one.condition,
                mating=str(one.mating),
                polarity="+" if one.forward else "-",
                voltage=Typed(volts, "mV", "voltage"),
                current=Typed(amperes, "mA", "current"),
            )
        )
    return found[:number]


def middle(job: Callable[[], object], times: int) -> float:
    """Median processor time of a warm call, in milliseconds."""
    job()
    took = []
    for _ in range(times):
        start = time.process_time()
        job()
        took.append(time.process_time() - start)
    return 1e3 * statistics.median(took)


def main() -> None:
    """Measure studies of growing length."""
    for number in (20, 200, 1000):
        entries = bench_entries(number)
        loaded = LoadedStudy(STUDY, table_of_entries(entries), ())
        judged = middle(lambda e=entries: judge_entry(STUDY, e[:-1], e[-1]), 40)  # type: ignore[misc]
        answered = middle(lambda s=loaded: answer_study(s), 5)  # type: ignore[misc]
        target = " (target 8 ms)" if number == 200 else ""
        print(
            f"entry {number}: judged in {judged:.1f} ms of processor{target}, "
            f"{judged / answered:.3f} of the {answered:.0f} ms that the full answer takes"
        )


if __name__ == "__main__":
    main()
