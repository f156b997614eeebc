"""Reads a drawing back: which texts stand in it, and where."""

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

from ohmsworth.adapters.render.measure import text_width

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Box:
    """One line of text and the space it takes."""

    text: str
    left: float
    right: float
    middle: float


def boxes(svg: str) -> list[Box]:
    """Every line of text of a drawing."""
    found: list[Box] = []
    _walk(ElementTree.fromstring(svg), 0.0, 0.0, found)
    return found


def _walk(node: ElementTree.Element, x: float, y: float, found: list[Box]) -> None:
    move = re.search(r"translate\(([-\d.]+),([-\d.]+)\)", node.get("transform", ""))
    if move:
        x, y = x + float(move[1]), y + float(move[2])
    if node.tag == f"{SVG}text":
        lines = [child.text or "" for child in node] or [node.text or ""]
        for number, line in enumerate(lines):
            found.append(_box(node, line, x, y + 15 * number))
    for child in node:
        _walk(child, x, y, found)


def _box(node: ElementTree.Element, line: str, x: float, y: float) -> Box:
    wide = text_width(line, float(node.get("font-size", "12px")[:-2]), node.get("font-weight") == "bold")
    left = x - {"end": wide, "middle": wide / 2}.get(node.get("text-anchor", "start"), 0.0)
    return Box(line, left, left + wide, y)


def overlaps(found: list[Box], height: float = 11.0) -> list[tuple[str, str]]:
    """Pairs of lines that run into each other."""
    return [
        (a.text, b.text)
        for a, b in combinations(found, 2)
        if a.left < b.right and b.left < a.right and abs(a.middle - b.middle) < height
    ]


def words_of(svg: str) -> str:
    """All text of a drawing in one line, as a reader puts it together."""
    return " ".join(box.text for box in boxes(svg)).replace("\u00a0", " ")
