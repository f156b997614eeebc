"""A label of any size in millimetres: text as large as fits beside a code that a telephone still reads."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.palette import FONT_FOLDER, TEMPLATE_FOLDER
from ohmsworth.adapters.render.pdf import shown
from ohmsworth.adapters.render.qr import Matrix, modules, outline
from ohmsworth.errors import Fault, InputRefused, OutputFault
from ohmsworth.report.papers.label import Label

LabelKind = Literal["pdf", "svg", "png"]

MARGIN = 1.5
#: Least side of a module, mm: three dots of a label printer with 300 dots an inch.
LEAST_MODULE = 0.25
#: Sizes of text in point: the largest, one below which it is told, and the least that is set.
LARGEST, SMALL, LEAST = 14.0, 6.5, 5.0
_STEP, _LEADING, _MM_A_POINT = 0.25, 1.25, 25.4 / 72
#: Of the height or of the width that the code takes at most.
_CODE_SHARE = 0.42
#: Widths are estimated: so much room is left.
_RESERVE = 1.05
DOTS_AN_INCH = 600.0


@dataclass(frozen=True, slots=True)
class LabelSize:
    """Millimetre."""

    width: float
    height: float

    def __str__(self) -> str:
        return f"{self.width:g} × {self.height:g} mm"


@dataclass(frozen=True, slots=True)
class _Layout:
    """Side of the code, mm; size of the text, point; the title over its lines."""

    side: float
    size: float
    title: tuple[str, ...]


def to_label(label: Label, size: LabelSize, kind: LabelKind, timestamp: datetime) -> tuple[bytes, str]:
    """The label as a file, and what is to be told about how it came out, or "".

    Raises
    ------
    InputRefused
        Where text or code would be too small to read.
    OutputFault
        When the typesetter refuses.
    """
    matrix = modules(label.content)
    layout = _layout(label, size, matrix)
    if layout is None:
        raise InputRefused((_no_room(label, size, matrix),))
    told = ""
    if layout.size < SMALL:
        told = f"The label's text had to be set in {layout.size:g} point to fit {size}: a larger label reads more easily."
    return _typeset(label, size, layout, matrix, kind, timestamp), told


def _layout(label: Label, size: LabelSize, matrix: Matrix) -> _Layout | None:
    """The largest text that fits; None where none does."""
    high = size.height - 2 * MARGIN
    side = min(high, _CODE_SHARE * size.width)
    wide = size.width - side - 3 * MARGIN
    if side / len(matrix) < LEAST_MODULE or wide <= 0:
        return None
    steps = int((LARGEST - LEAST) / _STEP)
    for k in range(steps + 1):
        points = LARGEST - k * _STEP
        room = wide / _MM_A_POINT / _RESERVE
        words = max(label.title.split() or [""], key=len)
        title = wrap_pixels(label.title, room, points, bold=True)
        across = max(text_width(line, points) for line in label.lines)
        fits_across = max(across, text_width(words, points, bold=True)) <= room
        down = (len(title) + len(label.lines)) * points * _LEADING * _MM_A_POINT
        if fits_across and down <= high:
            return _Layout(side, points, tuple(title))
    return None


def _no_room(label: Label, size: LabelSize, matrix: Matrix) -> Fault:
    """The refusal, with a size of the same shape that would do."""
    grown = size
    for k in range(1, 100):
        grown = LabelSize(round(size.width * 1.05**k), round(size.height * 1.05**k))
        if _layout(label, grown, matrix) is not None:
            break
    mend = f"Take a larger label, such as --label-size {grown.width:g}x{grown.height:g}, or shorten the cable's name."
    expected = f"room for {len(label.lines) + 1} lines of {LEAST:g} point and a code"
    return Fault("--label-size", str(size), expected, mend)


def _typeset(
    label: Label, size: LabelSize, layout: _Layout, matrix: Matrix, kind: LabelKind, timestamp: datetime
) -> bytes:
    import typst

    side = len(matrix)
    code = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}"><path d="{outline(matrix, 1.0)}"/></svg>'
    content = {
        "title": shown(label.title),
        "title-lines": [shown(line) for line in layout.title],
        "lines": [shown(line) for line in label.lines],
        "alt": f"A code that a telephone reads: {label.content}",
        "code": code,
        "width": size.width,
        "height": size.height,
        "margin": MARGIN,
        "side": layout.side,
        "size": layout.size,
        "leading": _LEADING,
    }
    try:
        made, warnings = typst.compile_with_warnings(
            str(TEMPLATE_FOLDER / "label.typ"),
            root=str(TEMPLATE_FOLDER),
            font_paths=[str(FONT_FOLDER)],
            ignore_system_fonts=True,
            sys_inputs={"content": json.dumps(content, ensure_ascii=False)},
            format=kind,
            ppi=DOTS_AN_INCH,
            pdf_standards=["a-2a", "ua-1"] if kind == "pdf" else [],
            timestamp=timestamp.replace(microsecond=0),
        )
    except typst.TypstError as error:
        raise OutputFault(f"The label could not be set: {error.message}") from error
    if warnings:
        raise OutputFault(f"The label was set with a warning: {warnings[0].message}")
    # One page comes as bytes, several as a list of them.
    if not isinstance(made, bytes):
        raise OutputFault("The label ran over one page: take a larger one, or shorten the cable's name.")
    return made
