"""Speed of the main job, as ratios and against the targets; run by ``make bench``.

Each line says what was measured in this run, on this machine, and against what.
"""

from __future__ import annotations

import csv
import resource
import statistics
import subprocess
import sys
import tempfile
import time
import warnings
from pathlib import Path

import numpy as np
from make_large import write_large

PYTHON = [sys.executable, "-m", "ohmsworth"]


def command(*arguments: str) -> float:
    """Wall time of one cold run of the program."""
    start = time.perf_counter()
    subprocess.run([*PYTHON, *arguments], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def start_up() -> None:
    best = min(command("--help") for _ in range(5))
    bare = min(_bare_python() for _ in range(5))
    print(f"start: --help {best:.3f} s, {best / bare:.1f} x an empty python (target under 0.3 s)")


def _bare_python() -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", "pass"], check=True)
    return time.perf_counter() - start


def small_answer(folder: Path) -> None:
    write_large(folder, specimens=10, matings=5, pairs=1)
    took = min(command("answer", str(folder), "--html", str(folder / "report.html")) for _ in range(3))
    print(f"answer: 100 readings with HTML, cold: {took:.2f} s (target within 2 s)")


def large_answer(folder: Path) -> None:
    write_large(folder, specimens=2000, matings=5, pairs=5)
    took = min(command("answer", str(folder), "--json") for _ in range(2))
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(
        f"answer: 100 000 readings of 2 000 specimens from files: {took:.2f} s, {peak:.0f} MB (targets 4 s, 500 MB)"
    )


def million_readings(folder: Path) -> None:
    """The whole answer from a file, beside what it takes to read the file and average each mating with csv and statistics."""
    write_large(folder, specimens=1000, matings=10, pairs=50)
    reading = min(_read_only(folder / "readings.csv") for _ in range(2))
    start = resource.getrusage(resource.RUSAGE_CHILDREN)
    took = command("answer", str(folder), "--json")
    end = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = end.ru_utime + end.ru_stime - start.ru_utime - start.ru_stime
    print(
        f"answer: 1 000 000 readings of 1 000 specimens from a file: {took:.1f} s ({cpu:.1f} s of processor), "
        f"{end.ru_maxrss / 1024:.0f} MB, {cpu / reading:.1f} x the processor time of csv and statistics, which only read the "
        "file and average its matings (targets 10 s, 1000 MB)"
    )


def _read_only(path: Path) -> float:
    """Processor time of reading a file of readings and averaging V/I of each mating, with the standard library."""
    start = time.process_time()
    matings: dict[tuple[str, str, str], list[float]] = {}
    with path.open(newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            key = (row["specimen"], row["condition"], row["mating"])
            matings.setdefault(key, []).append(float(row["voltage [mV]"]) / float(row["current [mA]"]))
    for values in matings.values():
        statistics.mean(values)
        statistics.stdev(values)
    return time.process_time() - start


def mixed_model() -> None:
    """The same REML fit (specimen, mating, reading) by this project and by statsmodels.

    Its default stopping rule leaves 1e-4 in the variances; told to go on, it takes no longer and agrees.
    """
    import pandas
    import statsmodels.formula.api as models

    from ohmsworth.inference.design import build_design
    from ohmsworth.inference.reml import fit_reml
    from ohmsworth.readings import Labels

    frame = _frame(pandas, np.random.default_rng(3))
    design = build_design(
        frame.y.to_numpy(),
        Labels.of(frame.condition.tolist()),
        Labels.of(frame.specimen.tolist()),
        mating=Labels.of(frame.mating.tolist()),
    )
    ours, fit = _timed(lambda: fit_reml(design), 5)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model = models.mixedlm(
            "y ~ condition", frame, groups="specimen", re_formula="1", vc_formula={"mating": "0 + C(mating)"}
        )
        theirs, other = _timed(lambda: model.fit(reml=True, method="bfgs", gtol=1e-8), 1)
    mine = [fit.of(level, 0) for level in ("specimen", "mating", "reading")]
    peer = [float(other.cov_re.iloc[0, 0]), float(other.vcomp[0]), float(other.scale)]
    apart = max(abs(a - b) / b for a, b in zip(mine, peer, strict=True))
    print(
        f"mixed model: 2 000 readings in {1e3 * ours:.1f} ms, {theirs / ours:.0f} x faster than statsmodels MixedLM "
        f"(target 100 x); variances agree to {apart:.1e}; -2 log-likelihood lower by {-2 * other.llf - fit.criterion:.1e}"
    )


def _frame(pandas: object, rng: np.random.Generator) -> object:
    rows = []
    for s in range(200):
        level = 0.3 * (s % 2) + 0.2 * rng.standard_normal()
        for m in range(5):
            mating = 0.15 * rng.standard_normal()
            rows += [
                (f"s{s}", f"c{s % 2}", f"m{m}", level + mating + 0.05 * rng.standard_normal())
                for _ in range(2)
            ]
    return pandas.DataFrame(rows, columns=["specimen", "condition", "mating", "y"])  # type: ignore[attr-defined]


def _timed(work: object, repeats: int) -> tuple[float, object]:
    best, result = np.inf, None
    for _ in range(repeats):
        start = time.perf_counter()
        result = work()  # type: ignore[operator]
        best = min(best, time.perf_counter() - start)
    return best, result


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        start_up()
        small_answer(Path(scratch) / "small")
        large_answer(Path(scratch) / "large")
        million_readings(Path(scratch) / "million")
    mixed_model()
