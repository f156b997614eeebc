"""What is wrong with the wiring, told in the words of the trade."""

from itertools import combinations

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.nets import expected_nets, joined
from ohmsworth.cables.wiring import wiring_faults

CORE = WireKind("0.22 mm²", 78.4e-3, 0.02)
SCREEN = WireKind("braid", 20e-3, 0.1, "screen")


def balanced() -> Build:
    """A balanced cable: 1 screen, 2 +, 3 −, as AES14 and IEC 60268-12 have it; the shell is left alone."""
    ends = tuple(End(name, ("1", "2", "3", "shell")) for name in "AB")
    wires = (
        Wire("screen", Place("A", "1"), Place("B", "1"), SCREEN),
        Wire("+", Place("A", "2"), Place("B", "2"), CORE, "signal"),
        Wire("−", Place("A", "3"), Place("B", "3"), CORE, "signal"),
    )
    return Build("microphone cable", ends, wires, 10.0)


def multicore(n: int = 5) -> Build:
    ends = tuple(End(name, tuple(map(str, range(1, n + 1)))) for name in "AB")
    wires = tuple(Wire(f"core {i}", Place("A", str(i)), Place("B", str(i)), CORE) for i in range(1, n + 1))
    return Build("multicore", ends, wires, 10.0)


def paths_of(*nets: str) -> list[tuple[Place, Place]]:
    """``paths_of("A1 B1", "A2 B2")``: contacts that are joined."""
    found = []
    for net in nets:
        places = [Place(text[0], text[1:]) for text in net.split()]
        found += list(combinations(places, 2))
    return found


def told(build: Build, *nets: str) -> list[tuple[str, tuple[str, ...]]]:
    return [(fault.kind, fault.wires) for fault in wiring_faults(build, paths_of(*nets))]


@pytest.mark.parametrize(
    ("nets", "expected"),
    [
        (("A1 B1", "A2 B2", "A3 B3"), []),
        (("A1 B1", "A2 B3", "A3 B2"), [("reversed pair", ("+", "−"))]),
        (("A1 B2", "A2 B1", "A3 B3"), [("crossed", ("screen", "+"))]),
        (("A1 B2", "A2 B3", "A3 B1"), [("moved", ("screen", "+", "−"))]),
        (("A1 B1", "A3 B3"), [("open", ("+",))]),
        (("A2 B2", "A3 B3"), [("screen open", ("screen",))]),
        (("A1 B1 Ashell", "A2 B2", "A3 B3"), [("screen on shell", ("screen",))]),
        (("A1 B1", "A2 B2 A3 B3"), [("touch", ("+", "−"))]),
        (("A1 B1", "A2 A3 B3"), [("open", ("+",)), ("touch", ("+", "−"))]),
    ],
)  # fmt: skip
def test_a_balanced_cable(nets: tuple[str, ...], expected: list[tuple[str, tuple[str, ...]]]) -> None:
    assert told(balanced(), *nets) == expected


def test_two_rings_in_one_cable() -> None:
    found = told(multicore(), "A1 B2", "A2 B1", "A3 B4", "A4 B5", "A5 B3")
    assert found == [("crossed", ("core 1", "core 2")), ("moved", ("core 3", "core 4", "core 5"))]


def test_a_wire_on_an_empty_contact_is_open_and_touches_it() -> None:
    ends = (End("A", ("1", "2")), End("B", ("1", "2")))
    build = Build("one core", ends, (Wire("core", Place("A", "1"), Place("B", "1"), CORE),), 1.0)
    found = wiring_faults(build, paths_of("A1 B2"))
    assert [(one.kind, one.wires) for one in found] == [("open", ("core",)), ("touch", ("core",))]


def test_what_is_linked_at_an_end_is_no_touch() -> None:
    whole = balanced()
    link = (Place("A", "1"), Place("A", "shell"))
    build = Build(whole.name, whole.ends, whole.wires, whole.length, links=(link,))
    assert not wiring_faults(build, paths_of("A1 B1 Ashell", "A2 B2", "A3 B3"))
    assert (Place("A", "1"), Place("A", "shell"), Place("B", "1")) in expected_nets(build)


def test_joined_by_way_of_others() -> None:
    assert joined("abcdef", [("a", "b"), ("e", "f"), ("b", "e")]) == (("a", "b", "e", "f"), ("c",), ("d",))


def test_exchanged_wires_with_a_link_are_exchanged_and_nothing_else() -> None:
    whole = balanced()
    link = (Place("A", "1"), Place("A", "shell"))
    build = Build(whole.name, whole.ends, whole.wires, whole.length, links=(link,))
    assert told(build, "A1 Ashell B2", "A2 B1", "A3 B3") == [("crossed", ("screen", "+"))]
