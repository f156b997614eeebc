"""The figures of a document as files that stand by themselves: drawing, picture and numbers."""

from __future__ import annotations

import re
from html import escape

from ohmsworth.adapters.render.charts import figure_note, svg_to_png, to_svg
from ohmsworth.adapters.render.clean import BYTE_ORDER_MARK, clean
from ohmsworth.adapters.render.figure_data import to_csv
from ohmsworth.adapters.render.typeface import faces
from ohmsworth.report.document import Bullets, Document, Figure, Headline, Paragraph, Subheading, Table

_WORDS = (Paragraph, Subheading, Headline, Bullets, Table)


def picture_files(document: Document) -> tuple[tuple[str, bytes], ...]:
    """Name and content of a SVG, a PNG and a CSV file for each figure of `document`, in its order.

    Names are plain and no two are alike, not even where capitals do not count. Each drawing carries its typeface, title
    and description, and opens by itself; spreadsheets read the numbers as UTF-8.

    Examples
    --------
    >>> from ohmsworth.report.document import Section, ShareFigure
    >>> budget = ShareFigure("budget", "", "", ("last digit",), (1.0,))
    >>> document = Document("", "", "en", "", (Section("", (budget, budget)),))
    >>> [name for name, content in picture_files(document)]
    ['budget.svg', 'budget.png', 'budget.csv', 'budget-2.svg', 'budget-2.png', 'budget-2.csv']
    """
    taken: set[str] = set()
    files: list[tuple[str, bytes]] = []
    for section in document.sections:
        for block in section.blocks:
            if not isinstance(block, _WORDS):
                name = _free_name(file_name(block), taken)
                taken.add(name.lower())
                files += figure_files(block, name)
    return tuple(files)


def figure_files(figure: Figure, name: str) -> tuple[tuple[str, bytes], ...]:
    """One figure as the files `name`.svg, .png and .csv."""
    figure = clean(figure)
    svg = to_svg(figure)
    return (
        (f"{name}.svg", _standing_alone(svg, figure).encode()),
        (f"{name}.png", svg_to_png(svg)),
        (f"{name}.csv", (BYTE_ORDER_MARK + to_csv(figure)).encode()),
    )


def file_name(figure: Figure) -> str:
    """The name of a figure with nothing in it but letters, digits, dashes and underscores."""
    return re.sub(r"[^A-Za-z0-9_-]+", "-", figure.name).strip("-") or "figure"


def _free_name(wanted: str, taken: set[str]) -> str:
    name, number = wanted, 1
    while name.lower() in taken:
        number += 1
        name = f"{wanted}-{number}"
    return name


def _standing_alone(svg: str, figure: Figure) -> str:
    """`svg` with its typeface inside, and in its description what stands below a figure on a page."""
    wanted = {400: faces()[400]} | ({700: faces()[700]} if 'font-weight="bold"' in svg else {})
    style = "".join(
        f'@font-face {{ font-family: "Inter"; font-weight: {weight}; src: url("{face}") format("woff2"); }}'
        for weight, face in wanted.items()
    )
    note = figure_note(figure)
    words = f" {escape(note, quote=False)}" if note else ""
    return svg.replace("</desc>", f"{words}</desc><style>{style}</style>", 1)
