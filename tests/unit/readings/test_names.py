"""Mistyped names are doubted, names that tell things apart are not."""

import pytest
from tests.tables import reading_table

from ohmsworth.readings import ReadingTable
from ohmsworth.readings.names import find_odd_names


def table_of(rows: list[tuple[str, str, int]]) -> ReadingTable:
    """Specimen, condition and number of rows each."""
    specimen = [s for s, _, n in rows for _ in range(n)]
    condition = [c for _, c, n in rows for _ in range(n)]
    n = len(specimen)
    return reading_table("?" * n, resistance=[2e-3] * n, specimen=specimen, condition=condition)


def found(rows: list[tuple[str, str, int]]) -> list[tuple[str, tuple[int, ...]]]:
    return [(doubt.code, doubt.rows) for doubt in find_odd_names(table_of(rows))]


@pytest.mark.parametrize("slip", ["dirtty", "dity", "ditry", "dirzy", "Dirtyy"])
def test_a_condition_one_slip_away(slip: str) -> None:
    assert found([("A", "dirty", 6), ("B", slip, 1), ("B", "dirty", 5)]) == [("NEAR_NAMES", (8,))]


def test_a_specimen_one_slip_away() -> None:
    assert found([("left rear", "new", 6), ("left raer", "new", 4)]) == [("NEAR_NAMES", (8, 9, 10, 11))]


@pytest.mark.parametrize(
    "names",
    [
        ("A1", "A2"),
        ("ch 02", "ch 22"),
        ("new 1", "new 2"),
        ("new 1", "newt 11"),
        ("plug A", "plug B"),
        ("old", "odl"),
        ("worn", "torn"),
        ("clean", "clear"),
        ("dirty", "clean"),
        ("dirty", "dirty wet"),
        ("line-in", "line in"),
    ],
)
def test_names_that_are_two(names: tuple[str, str]) -> None:
    assert found([(str(i), name, 6) for i, name in enumerate(names)]) == []
    assert found([(name, "all", 6) for name in names]) == []


def test_many_numbered_specimens_are_no_slips_of_each_other() -> None:
    assert found([(f"contact {i}", "new", 4) for i in range(300)]) == []
    assert found([(f"contact{chr(97 + i)}", "new", 4) for i in range(26)]) == []


def test_a_specimen_that_was_hardly_read() -> None:
    rows = [("A", "x", 5), ("B", "x", 6), ("C", "x", 6)]
    assert found([*rows, ("G", "x", 1)]) == [("FEW_ROWS", (19,))]
    assert found([*rows, ("G", "x", 2)]) == []  # two of six may be all that was read
    assert found([*rows, ("G", "y", 1)]) == []
    assert found([("A", "x", 5), ("G", "x", 1)]) == []
    assert found([("A", "x", 3), ("B", "x", 3), ("C", "x", 3), ("G", "x", 1)]) == []


def test_uneven_designs_are_no_slips() -> None:
    assert found([(str(i), "x", 1 if i % 2 else 6) for i in range(10)]) == []
