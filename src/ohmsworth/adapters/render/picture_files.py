"""The figures of a document as files that stand by themselves: drawing, picture and numbers."""

from __future__ import annotations

import re
from html import escape

from ohmsworth.adapters.render.charts import figure_note, svg_to_png, to_svg
from ohmsworth.adapters.render.clean import BYTE_ORDER_MARK, clean
from ohmsworth.adapters.render.figure_data import to_csv
from ohmsworth.adapters.render.typeface import faces
from ohmsworth.report.document import Bullets, Document, Figure, Headline, Paragraph, Subheading, Table

#: A drawing to be opened anywhere, a picture for a letter, the numbers for a spreadsheet.
FILE_KINDS = ("svg", "png", "csv")
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
    return tuple(file for name, figure in named_figures(document) for file in figure_files(figure, name))


def named_figures(document: Document) -> tuple[tuple[str, Figure], ...]:
    """The figures of `document` in its order, each with the name of its files."""
    taken: set[str] = set()
    found: list[tuple[str, Figure]] = []
    for section in document.sections:
        for block in section.blocks:
            if not isinstance(block, _WORDS):
                name = _free_name(file_name(block), taken)
                taken.add(name.lower())
                found.append((name, block))
    return tuple(found)


def figure_files(figure: Figure, name: str) -> tuple[tuple[str, bytes], ...]:
    """One figure as the files `name`.svg, .png and .csv."""
    return tuple((f"{name}.{kind}", figure_file(figure, kind)) for kind in FILE_KINDS)


def figure_file(figure: Figure, kind: str) -> bytes:
    """One figure as a file of one of FILE_KINDS that stands by itself."""
    figure = clean(figure)
    if kind == "csv":
        return (BYTE_ORDER_MARK + to_csv(figure)).encode()
    svg = to_svg(figure)
    return svg_to_png(svg) if kind == "png" else _standing_alone(svg, figure).encode()


def named_file(document: Document, file: str) -> bytes | None:
    """The one file of :func:`picture_files` that is called `file`, drawn alone; None where there is none."""
    name, _, kind = file.rpartition(".")
    figure = dict(named_figures(document)).get(name)
    return figure_file(figure, kind) if figure is not None and kind in FILE_KINDS else None


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
