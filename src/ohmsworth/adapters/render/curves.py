"""Curves over frequency are lines on a logarithmic axis."""

from __future__ import annotations

from ohmsworth.adapters.render.layers import Spec
from ohmsworth.adapters.render.lines import draw_lines
from ohmsworth.report.document import Axis, CurveFigure, Line, LineFigure


def draw_curves(figure: CurveFigure) -> Spec:
    """The Vega-Lite drawing of curves; frequency (hertz) is logarithmic, the quantity even."""
    lines = (
        Line(label, figure.frequency, values)
        for label, values in zip(figure.labels, figure.values, strict=True)
    )
    return draw_lines(
        LineFigure(
            figure.name,
            figure.alt,
            figure.caption,
            Axis("", "Hz", logarithmic=True),
            Axis(figure.quantity),
            tuple(lines),
            threshold=figure.threshold,
        )
    )
