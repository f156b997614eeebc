"""What a link may read, and that one which is bad or missing is told though a path leads round it."""

from __future__ import annotations

import math

import pytest
from tests.unit.cables.test_tested import METER, places, row

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.links import MOST_OF_LINK, SOUND_LINK, link_limits
from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.tested import CableFound, judge_rows

WARM = 293.15
SCREEN = WireKind("screen", 0.04, 0.0, "screen")


def linked(length: float, both: bool) -> Build:
    """Two screens of 40 mΩ/m, linked to the shell at A, and at B too where `both`."""
    ends = tuple(End(name, ("1", "2", "shell"), "", 0.0, 0.01) for name in "AB")
    wires = tuple(Wire(f"screen {k}", Place("A", k), Place("B", k), SCREEN) for k in "12")
    at = "AB" if both else "A"
    links = tuple((Place(end, k), Place(end, "shell")) for end in at for k in "12")
    return Build("cable", ends, wires, length, links=links)


def test_without_a_way_round_it_is_the_contacts_and_common_practice() -> None:
    assert set(link_limits(linked(10.0, False), WARM).values()) == {2 * 0.01 + MOST_OF_LINK}


def test_with_a_way_round_it_lies_halfway_between_that_and_a_sound_link() -> None:
    # By hand: without the link A:1 to the shell, screen 1 to B, its shell, and back by screen 2: 2 × 10 m × 40 mΩ/m = 0.8 Ω.
    expected = (2 * 0.01 + SOUND_LINK + 0.8) / 2
    assert [*link_limits(linked(10.0, True), WARM).values()] == pytest.approx([expected] * 4)


def test_a_way_round_that_reads_no_more_than_a_sound_link_tells_nothing() -> None:
    # 2 × 0.4 m × 40 mΩ/m = 32 mΩ, and a sound link may have 40 mΩ.
    assert [*link_limits(linked(0.4, True), WARM).values()] == [2 * 0.01 + MOST_OF_LINK] * 4


def test_a_link_stated_twice_is_looked_at_as_one() -> None:
    build = linked(10.0, False)
    twice = Build("cable", build.ends, build.wires, 10.0, links=(*build.links, build.links[0]))
    assert math.isfinite(link_limits(twice, WARM)[build.links[0]])


def found_with(ohm: float | None) -> CableFound:
    request = CableRequest(linked(10.0, True), temperature_tolerance=0.0, meter=METER)
    return judge_rows(request, [row(2, "A1", "Ashell", ohm)])


@pytest.mark.parametrize("ohm", [0.0, 0.03, 0.41])
def test_a_sound_link_is_not_told(ohm: float) -> None:
    assert found_with(ohm).poor_links == ()


@pytest.mark.parametrize("ohm", [0.79, 5e5])
def test_one_that_reads_the_way_round_or_a_bad_joint_is_told(ohm: float) -> None:
    ((link, read, most),) = found_with(ohm).poor_links
    assert (link, read) == (places("A1 Ashell"), ohm)
    assert most == pytest.approx(0.42)


def test_one_without_a_path_is_told_as_missing_alone() -> None:
    found = found_with(None)
    assert (len(found.open_links), found.poor_links) == (1, ())
