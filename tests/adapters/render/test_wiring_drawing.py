"""A wiring drawing: wires meet parts and each other where they should, and cross nowhere."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest
from tests.adapters.render.drawn import SVG, boxes, overlaps, words_of
from tests.adapters.render.hostile import Nasty
from tests.adapters.render.sample import WIRING

from ohmsworth.adapters.render import to_csv, to_svg, to_vega
from ohmsworth.report.document import WiredPart, WiringFigure

PLAIN = replace(WIRING, bridge=None)
LONE = WiringFigure("lone", "", "", "output", "return", (WiredPart("resistor", "1 kΩ"),))
LONG = replace(
    WIRING,
    output="a very long output " * 9,
    row=tuple(
        replace(part, name=part.name * 9, value=part.value * 9, input_name=part.input_name * 9)
        for part in WIRING.row
    ),
)

Segment = tuple[float, float, float, float]


def wires(figure: WiringFigure) -> list[Segment]:
    rules = [layer for layer in to_vega(figure)["layer"] if layer["mark"]["type"] == "rule"]
    return [(r["x"], r["y"], r["x2"], r["y2"]) for layer in rules for r in layer["data"]["values"]]


def crossings(segments: list[Segment]) -> list[tuple[Segment, Segment]]:
    """Pairs of upright and level wires that cross in the middle of both: to touch with an end is a joint."""
    level = [s for s in segments if s[1] == s[3]]
    upright = [s for s in segments if s[0] == s[2]]
    return [
        (a, b)
        for a in level
        for b in upright
        if min(a[0], a[2]) + 1e-6 < b[0] < max(a[0], a[2]) - 1e-6
        and min(b[1], b[3]) + 1e-6 < a[1] < max(b[1], b[3]) - 1e-6
    ]


@pytest.mark.parametrize("figure", [WIRING, PLAIN, LONE, LONG], ids=["whole", "plain", "lone", "long"])
def test_no_wires_cross_and_no_words_meet(figure: WiringFigure) -> None:
    assert not crossings(wires(figure))
    svg = to_svg(figure)
    found = boxes(svg)
    assert not overlaps(found)
    assert min(box.left for box in found) > -1
    assert max(box.right for box in found) < 721


def test_a_crossing_is_seen() -> None:
    assert crossings([(0, 5, 10, 5), (5, 0, 5, 10)])
    assert not crossings([(0, 5, 10, 5), (5, 5, 5, 10)])


def test_no_wire_runs_through_words() -> None:
    for box in boxes(to_svg(WIRING)):
        # The picture's padding lies between the text and the wires.
        left, right, middle = box.left - 6, box.right - 6, box.middle - 6
        upright = [w for w in wires(WIRING) if w[0] == w[2] and left < w[0] < right]
        through = [w for w in upright if min(w[1], w[3]) < middle < max(w[1], w[3])]
        assert not through, box.text


def test_everything_hangs_together() -> None:
    """From the output every wire can be reached, the boxes of the parts being wires too."""
    segments = wires(PLAIN)

    def on(x: float, y: float, s: Segment) -> bool:
        low, high = (min(s[0], s[2]), min(s[1], s[3])), (max(s[0], s[2]), max(s[1], s[3]))
        return low[0] - 0.01 <= x <= high[0] + 0.01 and low[1] - 0.01 <= y <= high[1] + 0.01

    def touch(a: Segment, b: Segment) -> bool:
        return any(on(x, y, b) for x, y in (a[:2], a[2:])) or any(on(x, y, a) for x, y in (b[:2], b[2:]))

    group = {segment: {segment} for segment in segments}
    for a, b in combinations(segments, 2):
        if touch(a, b) and group[a] is not group[b]:
            joined = group[a] | group[b]
            for one in joined:
                group[one] = joined
    # The contact's plug and socket meet without touching: two groups, the row before it and the row behind it.
    assert len({id(one) for one in group.values()}) <= 2


def test_the_words_are_all_there() -> None:
    told = words_of(to_svg(WIRING))
    for words in (
        "generator in the lobby",
        "earth",
        "series resistor",
        "47 Ω",
        "input A",
        "about 12 mΩ",
        "bridge",
    ):
        assert all(word in told for word in words.split())
    assert "bridge" not in words_of(to_svg(PLAIN))


def test_nasty_names_stay_text() -> None:
    text = Nasty()
    nasty = WiringFigure(
        "wiring", text(), text(), text(), text(), (WiredPart(text(), text(), "contact", text()),)
    )
    root = ElementTree.fromstring(to_svg(nasty))
    assert {node.tag.removeprefix(SVG) for node in root.iter()} <= {
        node.tag.removeprefix(SVG) for node in ElementTree.fromstring(to_svg(WIRING)).iter()
    }
    assert all(given in to_csv(nasty).replace('""', '"') for given in text.given[2:])


def test_the_parts_are_listed_as_data() -> None:
    rows = to_csv(WIRING).splitlines()
    assert rows[0] == "place,part,value,sense leads to"
    assert "row,shunt,0.1 Ω,input A" in rows
    assert rows[-1] == "across,bridge,0.82 Ω,"
