"""The numbers of a figure as CSV: everything drawn, in SI units, every digit kept."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from ohmsworth.report.document import (
    CableFigure,
    ChartFigure,
    CodeFigure,
    EvidenceFigure,
    Figure,
    IntervalFigure,
    LadderFigure,
    Line,
    LineFigure,
    ReelFigure,
    WiringFigure,
)

Cells = tuple[str | float | None, ...]


def to_csv(figure: Figure) -> str:
    """The data of `figure`: comma separated, one header row with units, points as decimal marks.

    Examples
    --------
    >>> from ohmsworth.report.document import ShareFigure
    >>> to_csv(ShareFigure("budget", "", "", ("last digit",), (0.25,))).splitlines()
    ['source,share [1]', 'last digit,0.25']
    """
    header, rows = _table(figure)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return out.getvalue()


def _cell(cell: str | float | None) -> str:
    if cell is None:
        return ""
    return cell if isinstance(cell, str) else repr(float(cell))


def _table(figure: Figure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    if isinstance(figure, LadderFigure):
        return _ladder(figure)
    if isinstance(figure, EvidenceFigure):
        return _evidence(figure)
    if isinstance(figure, LineFigure):
        return _lines(figure)
    if isinstance(figure, ChartFigure):
        return _chart(figure)
    if isinstance(figure, IntervalFigure):
        return _intervals(figure)
    if isinstance(figure, WiringFigure):
        return _wiring(figure)
    if isinstance(figure, CableFigure):
        return _cable(figure)
    if isinstance(figure, CodeFigure):
        return ("what", "text"), [("code", figure.content), *(("line", line) for line in figure.lines)]
    if isinstance(figure, ReelFigure):
        return _reels(figure)
    return ("source", "share [1]"), zip(figure.labels, figure.shares, strict=True)


def _ladder(figure: LadderFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    header = ("kind", "group", "label", "value [Ω]", "low [Ω]", "high [Ω]", "note")
    rows: list[Cells] = []
    for m in figure.marks:
        more = (m.position, m.harm, "yes" if m.serious else "")
        rows.append((m.kind, m.group, m.label, m.value, m.low, m.high, m.note, *more))
    return (*header, "position", "harm", "serious"), rows


def _evidence(figure: EvidenceFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    header = ("kind", "condition", "specimen", "value [Ω]", "low [Ω]", "high [Ω]", "flag")
    rows: list[Cells] = [
        ("reading", d.condition, d.specimen, d.value, None, None, d.flag) for d in figure.dots
    ]
    rows += [("estimate", m.condition, "", m.value, m.low, m.high, "") for m in figure.marks]
    rows += [
        ("pair", condition, pair.specimen, value, None, None, "")
        for pair in figure.pairs
        for condition, value in zip(pair.conditions, pair.values, strict=True)
    ]
    if figure.limit is not None:
        rows.append(("limit", "", "", figure.limit, None, None, ""))
    return header, rows


def _lines(figure: LineFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    """One row a point of a line; the ends of its band in columns of their own where any line has one."""
    unit = figure.up.unit or "1"
    header = [
        "kind",
        "label",
        f"{figure.across.label} [{figure.across.unit or '1'}]",
        f"{figure.up.label} [{unit}]",
    ]
    if any(line.low for line in figure.lines):
        header += [f"low [{unit}]", f"high [{unit}]"]
    rows: list[Cells] = [row for line in figure.lines for row in _points(line)]
    rows += [("point", mark.label, mark.across, mark.up) for mark in figure.marks]
    if figure.threshold is not None:
        rows.append(("threshold", figure.threshold_words, None, figure.threshold))
    return tuple(header), [(*row, None, None)[: len(header)] for row in rows]


def _points(line: Line) -> Iterable[Cells]:
    kind = "ideal" if line.ideal else "line"
    nothing = (None,) * len(line.across)
    columns = (line.across, line.up, line.low or nothing, line.high or nothing)
    return ((kind, line.label, *cells) for cells in zip(*columns, strict=True))


def _chart(figure: ChartFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    unit = figure.up.unit or "1"
    header = ["number", "check"]
    columns: list[tuple[str | float, ...]] = [
        tuple(map(str, range(1, len(figure.checks) + 1))),
        figure.checks,
    ]
    for series in figure.series:
        header += [f"{series.label} [{unit}]", f"{series.label}: flag"]
        columns += [series.values, series.flags]
    for line in figure.lines:
        header.append(f"{line.label} [{unit}]")
        columns.append(line.values)
    return tuple(header), zip(*columns, strict=True)


def _intervals(figure: IntervalFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    unit = figure.across.unit or "1"
    header = ("kind", "group", "label", f"value [{unit}]", f"low [{unit}]", f"high [{unit}]", "flag")
    rows: list[Cells] = [("value", m.group, m.label, m.value, m.low, m.high, m.flag) for m in figure.marks]
    return header, [*rows, ("middle", "", "", figure.middle, None, None, "")]


def _wiring(figure: WiringFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    """The parts in the order in which the current meets them, as words: what lies across comes last."""
    rows: list[Cells] = [("output", figure.output, "", "")]
    rows += [("row", part.name, part.value, part.input_name) for part in figure.row]
    rows.append(("return", figure.back, "", ""))
    if figure.bridge is not None:
        rows.append(("across", figure.bridge.name, figure.bridge.value, ""))
    return ("place", "part", "value", "sense leads to"), rows


def _cable(figure: CableFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    """The wires, and after them the places along the cable."""
    rows: list[Cells] = [
        ("wire", w.name, w.start, w.stop, "no path" if w.broken else w.flag, None, None, None)
        for w in figure.wires
    ]
    rows += [("place", p.label, "", "", "", p.metres, p.low, p.high) for p in figure.places]
    return ("what", "name", "from", "to", "wrong", "distance [m]", "low [m]", "high [m]"), rows


def _reels(figure: ReelFigure) -> tuple[tuple[str, ...], Iterable[Cells]]:
    """Each reel's pieces in order, and after them its rest."""
    rows: list[Cells] = []
    for reel in figure.reels:
        rows += [
            ("pieces", reel.group, reel.name, reel.length, float(p.number), p.length, p.label)
            for p in reel.pieces
        ]
        rest = "kept" if reel.kept else "scrap"
        rows.append((rest, reel.group, reel.name, reel.length, 1.0, reel.left, ""))
    return ("what", "wire", "reel", "on the reel [m]", "number", "each [m]", "for"), rows
