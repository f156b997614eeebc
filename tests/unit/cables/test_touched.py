"""Two wires of which a loop from both ends tells where they touch, and those of which it would not."""

from __future__ import annotations

import pytest
from tests.unit.cables.test_tested import apart, judged, row, rows


def pairs(*measured: object, **settings: object) -> list[tuple[str, str]]:
    found = judged(*rows(), *measured, **settings)  # type: ignore[arg-type]
    return [(one.name, other.name) for one, other in found.to_loop]


def test_two_that_touch_are_led_to_their_loop() -> None:
    assert pairs(row(30, "A2", "A3", 0.7)) == [("w2", "w3")]
    assert pairs(*apart()) == []


@pytest.mark.parametrize(
    "also",
    [
        row(31, "A3", "A4", 0.9),  # three touch: another way leads beside the loop
        row(2, "A2", "B2", None),  # one of both does not reach
        row(31, "B3", "B2", 0.9),  # read at both ends already
        row(31, "B3", "B2", None),  # and there without a path: a loose touch
    ],
)
def test_those_of_which_it_would_not_tell_are_left_out(also: object) -> None:
    assert ("w2", "w3") not in pairs(row(30, "A2", "A3", 0.7), also)


def test_a_touch_with_the_shell_is_none_of_two_wires() -> None:
    assert pairs(row(30, "A2", "Ashell", 0.1)) == []


def test_the_loop_of_both_ends_is_told() -> None:
    # 2 × 0.1 Ω/m over 3 m and over 7 m, with 0.4 Ω of the touch.
    (wish,) = judged(*rows(), row(30, "A2", "A3", 1.0), row(31, "B3", "B2", 1.8)).loops
    assert (wish.wires, wish.at) == (("w2", "w3"), "A")
    assert (wish.readings["near"].value, wish.readings["far"].value) == (1.0, 1.8)
    assert wish.readings["whole"].value == pytest.approx(2.0, abs=1e-3)
