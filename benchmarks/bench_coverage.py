"""How often a 95 % interval of the difference of two conditions holds the truth, over what a small bench does.

    python benchmarks/bench_coverage.py [--quick] [--cells paired ...] [--some TEXT] [--studies 200] [--page]

Side by side: REML with the normal distribution, as a general mixed-model program prints it; Kenward and Roger's form at the
fit with every variance at zero or above and one scatter; and what Ohmsworth answers with by default and with equal scatter.
A cell that is done is kept in build/coverage and not run again, until the program or the cell changes.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
import time
from collections.abc import Iterator
from multiprocessing import Pool
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from coverage_cells import KINDS, SEED, Cell, all_cells
from coverage_draw import layout
from coverage_ways import COVERAGE, TITLES, engines, estimates

ROOT = Path(__file__).parents[1]
KEPT = ROOT / "build/coverage"
PAGE = ROOT / "docs/coverage.md"
MARKS = "<!-- from benchmarks/bench_coverage.py -->\n", "<!-- end of it -->\n"
STUDIES, QUICK_STUDIES, QUICK_EVERY = 200, 300, 6
#: Few units, coverage asked of each cell, and of most cells.
EVERYWHERE, MOSTLY = (93.5, 97.5), (94.0, 96.5)
Row = dict[str, tuple[float, float, float]]


def study_of(cell: Cell, studies: int) -> Row:
    """For each way: share of intervals that hold the truth, in per cent, their median width, and the share at the bound."""
    rng, plan = np.random.default_rng([*cell.seed, 1]), layout(cell)
    found: dict[str, list[tuple[float, float, bool]]] = {}
    for _ in range(studies):
        design = plan.study(rng)
        default, equal = engines(design)
        for way, estimate in estimates(default, equal).items():
            low, high = estimate.interval(COVERAGE)
            found.setdefault(way, []).append((low <= 0 <= high, high - low, equal.fit.at_bound))
    table = {way: np.array(values, float) for way, values in found.items()}
    return {
        way: (100 * float(a[:, 0].mean()), float(np.median(a[:, 1])), float(a[:, 2].mean()))
        for way, a in table.items()
    }


def _program() -> str:
    """Of everything that an interval depends on."""
    files = [
        *sorted((ROOT / "src/ohmsworth/inference").glob("*.py")),
        *sorted(Path(__file__).parent.glob("coverage_*.py")),
    ]
    return hashlib.sha256(b"".join(file.read_bytes() for file in files)).hexdigest()[:12]


def _kept(job: tuple[Cell, int, str]) -> tuple[Cell, Row]:
    """From the folder of what is done, or run now."""
    cell, studies, program = job
    name = hashlib.sha256(f"{cell!r} {studies} {program}".encode()).hexdigest()[:16]
    file = KEPT / f"{name}.json"
    if not file.exists():
        row = study_of(cell, studies)
        file.write_text(json.dumps({"cell": repr(cell), "row": row}), "utf-8")
    return cell, {way: tuple(values) for way, values in json.loads(file.read_text("utf-8"))["row"].items()}


def run(cells: list[Cell], studies: int, workers: int) -> Iterator[tuple[Cell, Row]]:
    """Every cell's row, in their order."""
    KEPT.mkdir(parents=True, exist_ok=True)
    program = _program()
    jobs = [(cell, studies, program) for cell in cells]
    with Pool(workers) as pool:
        yield from pool.imap(_kept, jobs)


TRUTHS = {
    "separate": "specimens : matings : readings",
    "paired": "specimens : response : matings : readings",
    "crossed": "plugs : sockets : pairs : readings",
    "wider": "specimens : matings : readings",
}


def heading(kind: str, row: Row) -> str:
    """Head of the table of one kind of cells."""
    titles = [kind, TRUTHS[kind], "zero bound", *(TITLES.get(way, way) for way in row)]
    return "\n| " + " | ".join(titles) + " |\n" + "|---" * len(titles) + "|"


