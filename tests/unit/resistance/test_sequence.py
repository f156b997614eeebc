"""Which rows make one resistance."""

import numpy as np
import pytest
from tests.tables import SIGNS

from ohmsworth.resistance import DIRECT, FORM_WORDS, REVERSAL, SINGLE, THREE, TONES, ZERO, group_rows

Found = list[tuple[int, tuple[int, ...]]]


def groups(polarity: str, cell: str | None = None, time: list[float] | None = None) -> Found:
    """Form and rows (unused ones left out) of each resistance, by first row."""
    found = group_rows(
        np.array([int(c) for c in cell or "0" * len(polarity)]),
        np.array([SIGNS[p] for p in polarity]),
        None if time is None else np.array(time),
    )
    pairs = zip(found.form.tolist(), found.rows.tolist(), strict=True)
    return sorted(((form, tuple(r for r in rows if r >= 0)) for form, rows in pairs), key=lambda g: g[1])


@pytest.mark.parametrize(
    ("polarity", "expected"),
    [
        ("+-", [(REVERSAL, (0, 1))]),
        ("-+", [(REVERSAL, (0, 1))]),
        ("+-+", [(THREE, (0, 1, 2))]),
        ("-+-", [(THREE, (0, 1, 2))]),
        ("+-+-", [(REVERSAL, (0, 1)), (REVERSAL, (2, 3))]),
        ("+-+-+", [(REVERSAL, (0, 1)), (THREE, (2, 3, 4))]),
        ("++--", [(REVERSAL, (0, 3)), (REVERSAL, (1, 2))]),
        ("+++", [(SINGLE, (0,)), (SINGLE, (1,)), (SINGLE, (2,))]),
        ("++-", [(SINGLE, (0,)), (REVERSAL, (1, 2))]),
        ("+", [(SINGLE, (0,))]),
        ("?", [(SINGLE, (0,))]),
        ("?+-", [(SINGLE, (0,)), (REVERSAL, (1, 2))]),
        ("0+", [(ZERO, (1, 0))]),
        ("+0", [(ZERO, (0, 1))]),  # none earlier: the first there is
        ("0+0+", [(ZERO, (1, 0)), (ZERO, (3, 2))]),
        ("0++", [(ZERO, (1, 0)), (ZERO, (2, 0))]),
        ("0+-", [(REVERSAL, (1, 2))]),  # the reversal needs no zero
        ("+0-", [(REVERSAL, (0, 2))]),
        ("00", []),
        ("", []),
    ],
)
def test_one_mating(polarity: str, expected: Found) -> None:
    assert groups(polarity) == expected


def test_matings_are_never_mixed() -> None:
    assert groups("+-+-", "0110") == [(REVERSAL, (0, 3)), (REVERSAL, (1, 2))]
    assert groups("+-", "01") == [(SINGLE, (0,)), (SINGLE, (1,))]
    assert groups("0+", "01") == [(SINGLE, (1,))]


def test_rows_are_taken_in_the_order_of_time() -> None:
    assert groups("+-+", time=[2.0, 1.0, 0.0]) == [(THREE, (2, 1, 0))]
    assert groups("++-", time=[0.0, 2.0, 1.0]) == [(THREE, (0, 2, 1))]
    # In time + + − −, rows 0 2 3 1: the inner pair first, then what is left over.
    assert groups("+-+-", time=[0.0, 30.0, 10.0, 20.0]) == [(REVERSAL, (0, 1)), (REVERSAL, (2, 3))]


def test_a_zero_reading_is_earlier_by_time_not_by_row() -> None:
    # In time: zero (row 1), + (row 0), zero (row 2).
    assert groups("+00", time=[5.0, 0.0, 10.0]) == [(ZERO, (0, 1))]
    # In time: zero (row 2), + (row 1), zero (row 0).
    assert groups("0+0", time=[10.0, 5.0, 0.0]) == [(ZERO, (1, 2))]


def test_a_time_that_is_missing_leaves_the_order_of_the_file() -> None:
    assert groups("+-+", time=[2.0, float("nan"), 0.0]) == [(THREE, (0, 1, 2))]


def test_every_row_with_current_is_used_once_and_once_only() -> None:
    rng = np.random.default_rng(0)
    for _ in range(300):
        polarity = "".join(rng.choice(list("+-?0"), rng.integers(1, 12)))
        used = [row for form, rows in groups(polarity) for row in (rows[:1] if form == ZERO else rows)]
        assert sorted(used) == [i for i, p in enumerate(polarity) if p != "0"]


def test_every_form_has_words() -> None:
    assert len(FORM_WORDS) == 1 + max(SINGLE, ZERO, REVERSAL, THREE, DIRECT, TONES)
