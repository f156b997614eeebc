"""Nested means of specimens, and differences between them."""

import numpy as np
import pytest
from tests.tables import design_of

from ohmsworth.inference.means import specimen_means


def test_a_mating_counts_once_however_often_it_was_read() -> None:
    design = design_of([1, 1, 1, 5, 2, 4], "aaaabb", mating="111212")
    assert specimen_means(design).value.tolist() == [3.0, 3.0]


def test_differences_are_taken_specimen_by_specimen() -> None:
    design = design_of([1, 2, 4, 14, 12, 11], "abccba", "xxxyyy")
    differences, complete = specimen_means(design).differences(1, 0)
    assert sorted(differences.tolist()) == [10, 10, 10]
    assert complete


def test_a_specimen_missing_under_one_condition_is_said() -> None:
    design = design_of([1, 2, 4, 14, 12], "abcab", "xxxyy")
    differences, complete = specimen_means(design).differences(1, 0)
    assert len(differences) == 2
    assert not complete


def test_values_stand_in_the_order_of_first_appearance() -> None:
    means = specimen_means(design_of([3, 1, 3, 2], "baba", "xxyy"))
    assert means.specimen.tolist() == [0, 1, 0, 1]
    assert means.condition.tolist() == [0, 0, 1, 1]
    assert means.value == pytest.approx(np.array([3, 1, 3, 2]))
