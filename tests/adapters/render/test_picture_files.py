"""The figures of a document as files: plain names, whole, and each stands by itself."""

import base64
import re
import struct
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from tests.adapters.render.drawn import SVG
from tests.adapters.render.hostile import Nasty, hostile_report
from tests.adapters.render.sample import CURVES, EVIDENCE, FIGURES, LADDER, REPORT, SHARES

from ohmsworth import wiring
from ohmsworth.adapters.render import figure_files, figure_note, picture_files, to_csv, to_png, to_svg
from ohmsworth.report.document import Document, Figure, Section

FILES = dict(picture_files(REPORT))


def only(*figures: Figure) -> Document:
    return Document("t", "", "en", "", (Section("s", figures),))


def test_every_figure_has_its_three_files_in_order() -> None:
    names = [f"{figure.name}.{kind}" for figure in FIGURES for kind in ("svg", "png", "csv")]
    assert list(FILES) == names
    assert dict(wiring.as_pictures(REPORT)) == FILES


def test_the_numbers_and_the_picture_are_those_of_the_figure() -> None:
    assert FILES["response.csv"].decode("utf-8-sig") == to_csv(CURVES)
    assert FILES["response.csv"].startswith(b"\xef\xbb\xbf")
    assert FILES["ladder.png"] == to_png(LADDER)
    _, _, wide, tall = map(float, ElementTree.fromstring(FILES["ladder.svg"]).get("viewBox", "").split())
    assert struct.unpack(">II", FILES["ladder.png"][16:24]) == pytest.approx((2 * wide, 2 * tall), abs=2)


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: figure.name)
def test_a_drawing_stands_by_itself(figure: Figure) -> None:
    svg = FILES[f"{figure.name}.svg"].decode()
    root = ElementTree.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    assert root.get("width")
    assert root.get("height")
    told = [root.findtext(f"{SVG}{part}") for part in ("title", "desc")]
    assert told == [figure.caption, f"{figure.alt} {figure_note(figure)}".strip()]
    assert not re.search(r'(?:href|src)="(?!data:)', svg)
    assert all(
        address.startswith("data:font/woff2;base64,") for address in re.findall(r'url\("?([^")]*)', svg)
    )
    families = {node.get("font-family") for node in root.iter() if node.get("font-family")}
    assert families == {"Inter, sans-serif"}


def test_a_drawing_carries_the_faces_that_it_uses() -> None:
    for name in ("ladder", "response"):
        svg = FILES[f"{name}.svg"].decode()
        bold = 'font-weight="bold"' in svg
        assert svg.count("@font-face") == 1 + bold
        for face in re.findall(r"base64,([^\"]+)\"\)", svg):
            assert base64.b64decode(face)[:4] == b"wOF2"
    assert 'font-weight="bold"' in to_svg(LADDER)
    assert 'font-weight="bold"' not in to_svg(CURVES)


def test_no_two_names_are_alike() -> None:
    figures = [
        replace(SHARES, name=name) for name in ("budget", "Budget", "budget", "budget-2", "a/b", "../..", "")
    ]
    names = [name for name, _ in picture_files(only(*figures)) if name.endswith(".csv")]
    assert names == [
        "budget.csv",
        "Budget-2.csv",
        "budget-3.csv",
        "budget-2-2.csv",
        "a-b.csv",
        "figure.csv",
        "figure-2.csv",
    ]


def test_hostile_text_stays_text() -> None:
    files = picture_files(hostile_report(Nasty()))
    for name, content in files:
        assert re.fullmatch(r"[A-Za-z0-9_-]+(-[0-9]+)?\.(svg|png|csv)", name)
        if name.endswith(".svg"):
            tags = {node.tag.removeprefix(SVG) for node in ElementTree.fromstring(content).iter()}
            assert not tags & {"script", "b", "foreignObject"}


def test_what_cannot_be_drawn_is_replaced_in_every_file() -> None:
    label = "bell\x07 \u202eback"
    line = replace(CURVES.lines[0], label=label)
    files = dict(figure_files(replace(CURVES, lines=(line, replace(line, label="other"))), "x"))
    assert "'bell\ufffd \ufffdback' and 'other' are the same line" in files["x.svg"].decode()
    assert "\x07" not in files["x.csv"].decode()


def test_a_document_of_words_has_no_pictures() -> None:
    assert picture_files(replace(REPORT, sections=())) == ()
    assert len(picture_files(only(EVIDENCE))) == 3
