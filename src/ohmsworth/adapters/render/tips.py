"""What a mark of a picture tells when it is pointed at: as titles in a file, as touchable notes on a page.

The drawing engine hands each tip on as the label of an unseen box (`layers.tips`). :func:`titled` turns these into
boxes with a title, which any viewer of SVG shows on its own; :func:`touchable` makes of them notes that appear
under the pointer, by a tap, or by the tabulator key, with a style sheet and no script.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape, unescape

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.measure import text_width, wrap_pixels

WIDEST, INSIDE, AWAY = 230, 8, 6
#: Browsers set small text a little wider than the typesetter does.
SPREAD = 1.03
LINE = palette.LINE_HEIGHT + 1

_NUMBER = r"(-?[\d.]+(?:e-?\d+)?)"
_DRAWN = re.compile(
    r'<path aria-label="([^"]*)" role="graphics-symbol" aria-roledescription="rect mark" '
    rf'd="M{_NUMBER},{_NUMBER}h{_NUMBER}v{_NUMBER}h-[^"]*Z"[^>]*/>'
)
_ORIGIN = re.compile(rf'<g [^>]*transform="translate\({_NUMBER},{_NUMBER}\)"')
_SIZE = re.compile(rf'viewBox="0 0 {_NUMBER} {_NUMBER}"')
_SPOT = re.compile(
    r'<rect class="spot" x="([^"]*)" y="([^"]*)" width="([^"]*)" height="([^"]*)"[^>]*><title>([^<]*)</title></rect>'
)
_ROOT = re.compile(
    r'<svg role="img" aria-labelledby="([^"]*)" (.*?>)<title id="[^"]*">([^<]*)</title>(<desc.*?</desc>)(<rect[^>]*/>)?<g ',
    re.DOTALL,
)


def titled(svg: str) -> str:
    """`svg` with its tips as boxes on top of all else, each with a title."""
    found = _DRAWN.findall(svg)
    origin = _ORIGIN.search(svg)
    if not found or origin is None:
        return svg
    spots = (
        f'<rect class="spot" x="{x}" y="{y}" width="{wide}" height="{tall}" fill="none" pointer-events="all">'
        f"<title>{tip}</title></rect>"
        for tip, x, y, wide, tall in found
    )
    top = f'<g class="tips" transform="translate({origin[1]},{origin[2]})">{"".join(spots)}</g></svg>'
    return _DRAWN.sub("", svg).removesuffix("</svg>") + top


def tip_count(svg: str) -> int:
    """How many tips a titled `svg` has."""
    return len(_SPOT.findall(svg))


def touchable(svg: str) -> str:
    """A titled `svg` for a page: every tip can be reached by pointer, finger and key, and is read out.

    The drawing itself is silent to a screen reader, which is given the tips, the description and the table instead.
    """
    size, origin = (
        _SIZE.search(svg),
        re.search(rf'<g class="tips" transform="translate\({_NUMBER},{_NUMBER}\)"', svg),
    )
    if size is None or origin is None:
        return svg
    room = Room(-float(origin[1]), -float(origin[2]), float(size[1]), float(size[2]))
    silent = _ROOT.sub(_spoken, svg, count=1)
    return _SPOT.sub(lambda spot: _note(spot, room), silent)


def _spoken(root: re.Match[str]) -> str:
    """The head of the picture as a group of things, its title a label: as a title it would show beside every tip."""
    label = root[3].replace('"', "&quot;")
    return f'<svg role="group" aria-label="{label}" {root[2]}{root[4]}{root[5] or ""}<g aria-hidden="true" '


@dataclass(frozen=True, slots=True)
class Room:
    """The picture's own edges, seen from the origin of its scale."""

    left: float
    top: float
    width: float
    height: float


def _note(spot: re.Match[str], room: Room) -> str:
    x, y, wide, tall = (float(number) for number in spot.groups()[:4])
    told = [line for line in unescape(spot[5]).split("\n") if line]
    lines = [
        (part, i == 0 and len(told) > 1)
        for i, line in enumerate(told)
        for part in wrap_pixels(line, WIDEST, palette.TEXT_SIZE, bold=i == 0 and len(told) > 1)
    ]
    width = SPREAD * max(text_width(text, palette.TEXT_SIZE, bold) for text, bold in lines) + 2 * INSIDE
    height = LINE * len(lines) + 2 * INSIDE - 3
    left = min(max(x + wide / 2 - width / 2, room.left + 1), room.left + room.width - width - 1)
    top = y - height - AWAY
    if top < room.top + 1:
        top = min(y + tall + AWAY, room.top + room.height - height - 1)
    texts = "".join(
        f'<text x="{left + INSIDE:.1f}" y="{top + INSIDE + LINE * i + 10:.1f}" fill="{palette.PAPER}" '
        f'font-size="{palette.TEXT_SIZE}px"{" font-weight=" + chr(34) + "bold" + chr(34) if bold else ""}>'
        f"{escape(text, quote=False)}</text>"
        for i, (text, bold) in enumerate(lines)
    )
    return (
        f'<g class="tip" role="img" tabindex="0" aria-label="{escape("; ".join(told))}">'
        f'<rect class="spot" x="{x:g}" y="{y:g}" width="{wide:g}" height="{tall:g}" rx="3" fill="none" pointer-events="all"/>'
        f'<g class="told" visibility="hidden" pointer-events="none"><rect x="{left:.1f}" y="{top:.1f}" '
        f'width="{width:.1f}" height="{height}" rx="4" fill="{palette.INK}"/>{texts}</g></g>'
    )
