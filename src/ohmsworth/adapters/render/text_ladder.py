"""The ladder in plain text: a scale, what was measured, and each use with its thresholds, smallest first."""

from __future__ import annotations

from ohmsworth.adapters.render.ladder_frame import Scale, by_use, scale_of
from ohmsworth.adapters.render.ladder_words import OF_LARGEST, far_words, value_words
from ohmsworth.adapters.render.measure import columns, pad, wrap_columns
from ohmsworth.adapters.render.scales import decades, plain
from ohmsworth.report.document import LadderFigure, LadderMark

CONTACT, LIMIT, WIRE, SEVERAL, BAR, SPINE = "O", "|", "w", "+", "=", ":"
KEY = (
    "O: contact; =: its interval, or where a use suffers; 1 2 3: its thresholds; +: several; "
    "|: limit; w: wire"
)
HAZARD, HAZARD_KEY = "!", "!: a hazard, not only a fault"
WIDEST_TRACK = 40


def ladder_lines(figure: LadderFigure, width: int) -> list[str]:
    """The marks of `figure` under a scale of decades: contacts, limits, wires, then use by use all thresholds."""
    if not figure.marks:
        return ["nothing to list"]
    scale = scale_of(figure.marks, float(min(max(width * 2 // 5, 16), WIDEST_TRACK) - 1))
    spine = [mark for mark in figure.marks if mark.kind in ("contact", "limit")]
    contacts = [mark for mark in spine if mark.kind == "contact"]
    lines = [_axis(scale)]
    for mark in sorted(spine, key=lambda mark: mark.value):
        lines += _row(_marked(mark, scale), _measured(mark), width)
    lines += _wires([mark for mark in figure.marks if mark.kind == "wire"], scale, width)
    for name, members in by_use(figure.marks).items():
        far = far_words(contacts, members[0])
        head = f"{name}: {far}" if far else name
        lines += ["", *_row(_bar(members, spine, scale), head, width), *_listed(members, width)]
    keys = [KEY, f"×: {OF_LARGEST}"] if contacts else [KEY]
    keys += [HAZARD_KEY] if any(mark.serious for mark in figure.marks) else []
    return [*lines, "", *wrap_columns("; ".join(keys), width)]


def _measured(mark: LadderMark) -> str:
    """A contact or limit in words: how much, what, and of which state or from where."""
    label = mark.label if mark.kind == "contact" or "limit" in mark.label.lower() else f"limit, {mark.label}"
    more = f" ({mark.group})" if mark.group else ""
    return f"{value_words(mark)}: {label}{more}{f', {mark.note}' if mark.note else ''}"


def _row(track: str, words: str, width: int) -> list[str]:
    first, *rest = wrap_columns(words.replace("\u00a0", " "), max(width - len(track) - 2, 20))
    return [f"{track}  {first}", *(" " * (len(track) + 2) + line for line in rest)]


def _axis(scale: Scale) -> str:
    """The ends of the scale and what lies between, as far as it fits."""
    line = ""
    for tick in decades(scale.low, scale.high):
        at, words = round(scale.pixel(tick)), plain(tick, "Ω")
        if not line or at >= len(line) + 2:
            line = line.ljust(at) + words
    return line


def _cells(scale: Scale) -> list[str]:
    return ["."] * (int(scale.width) + 1)


def _marked(mark: LadderMark, scale: Scale) -> str:
    """The scale as dots with the mark's sign, and its interval, in place."""
    cells = _cells(scale)
    if mark.low is not None and mark.high is not None:
        for i in range(round(scale.pixel(mark.low)), round(scale.pixel(mark.high)) + 1):
            cells[i] = BAR
    sign = {"limit": LIMIT, "contact": CONTACT}.get(mark.kind, WIRE)
    cells[round(scale.pixel(mark.value))] = {-1: "<", 0: sign, 1: ">"}[scale.off_scale(mark.value)]
    return "".join(cells)


def _wires(wires: list[LadderMark], scale: Scale, width: int) -> list[str]:
    """One line for the lengths of each conductor that lie on the scale."""
    lines: list[str] = []
    shown = sorted((w for w in wires if not scale.off_scale(w.value)), key=lambda mark: mark.value)
    for group in dict.fromkeys(mark.group for mark in shown):
        cells = _cells(scale)
        members = [mark for mark in shown if mark.group == group]
        for mark in members:
            cells[round(scale.pixel(mark.value))] = WIRE
        lengths = ", ".join(mark.label for mark in members)
        lines += _row("".join(cells), f"{lengths} of {group}" if group else lengths, width)
    return lines


def _bar(members: list[LadderMark], spine: list[LadderMark], scale: Scale) -> str:
    """The scale with a bar from the first threshold on, a digit at each, and where contacts and limits stand."""
    cells = _cells(scale)
    for mark in spine:
        if not scale.off_scale(mark.value):
            cells[round(scale.pixel(mark.value))] = SPINE if mark.kind == "contact" else LIMIT
    first = round(scale.pixel(members[0].value))
    if scale.off_scale(members[0].value) <= 0:
        cells[first:] = [BAR if cell == "." else cell for cell in cells[first:]]
    signs: dict[int, str] = {}
    for number, mark in enumerate(members, start=1):
        at = round(scale.pixel(mark.value))
        sign = {-1: "<", 0: str(number) if number < 10 else SEVERAL, 1: ">"}[scale.off_scale(mark.value)]
        signs[at] = SEVERAL if at in signs else sign
    for at, sign in signs.items():
        cells[at] = sign
    return "".join(cells)


def _listed(members: list[LadderMark], width: int) -> list[str]:
    """The thresholds of a use, numbered as on its bar: value, what happens, where."""
    values = [value_words(mark).replace("\u00a0", " ") for mark in members]
    wide = max(columns(value) for value in values)
    lines: list[str] = []
    for number, (mark, value) in enumerate(zip(members, values, strict=True), start=1):
        where = f" ({mark.position})" if mark.position else ""
        words = f"{mark.label}{where}{f', {mark.note}' if mark.note else ''}"
        lead = f"{HAZARD if mark.serious else ' '}{number:>2} {pad(value, wide, right=True)}  "
        first, *rest = wrap_columns(words.replace("\u00a0", " "), max(width - columns(lead), 20))
        lines += [lead + first, *(" " * columns(lead) + line for line in rest)]
    return lines
