"""What is read of a specimen on one day is one observation, whatever contacts were read."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.visits import by_visit


def test_the_same_contacts_at_every_visit_are_averaged() -> None:
    y = np.array([1.0, 2.0, 1.5, 2.5, 4.0, 5.0])
    value, course = by_visit(y, np.array([0, 1, 0, 1, 0, 1]), np.array([0, 0, 1, 1, 2, 2]))
    assert value - value[0] == pytest.approx([0, 0.5, 3])
    assert len(set(course)) == 1


def test_a_contact_that_reads_high_does_not_lift_its_visits() -> None:
    """By hand: contact 1 reads 10 above contact 0; nothing else changes from visit to visit."""
    contact, visit = np.array([0, 0, 1, 1, 0]), np.array([0, 1, 1, 2, 2])
    value, course = by_visit(np.array([1.0, 1.0, 11.0, 11.0, 1.0]), contact, visit)
    assert value == pytest.approx([value[0]] * 3)
    assert len(set(course)) == 1


def test_missing_contacts_are_least_squares() -> None:
    chance = np.random.default_rng(2)
    contact, visit = np.repeat(np.arange(5), 7), np.tile(np.arange(7), 5)
    kept = chance.random(35) < 0.6
    contact, visit, y = contact[kept], visit[kept], chance.standard_normal(int(kept.sum()))
    columns = np.hstack([np.eye(5)[contact], np.eye(7)[visit]])
    exact = np.linalg.lstsq(columns, y, rcond=None)[0][5:]
    value, course = by_visit(y, contact, visit)
    assert len(set(course)) == 1
    assert value - value.mean() == pytest.approx(exact - exact.mean(), abs=1e-8)


def test_visits_that_no_contact_joins_are_courses_of_their_own() -> None:
    _, course = by_visit(np.array([1.0, 2.0, 3.0]), np.array([0, 0, 1]), np.array([0, 1, 2]))
    assert course[0] == course[1] != course[2]


def test_rows_of_unequal_length_are_refused() -> None:
    with pytest.raises(ArgumentFault):
        by_visit(np.ones(3), np.zeros(2, np.int64), np.zeros(3, np.int64))
