"""Names to numbers and back."""

import numpy as np
from tests.tables import reading_table

from ohmsworth.readings.table import Labels, number_cells


def test_labels_are_numbered_as_they_come() -> None:
    labels = Labels.of(["b", "a", "b", "c"])
    assert labels.names == ("b", "a", "c")
    assert labels.codes.tolist() == [0, 1, 0, 2]
    taken = labels.take(np.array([3, 0]))
    assert [taken.names[code] for code in taken.codes] == ["c", "b"]


def test_cells_are_the_combinations_in_order_of_first_appearance() -> None:
    first, second = np.array([1, 0, 1, 1]), np.array([0, 0, 0, 5])
    assert number_cells([first, second]).tolist() == [0, 1, 0, 2]
    assert number_cells([np.array([7, 3, 7])]).tolist() == [0, 1, 0]


def test_many_columns_of_many_names_do_not_run_over() -> None:
    wide = np.array([0, 2**40, 0, 2**40])
    assert number_cells([wide, wide, wide, np.array([0, 0, 0, 1])]).tolist() == [0, 1, 0, 2]


def test_a_cell_is_one_mating_of_one_specimen_under_one_condition() -> None:
    table = reading_table(
        "++++", resistance=[1, 1, 1, 1], specimen="aaab", condition=["x", "x", "y", "x"], mating="1211"
    )
    assert table.cells().tolist() == [0, 1, 2, 3]
    assert len(table) == 4
