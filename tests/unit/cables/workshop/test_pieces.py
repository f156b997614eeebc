"""The cut list by hand: finished length, ends, tolerance, copies, joints; a bought cable as one piece."""

from __future__ import annotations

from dataclasses import replace

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.supply import Stock, Supply
from ohmsworth.cables.workshop import Reel, cut_list, needs_of, plan_cuts, wire_cut
from ohmsworth.cables.workshop.allotted import allot
from ohmsworth.cables.workshop.pieces import WHOLE, whole_millimetres

CORE, SCREEN = WireKind("core", 0.1, 0.02), WireKind("braid", 0.02, 0.1, "screen")
ENDS = (End("A", ("1", "2", "3"), "plug"), End("B", ("1", "2", "3"), "socket"), End("C", ("1",)))
WIRES = (
    Wire("hot", Place("A", "2"), Place("B", "2"), CORE, colour="red"),
    Wire("cold", Place("B", "3"), Place("A", "3"), CORE, colour="blue"),
    Wire("screen", Place("A", "1"), Place("C", "1"), SCREEN),
)
BUILD = Build("line", ENDS, WIRES, 10.0, 0.1, ((Place("A", "1"), Place("A", "2")),))
REQUEST = CableRequest(BUILD, allowances={"A": 0.15, "C": 0.4})


def told(request: CableRequest) -> list[tuple[str, str, int, int, int]]:
    return [(p.stock, p.what, p.section, p.number, p.millimetres) for p in cut_list(request)]


def test_loose_wires() -> None:
    # 10 m, 15 cm at A, 5 cm by common practice at B, 40 cm at C, and 10 cm that it may be longer.
    assert told(REQUEST) == [("core", "core", 0, 2, 10300), ("braid", "braid", 0, 1, 10650)]
    assert [p.wires for p in cut_list(REQUEST)] == [("hot", "cold"), ("screen",)]
    assert wire_cut(REQUEST, WIRES[0]) == pytest.approx(10.2)  # the tolerance stands apart


def test_copies_and_a_stock_by_colour() -> None:
    supply = Supply(3, stocks={"core": Stock("strand", by_colour=True), "braid": Stock("tube")})
    assert told(replace(REQUEST, supply=supply)) == [
        ("strand red", "core", 0, 3, 10300),
        ("strand blue", "core", 0, 3, 10300),
        ("tube", "braid", 0, 3, 10650),
    ]


def test_a_bought_cable_is_one_piece_to_its_longest_core() -> None:
    assert told(replace(REQUEST, supply=Supply(2, bulk="two cores"))) == [
        ("two cores", WHOLE, 0, 2, 10650),
    ]
    beside = Supply(2, bulk="two cores", stocks={"braid": Stock("tube")})
    assert told(replace(REQUEST, supply=beside)) == [
        ("two cores", WHOLE, 0, 2, 10300),
        ("tube", "braid", 0, 2, 10650),
    ]


def test_sections_between_joints() -> None:
    """2 m, 3 m and 5 m, each with its ends, 7 cm on either side of a joint, and its share of the 10 cm."""
    request = replace(REQUEST, joints=(2.0, 5.0), supply=Supply(joint_allowance=0.07))
    assert told(request)[:3] == [
        ("core", "core", 1, 2, 2000 + 150 + 70 + 20),
        ("core", "core", 2, 2, 3000 + 140 + 30),
        ("core", "core", 3, 2, 5000 + 70 + 50 + 50),
    ]
    total = sum(p.finished + p.tolerance for p in cut_list(request)[:3])
    assert total == pytest.approx(10.1)


def test_nothing_is_rounded_against_the_user() -> None:
    assert whole_millimetres(10.0001, up=True) == 10001
    assert whole_millimetres(10.0009, up=False) == 10000
    for mm in range(1, 3000):  # what was typed in whole millimetres stays what it was
        assert whole_millimetres(float(f"{mm / 1000:.15g}"), up=True) == mm
        assert whole_millimetres(float(f"{mm / 1000:.15g}"), up=False) == mm


def test_what_else_is_needed() -> None:
    request = replace(REQUEST, joints=(2.0,), supply=Supply(4, further=(("label", 2),)))
    needs = needs_of([request, request])
    assert needs.parts == {"plug": 8, "socket": 8, "label": 16}
    assert needs.unnamed == (("line", "C"), ("line", "C"))
    # Three wires with two ends, one link; each wire joined once; three wires, one link, and by hand of five nets
    # (A:1 A:2 B:2 C:1, A:3 B:3, B:1, and no other) two measurements more.
    assert needs.steps == {"termination": 56, "joint": 24, "cable": 8, "measurement": 8 * (3 + 1 + 2)}


def test_pieces_find_their_reels_in_the_order_of_the_list() -> None:
    two = (
        replace(REQUEST, build=replace(BUILD, name="one")),
        replace(REQUEST, build=replace(BUILD, name="two")),
    )
    pieces = tuple(line for request in two for line in cut_list(request))
    plan = plan_cuts("core", {10300: 4}, [Reel("r", "core", 25000), Reel("s", "core", 11000, 0)])
    found = allot(plan, pieces)
    assert [[(n, p.cable) for n, p in reel] for reel in found.reels] == [
        [(1, "one")],
        [(1, "one"), (1, "two")],
    ]
    assert [(n, p.cable) for n, p in found.missing] == [(1, "two")]
