"""Shares: which source of uncertainty weighs most, as horizontal bars."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, picture, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.report.document import ShareFigure

INNER_WIDTH = palette.WIDTH - 12
WIDEST_LABEL, PERCENT_ROOM, BAR, ROW_GAP = 300, 56, 16, 9


def draw_shares(figure: ShareFigure) -> Spec:
    """The Vega-Lite drawing of shares: labels left, bars on a common line, percent at their ends."""
    wrapped = [wrap_pixels(label, WIDEST_LABEL, palette.TEXT_SIZE) for label in figure.labels]
    longest = max((text_width(line, palette.TEXT_SIZE) for lines in wrapped for line in lines), default=0.0)
    start = longest + 10
    full = INNER_WIDTH - start - PERCENT_ROOM
    bars: Rows = []
    labels: Rows = []
    percents: Rows = []
    y = 0.0
    for lines, share in zip(wrapped, figure.shares, strict=True):
        tall = max(len(lines) * palette.LINE_HEIGHT, BAR)
        middle, end = y + tall / 2, round(start + full * min(max(share, 0.0), 1.0), 2)
        bars.append({"x": start, "x2": end, "y": middle - BAR / 2, "y2": middle + BAR / 2})
        labels.append({"x": longest, "y": y + palette.LINE_HEIGHT / 2, "text": lines})
        percents.append({"x": end + 6, "y": middle, "text": percent(share)})
        y += tall + ROW_GAP
    height = max(y - ROW_GAP, BAR)
    layers = [
        *boxes(bars, palette.CONTACT),
        *rules([{"x": start, "x2": start, "y": -4, "y2": height + 4}], palette.MUTED),
        *texts(labels, "right"),
        *texts(percents, fontWeight="bold"),
    ]
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    down = {"scale": {"domain": [-4, height + 4], "reverse": True, "nice": False}, "axis": None}
    return picture(layers, x, down, INNER_WIDTH, height + 8)


def percent(share: float) -> str:
    r"""A share in percent: whole, or one digit when small, and never a false nothing.

    Examples
    --------
    >>> percent(0.613), percent(0.0312), percent(0.0002), percent(0.0)
    ('61\xa0%', '3.1\xa0%', 'under\xa00.1\xa0%', '0\xa0%')
    """
    if 0 < share < 0.001:
        return "under\u00a00.1\u00a0%"
    digits = 1 if 0 < share < 0.0995 else 0
    return f"{100 * share:.{digits}f}\u00a0%"
