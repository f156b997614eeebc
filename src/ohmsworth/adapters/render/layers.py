"""The few kinds of layer that the drawings are made of, each a Vega-Lite layer with its data inline."""

from __future__ import annotations

import json
from typing import Any

from ohmsworth.adapters.render.palette import FONT, GRID, INK, LINE_HEIGHT, MUTED, PAPER, RULE, TEXT_SIZE

Spec = dict[str, Any]
Rows = list[dict[str, Any]]


def field(name: str, **more: object) -> Spec:
    """A quantitative channel on the column `name`."""
    return {"field": name, "type": "quantitative", **more}


def texts(rows: Rows, align: str = "left", **mark: object) -> list[Spec]:
    """Text at ``x``, ``y``, the lines in ``text``."""
    look = {
        "align": align,
        "baseline": "middle",
        "fontSize": TEXT_SIZE,
        "lineHeight": LINE_HEIGHT,
        "color": INK,
    }
    return [_layer(rows, {"type": "text", **look, **mark}, text={"field": "text"})] if rows else []


def _layer(rows: Rows, mark: Spec, **channels: Spec) -> Spec:
    return {"data": {"values": rows}, "mark": mark, "encoding": channels}


def rules(rows: Rows, color: str, width: float = 1, dash: tuple[int, ...] = (1, 0)) -> list[Spec]:
    """Straight lines from ``x``, ``y`` to ``x2``, ``y2``."""
    mark = {"type": "rule", "color": color, "strokeWidth": width, "strokeDash": list(dash)}
    return _spans(rows, mark)


def boxes(rows: Rows, color: str) -> list[Spec]:
    """Filled boxes from ``x``, ``y`` to ``x2``, ``y2``."""
    return _spans(rows, {"type": "rect", "color": color})


def _spans(rows: Rows, mark: Spec) -> list[Spec]:
    return [_layer(rows, mark, x2={"field": "x2"}, y2={"field": "y2"})] if rows else []


def tips(rows: Rows) -> list[Spec]:
    """Unseen boxes from ``x``, ``y`` to ``x2``, ``y2`` that tell their ``tip``, one thing a line, when pointed at."""
    mark = {"type": "rect", "opacity": 0, "aria": True}
    layers = _spans(rows, mark)
    for layer in layers:
        layer["encoding"]["description"] = {"field": "tip", "type": "nominal"}
    return layers


def merged(layers: list[Spec]) -> list[Spec]:
    """`layers` with those that look alike made one, where the first of them stood: smaller, and drawn sooner."""
    looks: dict[str, Spec] = {}
    for layer in layers:
        look = json.dumps([layer["mark"], layer["encoding"]], sort_keys=True)
        if look in looks:
            looks[look]["data"]["values"] += layer["data"]["values"]
        else:
            looks[look] = {**layer, "data": {"values": list(layer["data"]["values"])}}
    return list(looks.values())


def points(
    rows: Rows, shape: str, color: str, size: int = 80, filled: bool = True, opacity: float = 1.0
) -> list[Spec]:
    """Marks of one `shape` at ``x``, ``y``; hollow ones show the paper inside."""
    mark = {
        "type": "point",
        "shape": shape,
        "size": size,
        "fill": color if filled else PAPER,
        "stroke": PAPER if filled else color,
        "strokeWidth": 0.8 if filled else 1.8,
        "opacity": opacity,
    }
    return [_layer(rows, mark)] if rows else []


def paths(
    rows: Rows, color: str, width: float = 1, dash: tuple[int, ...] = (1, 0), opacity: float = 1.0
) -> list[Spec]:
    """Connected lines through ``x``, ``y`` in the order of ``order``, one for each ``path``."""
    mark = {
        "type": "line",
        "color": color,
        "strokeWidth": width,
        "strokeDash": list(dash),
        "opacity": opacity,
        "interpolate": "linear",
        "invalid": "break-paths-show-path-domains",
    }
    return (
        [_layer(rows, mark, detail={"field": "path", "type": "nominal"}, order=field("order"))]
        if rows
        else []
    )


def areas(rows: Rows, color: str, opacity: float) -> list[Spec]:
    """Filled from ``y`` to ``y2`` along ``x``; what lies behind shows through. A gap where ``y`` is missing."""
    mark = {"type": "area", "color": color, "opacity": opacity, "invalid": "break-paths-show-path-domains"}
    return [_layer(rows, mark, y2={"field": "y2"})] if rows else []


def picture(layers: list[Spec], x: Spec, y: Spec, width: float, height: float) -> Spec:
    """A whole drawing: `layers` over shared positions; `x` and `y` hold the scale and axis of each."""
    return {
        "width": width,
        "height": height,
        "encoding": {"x": field("x", **x), "y": field("y", **y)},
        "layer": layers,
        "config": _config(),
    }


def _config() -> Spec:
    axis = {
        "labelFont": FONT,
        "labelFontSize": TEXT_SIZE,
        "labelColor": MUTED,
        "labelPadding": 5,
        "gridColor": GRID,
        "tickColor": RULE,
        "domainColor": RULE,
        "tickSize": 4,
    }
    return {
        "font": FONT,
        "aria": False,
        "background": PAPER,
        "padding": 6,
        "axis": axis,
        "text": {"font": FONT},
        "view": {"stroke": None},
    }
