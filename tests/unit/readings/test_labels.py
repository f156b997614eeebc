"""Names of columns numbered, renamed and joined; rows told apart by several columns."""

import numpy as np
import pytest

from ohmsworth.readings.table import Labels, distinct_pairs, number_cells


def in_order(rows: list[tuple[int, ...]]) -> list[int]:
    """Numbers of the distinct rows as they come first, counted one by one."""
    number: dict[tuple[int, ...], int] = {}
    return [number.setdefault(row, len(number)) for row in rows]


@pytest.mark.parametrize("largest", [3, 40, 10_000_000])
def test_cells_are_numbered_as_they_come_first(largest: int) -> None:
    """Close together and far apart, which are numbered in two ways."""
    rng = np.random.default_rng(largest)
    columns = [rng.integers(0, largest, 200) for _ in range(3)]
    assert number_cells(columns).tolist() == in_order(list(zip(*(c.tolist() for c in columns), strict=True)))
    assert number_cells(columns[:1]).tolist() == in_order([(v,) for v in columns[0].tolist()])


def test_no_rows_have_no_cells() -> None:
    assert number_cells([np.zeros(0, np.int64)] * 2).tolist() == []


def test_distinct_pairs_are_what_a_sort_of_rows_gives() -> None:
    """Against numpy's own unique rows."""
    rng = np.random.default_rng(1)
    first, second = rng.integers(0, 5, 100), rng.integers(0, 7, 100)
    unique, inverse = np.unique(np.column_stack([first, second]), axis=0, return_inverse=True)
    pairs, number = distinct_pairs(first, second)
    assert pairs.tolist() == unique.tolist()
    assert number.tolist() == inverse.ravel().tolist()


def test_names_that_become_one_are_one() -> None:
    column = Labels.of([" a", "b", "a ", "b", "c"]).renamed(str.strip)
    assert column.names == ("a", "b", "c")
    assert column.codes.tolist() == [0, 1, 0, 1, 2]


def test_joined_names_are_those_of_each_row() -> None:
    left, right = ["a - b", "a", "x", "a"], ["c", "b - c", "y", "b - c"]
    joined = Labels.joined([Labels.of(left), Labels.of(right)], " - ".join)
    assert [joined.names[code] for code in joined.codes] == [
        f"{p} - {q}" for p, q in zip(left, right, strict=True)
    ]
    assert len(set(joined.names)) == len(joined.names) == 2
