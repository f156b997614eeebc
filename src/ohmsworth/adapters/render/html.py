"""The document as one self-contained web page: no script, nothing fetched, everything escaped."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from ohmsworth.adapters.render.charts import svg_to_png, to_svg
from ohmsworth.adapters.render.clean import BYTE_ORDER_MARK, clean
from ohmsworth.adapters.render.content import content_of
from ohmsworth.adapters.render.figure_data import to_csv
from ohmsworth.adapters.render.palette import DARK, TEMPLATE_FOLDER
from ohmsworth.adapters.render.picture_files import file_name
from ohmsworth.adapters.render.tips import tip_count, touchable
from ohmsworth.adapters.render.typeface import data_link, faces
from ohmsworth.report.document import Document, Figure

if TYPE_CHECKING:
    from jinja2 import Environment

#: The page asks the browser to allow nothing but what it carries.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:"
PNG_SCALE = 1.5


def to_html(document: Document, data: str = "") -> str:
    """`document` as a single HTML file.

    The page holds its style, typeface, pictures and their data; it needs no network and runs no script.

    Parameters
    ----------
    document
        What to show.
    data
        JSON that the page carries, for programs: a block of data, which no browser runs or shows.
    """
    from markupsafe import Markup

    page = content_of(clean(document), _drawing)
    template = environment().get_template("report.html.j2")
    # Inside such a block nothing but "<" could begin markup, and JSON has another way to write it.
    carried = Markup(data.replace("<", "\\u003c"))  # noqa: S704
    return template.render(page=page, policy=POLICY, dark=DARK, typeface=faces(), data=carried)


def _drawing(figure: Figure, key: str) -> dict[str, Any]:
    """The picture drawn once, to be shown and to be taken away as SVG, PNG and CSV."""
    from markupsafe import Markup

    svg = to_svg(figure, key)
    name = file_name(figure)
    links = [
        {
            "label": "Data (CSV)",
            "file": f"{name}.csv",
            "href": _text_link("text/csv", BYTE_ORDER_MARK + to_csv(figure)),
        },
        {"label": "Picture (SVG)", "file": f"{name}.svg", "href": data_link("image/svg+xml", svg.encode())},
        {
            "label": "Picture (PNG)",
            "file": f"{name}.png",
            "href": data_link("image/png", svg_to_png(svg, PNG_SCALE)),
        },
    ]
    # The drawing engine escapes all text, and the title and description are escaped as they are put in.
    return {"svg": Markup(touchable(svg)), "tips": tip_count(svg), "links": links}  # noqa: S704


def _text_link(kind: str, content: str) -> str:
    return f"data:{kind};charset=utf-8,{quote(content, safe='')}"


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates of a report; every text is escaped."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(TEMPLATE_FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
