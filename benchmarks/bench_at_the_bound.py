"""95 % intervals of a ratio where specimens may not differ at all: held, and how wide, by four ways of making them.

    python benchmarks/bench_at_the_bound.py [studies]

Two conditions, 3 matings of 2 readings, re-mating 15 %, readings 3 %, specimens 0, 10 or 50 % (standard deviations of ln R);
the table in docs/method.md is from here. About a minute for 1000 studies a row on one core.
"""

from __future__ import annotations

import sys

from bench_coverage import study_of
from coverage_cells import READING, Cell
from coverage_ways import TITLES

MATING, SPECIMENS = 0.15, (0.0, 0.1, 0.5)


def main(studies: int) -> None:
    """Print the table."""
    print(f"| specimens | {' | '.join(TITLES.values())} |")
    print("|---" * (1 + len(TITLES)) + "|")
    for number in (2, 3, 6):
        for specimen in SPECIMENS:
            unit = (specimen / READING) ** 2
            cell = Cell("separate", (number, number), 3, 2, False, unit, mating=(MATING / READING) ** 2)
            row = study_of(cell, studies)
            told = [f"{row[way][0]:.1f} % ({row[way][1]:.2f})" for way in TITLES]
            print(f"| {number} + {number}, {100 * specimen:.0f} % | {' | '.join(told)} |", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3000)
