"""The drawing of a cutting plan: pieces to scale and in order, kept rests open, scrap crossed, words that do not meet."""

from __future__ import annotations

import pytest
from tests.adapters.render.drawn import boxes, overlaps

from ohmsworth.adapters.render import to_csv, to_svg, to_vega
from ohmsworth.report.document import ReelBar, ReelFigure, ReelPiece

KEPT = ReelBar(
    "multicore", "A1", 100.0, (ReelPiece(2, 40.6, "stage"), ReelPiece(1, 5.05, "desk")), 13.75, True
)
SCRAP = ReelBar("multicore", "A2", 50.0, (ReelPiece(40, 1.2, "stage"),), 2.0, False)
EMPTIED = ReelBar("strand", "no. 1", 10.0, (ReelPiece(400, 0.025, "lead"),), 0.0, True)
FIGURE = ReelFigure("reels", "alt", "caption", (KEPT, SCRAP, EMPTIED))
LONG = ReelFigure(
    "long",
    "",
    "",
    tuple(
        ReelBar(
            "wire " * 40,
            "reel " * 30 + str(k),
            12345.678,
            (ReelPiece(3 + 7 * k, 97.531, "x " * 90),),
            9.9,
            False,
        )
        for k in range(12)
    ),
)


def layer(figure: ReelFigure, mark: str, color: str = "") -> list[dict[str, float]]:
    found = [
        one
        for one in to_vega(figure)["layer"]
        if one["mark"]["type"] == mark and one["mark"].get("opacity") != 0
    ]
    return [row for one in found if color in one["mark"]["color"] for row in one["data"]["values"]]


@pytest.mark.parametrize("figure", [FIGURE, LONG], ids=["plain", "long"])
def test_no_words_meet_or_leave_the_picture(figure: ReelFigure) -> None:
    found = boxes(to_svg(figure))
    assert not overlaps(found)
    assert min(box.left for box in found) > -1
    assert max(box.right for box in found) < 721


def test_pieces_are_to_scale_and_in_order() -> None:
    first, second, third, fourth = layer(FIGURE, "rect")
    assert first["x2"] == pytest.approx(second["x"])
    assert (first["x2"] - first["x"]) / (second["x2"] - second["x"]) == pytest.approx(2 * 40.6 / 5.05)
    assert (third["x2"] - third["x"]) / (first["x2"] - first["x"]) == pytest.approx(48 / 81.2)
    assert first["y2"] <= third["y"]
    assert fourth["x2"] - fourth["x"] == pytest.approx(
        (first["x2"] - first["x"]) / 0.812
    )  # a scale of its own


def test_scrap_alone_is_crossed() -> None:
    strokes = [row for row in layer(FIGURE, "rule") if row["x"] != row["x2"] and row["y"] != row["y2"]]
    assert strokes
    _, _, cut, _ = layer(FIGURE, "rect")
    assert min(row["x"] for row in strokes) == pytest.approx(cut["x2"])
    assert {row["y2"] for row in strokes} == {cut["y"]}


def test_lengths_and_rests_stand_beside() -> None:
    said = [" ".join(row["text"]) for row in layer(FIGURE, "text")]  # type: ignore[call-overload]
    assert said.count("40.6") == 2
    for words in ("40 × 1.2", "400 × 0.025", "13.75 m left", "2 m scrap", "nothing left", "A1 · 100 m"):
        assert words in said


def test_its_data_are_pieces_and_rests() -> None:
    lines = to_csv(FIGURE).splitlines()
    assert len(lines) == 1 + 4 + 3
    assert lines[1] == "pieces,multicore,A1,100.0,2.0,40.6,stage"
    assert lines[5] == "scrap,multicore,A2,50.0,1.0,2.0,"
