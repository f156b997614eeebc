"""The ladder in plain text: one line a mark, sorted by value, each with its place on the scale."""

from __future__ import annotations

from ohmsworth.adapters.render.ladder_rows import Scale, label_of, scale_of
from ohmsworth.adapters.render.measure import wrap_columns
from ohmsworth.adapters.render.scales import decades, plain
from ohmsworth.report.document import LadderFigure, LadderMark

SIGNS = {"contact": "O", "limit": "|", "wire": "w", "threshold": ">"}
WORDS = {"contact": "CONTACT", "limit": "LIMIT", "wire": "wire", "threshold": "threshold"}
KEY = "O contact  = its interval  | limit  w wire of that resistance  > a use begins to suffer"


def ladder_lines(figure: LadderFigure, width: int) -> list[str]:
    """The marks of `figure`, smallest resistance first, under a scale of decades."""
    if not figure.marks:
        return ["nothing to list"]
    marks = sorted(figure.marks, key=lambda mark: mark.value)
    scale = scale_of(marks, float(min(max(width // 3, 16), 40) - 1))
    wide = int(scale.width) + 1
    lines = [_axis(scale)]
    for mark in marks:
        words = f"{WORDS[mark.kind]}: {f'{mark.group}, ' if mark.group else ''}{label_of(mark)}"
        first, *rest = wrap_columns(words.replace("\u00a0", " "), max(width - wide - 2, 20))
        lines += [f"{_track(mark, scale)}  {first}", *(" " * (wide + 2) + line for line in rest)]
    return [*lines, *wrap_columns(KEY, width)]


def _axis(scale: Scale) -> str:
    """The ends of the scale and what lies between, as far as it fits."""
    line = ""
    for tick in decades(scale.low, scale.high):
        at, words = round(scale.pixel(tick)), plain(tick, "Ω")
        if not line or at >= len(line) + 2:
            line = line.ljust(at) + words
    return line


def _track(mark: LadderMark, scale: Scale) -> str:
    """The scale as dots with the mark's sign, and its interval, in place."""
    cells = ["."] * (int(scale.width) + 1)
    if mark.low is not None and mark.high is not None:
        for i in range(round(scale.pixel(mark.low)), round(scale.pixel(mark.high)) + 1):
            cells[i] = "="
    beyond = {-1: "<", 0: SIGNS[mark.kind], 1: ">"}[scale.off_scale(mark.value)]
    cells[round(scale.pixel(mark.value))] = beyond
    return "".join(cells)
