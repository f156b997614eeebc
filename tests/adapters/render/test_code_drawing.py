"""The picture of a code: one black shape that is the code's own outline, words beside it, and the same on a dark page."""

from __future__ import annotations

import csv
import io
import re

from ohmsworth.adapters.render import to_csv, to_svg, to_vega
from ohmsworth.adapters.render.code_drawing import BLACK, SIDE, WHITE
from ohmsworth.adapters.render.palette import DARK
from ohmsworth.adapters.render.qr import modules
from ohmsworth.report.document import CodeFigure

CONTENT = "certificate 2026-014; passed; serial 12; sha256 112b26a813ac9776"
FIGURE = CodeFigure("seal", "A code.", "The seal.", CONTENT, ("Certificate 2026-014", "serial <12>"))


def test_the_shape_in_the_picture_has_the_modules_of_the_code() -> None:
    matrix = modules(CONTENT)
    size = SIDE / len(matrix)
    shape = re.search(rf'd="([^"]+)"[^>]*fill="{BLACK}"|fill="{BLACK}"[^>]*d="([^"]+)"', to_svg(FIGURE))
    assert shape is not None
    path = shape[1] or shape[2]
    place = re.search(r'translate\(([\d.]+),([\d.]+)\)"[^>]*d="' + re.escape(path[:40]), to_svg(FIGURE))
    assert place is not None
    assert (float(place[1]), float(place[2])) == (SIDE / 2, SIDE / 2)
    covered = set()
    for left, top, right in re.findall(r"M(-?[\d.]+),(-?[\d.]+)L(-?[\d.]+),", path):
        first, row, last = (round((float(one) + SIDE / 2) / size) for one in (left, top, right))
        covered |= {(row, column) for column in range(first, last)}
    assert covered == {(y, x) for y, row in enumerate(matrix) for x, dark in enumerate(row) if dark}


def test_a_dark_page_does_not_turn_it_round() -> None:
    assert not {BLACK, WHITE} & set(DARK)


def test_its_words_and_its_data_are_there() -> None:
    svg = to_svg(FIGURE)
    assert "Certificate 2026-014" in svg
    assert "serial &lt;12&gt;" in svg
    rows = list(csv.reader(io.StringIO(to_csv(FIGURE))))
    assert rows == [
        ["what", "text"],
        ["code", CONTENT],
        ["line", "Certificate 2026-014"],
        ["line", "serial <12>"],
    ]


def test_a_long_line_is_broken_and_not_cut() -> None:
    long = CodeFigure("seal", "", "", CONTENT, ("word " * 60,))
    told = [row["text"][0] for layer in to_vega(long)["layer"][2:] for row in layer["data"]["values"]]
    assert len(told) > 1
    assert " ".join(told).split() == ["word"] * 60
