"""Measurements of a cable: what they say of its wires and its wiring, and what is still to measure."""

from __future__ import annotations

import math

import pytest

from ohmsworth.cables.build import Build, End, Place, Wire, WireKind
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.request import CableMeter, CableRequest, CableRow
from ohmsworth.cables.tested import CableFound, judge_rows
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.meters import Accuracy

METER = CableMeter(Accuracy(standard=2e-3))
KIND = WireKind("core", 0.1, 0.05)


def request(n: int = 6, meter: CableMeter | None = METER, links: bool = False) -> CableRequest:
    """Wires w1 … of 1 Ω ± 5 % from A:1 to B:1 …, at 20 °C."""
    ends = tuple(End(name, (*map(str, range(1, n + 1)), "shell")) for name in "AB")
    wires = tuple(Wire(f"w{k}", Place("A", str(k)), Place("B", str(k)), KIND) for k in range(1, n + 1))
    link = ((Place("A", "1"), Place("A", "shell")),) if links else ()
    return CableRequest(Build("cable", ends, wires, 10.0, links=link), temperature_tolerance=0.0, meter=meter)


def places(text: str) -> tuple[Place, ...]:
    return tuple(Place(word[0], word[1:]) for word in text.split())


def row(line: int, one: str, other: str, ohm: float | None) -> CableRow:
    return CableRow(line, places(one), places(other), ohm)


def rows(n: int = 6, **changes: float | None) -> list[CableRow]:
    """All wires from end to end, 1 Ω each but for those changed."""
    return [row(k + 1, f"A{k}", f"B{k}", changes.get(f"w{k}", 1.0 + k * 1e-4)) for k in range(1, n + 1)]


def apart(n: int = 6) -> list[CableRow]:
    """Every net against all after it, in one group each: nothing touches."""
    nets = [*(f"A{k}" for k in range(1, n + 1)), "Ashell", "Bshell"]
    return [row(100 + k, net, " ".join(nets[k + 1 :]), None) for k, net in enumerate(nets[:-1])]


def judged(*measured: CableRow, **settings: object) -> CableFound:
    return judge_rows(request(**settings), measured)  # type: ignore[arg-type]


def test_a_sound_cable_leaves_nothing_to_do() -> None:
    found = judged(*rows(), *apart())
    assert {one.verdict for one in found.readings.values()} == {"within"}
    assert not found.faults
    assert not found.unread
    assert found.pairs_left == 0
    assert found.following is None


@pytest.mark.parametrize(
    ("ohm", "verdict"),
    [
        (1.0, "within"),
        (1.046, "within"),  # 2 standard uncertainties below the bound: 97.7 %
        (1.0475, "too close to call"),
        (1.0525, "too close to call"),
        (1.054, "over"),
        (0.946, "under"),
        (0.9525, "too close to call"),
        (None, "no path"),
        (2e6, "no path"),
    ],
)
def test_a_wire_against_its_bounds(ohm: float | None, verdict: str) -> None:
    """0.95 to 1.05 Ω with 2 mΩ: a verdict takes 1.645 standard uncertainties (JCGM 106), 3.3 mΩ."""
    assert judged(*rows(w3=ohm)).readings["w3"].verdict == verdict


def test_the_probability_is_that_of_the_normal_distribution() -> None:
    found = judged(*rows(w3=1.048)).readings["w3"]
    assert found.probability == pytest.approx(0.5 * (1 + math.erf(1 / math.sqrt(2))), abs=1e-9)


def test_leads_are_taken_off_and_their_doubt_is_added() -> None:
    meter = CableMeter(Accuracy(standard=3e-3), Quantity(0.2, 4e-3))
    found = judged(*rows(w3=1.2), meter=meter).readings["w3"]
    assert found.ohm == pytest.approx(1.0)
    assert found.uncertainty == pytest.approx(5e-3)


def test_exchanged_wires_are_told_and_asked_for() -> None:
    lost = rows(w2=None, w3=None)
    after = judged(*lost).following
    assert after is not None
    assert (after.one, after.other, after.purpose) == (places("A2"), places("B3"), "exchanged")
    found = judged(*lost, row(20, "A2", "B3", 1.0), row(21, "A3", "B2", 1.0))
    assert [(one.kind, one.wires) for one in found.faults] == [("crossed", ("w2", "w3"))]
    assert found.following is not None
    assert found.following.purpose == "touch"


def test_a_wire_that_nobody_read_is_asked_for_first() -> None:
    found = judged(*rows()[1:])
    assert found.unread == ("w1",)
    assert found.following is not None
    assert (found.following.one, found.following.other) == (places("A1"), places("B1"))
    assert not found.faults


def test_a_touch_in_a_group_is_halved_until_it_is_found() -> None:
    measured = [*rows(), row(30, "A1 A3 A5 Ashell", "A2 A4 A6 Bshell", 1.3)]
    for line in range(31, 60):
        found = judged(*measured)
        if found.following is None:
            break
        path = {"3", "4"} <= {
            place.contact for side in (found.following.one, found.following.other) for place in side
        }
        path = path and (Place("A", "3") in found.following.one) != (Place("A", "4") in found.following.one)
        assert len(found.unexplained) == (0 if found.faults else 1)
        measured.append(CableRow(line, found.following.one, found.following.other, 1.3 if path else None))
    assert [(one.kind, one.wires) for one in found.faults] == [("touch", ("w3", "w4"))]
    assert found.pairs_left == 0


def test_a_path_that_others_rule_out_is_told() -> None:
    found = judged(*rows(), *apart(), row(50, "A1 A2", "A3 A4", 5.0))
    assert found.contradicting == (50,)
    assert found.following is None


def test_of_a_measurement_made_again_the_last_counts() -> None:
    found = judged(*rows(w3=None), row(40, "B3", "A3", 1.0))
    assert not found.faults
    assert found.readings["w3"].line == 40


def test_a_link_without_a_path_is_missing() -> None:
    found = judged(*rows(), row(40, "A1", "Ashell", None), links=True)
    assert found.open_links == ((Place("A", "1"), Place("A", "shell")),)


def test_a_bad_crimp_stands_out_within_its_bounds() -> None:
    found = judged(*rows(12, w7=1.03), n=12)
    (group,) = found.groups
    assert group.fellows is not None
    assert [group.wires[one.index] for one in group.fellows.out] == ["w7"]
    assert found.readings["w7"].verdict == "within"


def test_without_a_meter_nothing_is_judged() -> None:
    with pytest.raises(ArgumentFault, match="meter"):
        judge_rows(request(meter=None), rows())
