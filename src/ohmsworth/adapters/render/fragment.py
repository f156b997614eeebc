"""The document as a part of another page: no head, no style of its own, what can be taken away at addresses of its own."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from ohmsworth.adapters.render.charts import is_drawn, to_svg
from ohmsworth.adapters.render.clean import clean
from ohmsworth.adapters.render.content import content_of
from ohmsworth.adapters.render.html import environment
from ohmsworth.adapters.render.palette import DARK, GRID, INK, MUTED, RULE, TEMPLATE_FOLDER
from ohmsworth.adapters.render.picture_files import named_figures
from ohmsworth.adapters.render.tips import tip_count, touchable
from ohmsworth.report.document import Document, Figure

#: What stands below a picture, for each kind of file.
LABELS = {"csv": "Data (CSV)", "svg": "Picture (SVG)", "png": "Picture (PNG)"}
#: Below this element the rules of a report hold.
SCOPE = ".report"
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
#: What the page around it says otherwise.
_OVER_THE_PAGE = "table { width: auto; }\n"
#: Out in the sun nothing is grey.
_SUNLIT = {MUTED: INK, RULE: MUTED, GRID: "#c3cad1"}


def to_fragment(
    document: Document,
    link_of: Callable[[str], str],
    level: int = 2,
    anchors: tuple[str, ...] = (),
    later: Callable[[str], str] | None = None,
    reading_at: Callable[[int], str] | None = None,
) -> str:
    """The sections of `document` as HTML for the inside of a page.

    Nothing in it needs a script or a style of its own; the rules of :func:`report_style` draw it.

    Parameters
    ----------
    document
        What to draw.
    link_of
        Gives the address of a file by its name, such as ``ladder.svg``: the names are those of `named_figures`.
    level
        How deep the sections' headings lie on the page, 2 to 5.
    anchors
        The id of each section; "part-1" and so on where there are none. They also keep the ids inside of a section
        apart from those of other documents on the page.
    later
        Where given, a picture that is not at hand is left to be fetched by the page from this address, by the name of
        its drawing; that of :func:`to_inline` is what is to be found there. Without a script it shows as a file. Where
        the address is "", the picture is drawn at once.
    reading_at
        Where given, the address of a reading by its number; "" for one that has no page.
    """
    ids = anchors or tuple(f"part-{number}" for number in range(1, len(document.sections) + 1))
    names = iter(name for name, _ in named_figures(document))

    def drawing(figure: Figure, key: str) -> dict[str, Any]:
        from markupsafe import Markup

        name = next(names)
        links = [
            {"label": label, "file": f"{name}.{kind}", "href": link_of(f"{name}.{kind}")}
            for kind, label in LABELS.items()
        ]
        address = later(f"{name}.svg") if later is not None and not is_drawn(figure) else ""
        if address:
            given = {"address": address, "file": link_of(f"{name}.svg"), "alt": figure.alt}
            waiting = environment().get_template("later.html.j2").render(given)
            return {"svg": Markup(waiting), "tips": 0, "links": links}  # noqa: S704 - escaped by the template
        svg = to_svg(figure, key)
        # The drawing engine escapes all text, and the title and description are escaped as they are put in.
        return {"svg": Markup(touchable(svg)), "tips": tip_count(svg), "links": links}  # noqa: S704

    page = content_of(clean(document), drawing, prefix=f"{ids[0]}-" if anchors else "")
    if reading_at is not None:
        _lead_to_readings(page, reading_at)
    return environment().get_template("fragment.html.j2").render(page=page, level=level, anchors=ids)


def _lead_to_readings(page: dict[str, Any], reading_at: Callable[[int], str]) -> None:
    """Make links of the numbers in columns that list readings."""
    from markupsafe import Markup, escape

    def linked(cell: str) -> Markup:
        parts = [
            Markup('<a href="{}">{}</a>').format(address, part)
            if part.isdecimal() and (address := reading_at(int(part)))
            else escape(part)
            for part in re.split(r"([0-9]+)", cell)
        ]
        return Markup("").join(parts)

    for block in (block for section in page["sections"] for block in section["blocks"]):
        column = block.get("of_readings")
        if column is not None:
            block["rows"] = [
                [linked(cell) if k == column else cell for k, cell in enumerate(row)] for row in block["rows"]
            ]


def to_inline(document: Document, file: str) -> str | None:
    """The drawing that is called `file` among the files of the document's pictures, for the inside of a page.

    None where the document has none of that name.
    """
    figure = dict(named_figures(document)).get(file.removesuffix(".svg"))
    return None if figure is None else touchable(to_svg(clean(figure), file))


def report_style() -> str:
    """The rules that draw a fragment, as a style sheet: those of the report's own page, held to `SCOPE`.

    The colours are the page's own variables: --paper, --ink, --muted, --rule, --tint, --link, --good, --bad, --open,
    --warning. An attribute data-screen of the page's root, "light", "dark" or "sunlight", comes before the system's wish.
    """
    blocks = re.sub(
        r"/\*.*?\*/", "", (TEMPLATE_FOLDER / "blocks.css").read_text(encoding="utf-8"), flags=re.DOTALL
    )
    night = _recoloured(DARK) + "figure svg > rect:first-of-type { fill: transparent; }\n"
    system = _scoped(night, f':root:not([data-screen="light"], [data-screen="sunlight"]) {SCOPE}')
    chosen = _scoped(night, f':root[data-screen="dark"] {SCOPE}')
    sunlit = _scoped(_recoloured(_SUNLIT), f':root[data-screen="sunlight"] {SCOPE}')
    return "\n".join(
        (
            _scoped(_OVER_THE_PAGE + blocks, SCOPE),
            f"@media screen and (prefers-color-scheme: dark) {{\n{system}}}",
            f"@media screen {{\n{chosen}{sunlit}}}\n",
        )
    )


def _recoloured(colours: dict[str, str]) -> str:
    return "".join(
        f'figure svg [{kind}="{drawn}"] {{ {kind}: {shown}; }}\n'
        for drawn, shown in colours.items()
        for kind in ("fill", "stroke")
    )


def _scoped(rules: str, scope: str) -> str:
    """`rules` with each selector held to what lies below `scope`."""

    def held(rule: re.Match[str]) -> str:
        selectors = ", ".join(f"{scope} {one.strip()}" for one in rule[1].split(","))
        return f"{selectors} {{{rule[2]}}}\n"

    return _RULE.sub(held, rules)
