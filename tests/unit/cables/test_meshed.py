"""Wires read together: by hand, from the rules of resistances in a row and side by side."""

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.meshed import expected_readings, hidden_wires

KIND = WireKind("wire", 0.1, 0.02)
ROOM = 293.15


def build(pairs: list[tuple[str, str]], links: tuple[tuple[Place, Place], ...] = ()) -> Build:
    ends = tuple(End(name, ("1", "2", "3", "shell")) for name in "AB")
    wires = tuple(Wire(f"w{k}", Place("A", a), Place("B", b), KIND) for k, (a, b) in enumerate(pairs, 1))
    return Build("cable", ends, wires, 10.0, links=links)


def links_at(end: str, *contacts: str) -> tuple[tuple[Place, Place], ...]:
    return tuple((Place(end, one), Place(end, "shell")) for one in contacts)


def usual(cable: Build) -> dict[str, float]:
    return {name: found.usual for name, (found, _) in expected_readings(cable, ROOM).items()}


def test_wires_of_their_own_are_their_own() -> None:
    found = expected_readings(build([("1", "1"), ("2", "2")]), ROOM)
    assert [together for _, together in found.values()] == [False, False]
    assert found["w1"][0].usual == pytest.approx(1.0)


def test_two_wires_on_the_same_contacts_read_half() -> None:
    found = expected_readings(build([("1", "1"), ("1", "1"), ("2", "2")]), ROOM)
    assert found["w1"][0].usual == pytest.approx(0.5)
    assert found["w1"][0].low == pytest.approx(0.5 * 0.98)
    assert found["w1"][0].high == pytest.approx(0.5 * 1.02)
    assert [together for _, together in found.values()] == [True, True, False]


def test_three_screens_linked_at_both_ends_read_a_third() -> None:
    links = (*links_at("A", "1", "2", "3"), *links_at("B", "1", "2", "3"))
    found = usual(build([("1", "1"), ("2", "2"), ("3", "3")], links))
    assert found == pytest.approx({"w1": 1 / 3, "w2": 1 / 3, "w3": 1 / 3})


def test_linked_at_one_end_alone_they_read_their_own() -> None:
    found = expected_readings(build([("1", "1"), ("2", "2")], links_at("A", "1", "2")), ROOM)
    assert [together for _, together in found.values()] == [False, False]
    assert found["w2"][0].usual == pytest.approx(1.0)


def test_a_ring_of_three_reads_one_beside_two() -> None:
    """1 Ω beside 1 Ω + 1 Ω: 2/3 Ω."""
    ends = tuple(End(name, ("1",)) for name in "ABC")
    ring = [("A", "B"), ("B", "C"), ("C", "A")]
    wires = tuple(Wire(a + b, Place(a, "1"), Place(b, "1"), KIND) for a, b in ring)
    assert usual(Build("ring", ends, wires, 10.0)) == pytest.approx({"AB": 2 / 3, "BC": 2 / 3, "CA": 2 / 3})


@pytest.mark.parametrize(("screens", "hidden"), [(2, False), (8, True)])
def test_a_break_that_others_hide_is_known_before(screens: int, hidden: bool) -> None:
    """Linked at both ends: a break of one of n multiplies the reading by n/(n − 1), here beside a tolerance of ± 20 %."""
    names = [*map(str, range(1, screens + 1))]
    ends = tuple(End(end, (*names, "shell")) for end in "AB")
    kind = WireKind("screen", 0.1, 0.2, "screen")
    wires = tuple(Wire(f"s{k}", Place("A", k), Place("B", k), kind) for k in names)
    links = tuple((Place(end, k), Place(end, "shell")) for end in "AB" for k in names)
    build = Build("cable", ends, wires, 10.0, links=links)
    readings = expected_readings(build, 293.15)
    assert bool(hidden_wires(build, readings, 293.15)) == hidden
    # By hand: what leads beside one of them, low, over what all have together, high.
    assert (0.8 / (screens - 1) <= 1.2 / screens) == hidden