def line(cell: Cell, row: Row) -> str:
    """One row of the table."""
    told = [f"{share:.1f} % ({width:.3g})" for share, width, _ in row.values()]
    bound = 100 * next(iter(row.values()))[2]
    return f"| {cell.design} | {cell.truth} | {bound:.0f} % | " + " | ".join(told) + " |"


def summary(rows: list[tuple[Cell, Row]], way: str) -> str:
    """Least and most coverage over the cells with one scatter, how many keep what is asked, and how wide they are."""
    rows = [(cell, row) for cell, row in rows if way in row]
    shares = np.array([row[way][0] for _, row in rows])
    widths = [row[way][1] / row["bounded"][1] for _, row in rows]
    every, most = (
        100 * float(((low <= shares) & (shares <= high)).mean()) for low, high in (EVERYWHERE, MOSTLY)
    )
    return (
        f"{TITLES.get(way, way)} | {len(rows)} | {shares.min():.1f} to {shares.max():.1f} % | {every:.0f} % | {most:.0f} % | "
        f"{min(widths):.2f} to {max(widths):.2f}"
    )


def summaries(rows: list[tuple[Cell, Row]]) -> Iterator[str]:
    """The summary of each way, over all cells with one scatter and over those of each kind."""
    yield (
        f"\n| cells | way | number | coverage | within {EVERYWHERE[0]:g} to {EVERYWHERE[1]:g} % | "
        f"within {MOSTLY[0]:g} to {MOSTLY[1]:g} % | median width over bounded Kenward-Roger |\n"
        + "|---" * 7
        + "|"
    )
    for kind in dict.fromkeys(["one scatter", *(cell.kind for cell, _ in rows)]):
        some = [r for r in rows if kind == r[0].kind or (kind == "one scatter" and r[0].wider == 1)]
        for way in dict.fromkeys(way for _, row in some for way in row):
            yield f"| {kind} | {summary(some, way)} |"


def table(asked: argparse.Namespace) -> Iterator[str]:
    """The lines of what is printed, as they are found."""
    cells = [c for c in all_cells() if c.kind in asked.cells and asked.some in c.design]
    studies = asked.studies
    if asked.quick:
        cells, studies = cells[::QUICK_EVERY], QUICK_STUDIES
    yield (
        f"{studies} studies a row, seed {SEED}: how many of the {COVERAGE:.0%} intervals of ln(ratio) hold the truth, and in "
        "brackets their median width."
    )
    rows: list[tuple[Cell, Row]] = []
    for cell, row in run(cells, studies, asked.workers):
        if not rows or cell.kind != rows[-1][0].kind:
            yield heading(cell.kind, row)
        rows.append((cell, row))
        yield line(cell, row)
    yield from summaries(rows)


def write_page(lines: list[str]) -> None:
    """Put the lines into the manual's page, between its two comments."""
    page = PAGE.read_text("utf-8")
    before, rest = page.split(MARKS[0])
    PAGE.write_text(before + MARKS[0] + "\n".join(lines) + "\n" + MARKS[1] + rest.split(MARKS[1])[1], "utf-8")


def options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument(
        "--quick", action="store_true", help=f"every {QUICK_EVERY}th cell, {QUICK_STUDIES} studies each"
    )
    parser.add_argument("--cells", nargs="+", choices=KINDS, default=list(KINDS), help="kinds of cells")
    parser.add_argument("--some", default="", help="only cells whose design holds this text")
    parser.add_argument("--studies", type=int, default=STUDIES, help="in each cell")
    parser.add_argument("--page", action="store_true", help=f"write {PAGE.relative_to(ROOT)}")
    parser.add_argument("--workers", type=int, default=min(2, os.cpu_count() or 1), help="processes")
    return parser.parse_args()


def main() -> None:
    asked, start = options(), time.perf_counter()
    lines = []
    for text in table(asked):
        print(text, flush=True)
        lines.append(text)
    if asked.page:
        write_page(lines)
    print(f"{time.perf_counter() - start:.0f} s", file=sys.stderr)


if __name__ == "__main__":
    main()
