"""The drawing of a cable: every wire from its contact to its contact, gaps where there is no path, places on the scale."""

from __future__ import annotations

import pytest
from tests.adapters.render.drawn import boxes, overlaps

from ohmsworth.adapters.render import to_csv, to_svg, to_vega
from ohmsworth.report.document import CableFigure, CablePlaceMark, CableWireMark

WIRES = (
    CableWireMark("screen", "A:1", "B:1"),
    CableWireMark("hot", "A:2", "B:3", "touch"),
    CableWireMark("cold", "A:3", "B:2", "no path", broken=True),
)
FIGURE = CableFigure(
    "cable", "alt", "caption", WIRES, ("B:1", "B:2", "B:3"), 40.0, (CablePlaceMark("hot", 10.0, 8.0, 12.0),)
)
LONG = CableFigure(
    "long", "", "", tuple(CableWireMark("name " * 20 + str(k), "stage " * 20 + str(k), "desk " * 20 + str(k), "touch " * 9)
                          for k in range(24)), tuple("desk " * 20 + str(k) for k in range(24)), 1.0,
)  # fmt: skip


def rules(figure: CableFigure) -> list[tuple[float, float, float, float]]:
    layers = [layer for layer in to_vega(figure)["layer"] if layer["mark"]["type"] == "rule"]
    return [(r["x"], r["y"], r["x2"], r["y2"]) for layer in layers for r in layer["data"]["values"]]


@pytest.mark.parametrize("figure", [FIGURE, LONG], ids=["plain", "long"])
def test_no_words_meet_or_leave_the_picture(figure: CableFigure) -> None:
    found = boxes(to_svg(figure))
    assert not overlaps(found)
    assert min(box.left for box in found) > -1
    assert max(box.right for box in found) < 721


def test_wires_lead_to_their_contacts_and_a_broken_one_has_a_gap() -> None:
    sound, *others = rules(FIGURE)
    assert sound[1] == sound[3]
    hot, first, last = others[:3]
    assert hot[3] - hot[1] == pytest.approx(22)  # one row down: B:3 is below B:2
    assert first[2] < last[0]
    assert (first[0], last[2]) == (hot[0], hot[2])


def test_a_place_stands_at_its_share_of_the_length() -> None:
    *_, line, bar = rules(FIGURE)
    left, width = line[0], line[2] - line[0]
    assert ((bar[0] - left) / width, (bar[2] - left) / width) == pytest.approx((0.2, 0.3))


def test_its_data_are_wires_and_places() -> None:
    lines = to_csv(FIGURE).splitlines()
    assert len(lines) == 5
    assert lines[3].startswith("wire,cold,A:3,B:2,no path")
    assert lines[4].startswith("place,hot")
