"""Plain text: aligned, complete, and without control codes."""

import math
from dataclasses import replace

import pytest
from tests.adapters.render.hostile import Nasty, hostile_report
from tests.adapters.render.sample import ESTIMATES, FIGURES, LADDER, REPORT
from tests.adapters.render.twelve_uses import TWELVE, USES

from ohmsworth.adapters.render import to_text
from ohmsworth.adapters.render.measure import columns
from ohmsworth.adapters.render.text_ladder import ladder_lines
from ohmsworth.adapters.render.text_table import table_lines
from ohmsworth.report.document import (
    Document,
    EvidenceFigure,
    IntervalFigure,
    LadderFigure,
    LadderMark,
    LineFigure,
    Paragraph,
    Section,
    ShareFigure,
    Table,
)


@pytest.mark.parametrize("width", [60, 100, 140])
def test_no_line_is_wider_than_asked(width: int) -> None:
    lines = to_text(REPORT, width).splitlines()
    assert max(columns(line) for line in lines) <= width
    assert max(columns(line) for line in lines) > width - 15


def test_no_control_codes_even_when_given() -> None:
    text = to_text(Document("a\x1b[31mb", "\u202ec", "en", "\x07", (Section("s\r\n", (Paragraph("\x00"),)),)))
    assert all(letter.isprintable() or letter == "\n" for letter in text)
    assert "\u202e" not in text


def test_the_verdict_stands_out_without_colour() -> None:
    text = to_text(REPORT)
    assert "[ ✓ WITHIN ]" in text
    assert "CAUTION: Unplug the amplifiers" in text
    assert "WARNING:" in text
    assert " 2. Wipe the contact." in text


def test_everything_said_is_there_in_order() -> None:
    text = to_text(REPORT)
    places = [
        text.index(words) for words in (REPORT.title, "Answer", "Six inlets", "Uncertainty\n", "Steps\n")
    ]
    assert places == sorted(places)
    assert all(figure.caption in text for figure in FIGURES)
    assert text.rstrip().endswith(REPORT.footer)


def test_hostile_text_is_shown_as_it_is() -> None:
    text = Nasty()
    document = hostile_report(text)
    shown = "".join(to_text(document, 400).split()).lower()
    ladder, evidence, shares, lines, intervals, _ = document.sections[1].blocks
    assert isinstance(ladder, LadderFigure)
    assert isinstance(evidence, EvidenceFigure)
    assert isinstance(shares, ShareFigure)
    assert isinstance(lines, LineFigure)
    assert isinstance(intervals, IntervalFigure)
    # Words inside pictures are not drawn in text; the ladder is drawn instead of described.
    dots = [word for dot in evidence.dots for word in (dot.condition, dot.specimen, dot.flag) if word]
    words = {lines.across.label, lines.up.label, *(part.label for part in (*lines.lines, *lines.marks))}
    words |= {intervals.across.label, *(w for m in intervals.marks for w in (m.group, m.label, m.flag))}
    undrawn = {*dots, *shares.labels, *words, lines.threshold_words, ladder.alt}
    assert {given for given in text.given if given.lower() not in shown} == undrawn


def test_columns_line_up_with_wide_letters() -> None:
    table = Table("", ("名", "value"), (("接触", "1"), ("plug", "22")), (1,))
    lines = table_lines(table, 40)
    assert lines == ["名    value", "----  -----", "接触      1", "plug     22"]


def test_long_cells_wrap_and_keep_their_words() -> None:
    lines = table_lines(replace(ESTIMATES, rows=(("a condition with a long name " * 3, "1", "2", "3"),)), 50)
    assert max(columns(line) for line in lines) <= 50
    first_column = " ".join(line[:20].strip() for line in lines[3:-1])
    assert " ".join(first_column.split()).count("condition with a") == 3


def test_an_empty_table_says_so() -> None:
    assert table_lines(Table("T", (), ()), 40) == ["T", "nothing to list"]


def tracks(lines: list[str]) -> list[str]:
    """The scales at the beginning of lines."""
    return [line.split("  ")[0] for line in lines if line[:1] in tuple(".=O|w<") and "." in line[:8]]


def test_the_ladder_lists_every_mark_use_by_use_smallest_first() -> None:
    lines = ladder_lines(TWELVE, 100)
    text = "\n".join(lines)
    assert all(mark.label in text for mark in TWELVE.marks if mark.label != "10 mm")  # off the scale
    places = {use: text.index(f"  {use}: ") for use in USES}
    assert sorted(places.values()) == [places[use] for use in sorted(USES, key=lambda use: USES[use][0][0])]
    for use, steps in USES.items():
        start = next(i for i, line in enumerate(lines) if f"  {use}" in line)
        told = lines[start + 1 : start + 1 + len(steps)]
        assert [line[1:3].strip() for line in told] == [str(n) for n in range(1, len(steps) + 1)]
        assert [step[1] in line for step, line in zip(steps, told, strict=True)] == [True] * len(steps)
        assert [line[0] == "!" for line in told] == [step[4] for step in steps]


@pytest.mark.parametrize(("width", "more"), [(80, 22), (100, 14)])
def test_a_dozen_uses_read_well_in_a_terminal(width: int, more: int) -> None:
    lines = ladder_lines(TWELVE, width)
    assert max(columns(line) for line in lines) <= width
    # Name, thresholds and a blank each; then contacts, limit, wires, key, and the few lines that wrap.
    thresholds = sum(mark.kind == "threshold" for mark in TWELVE.marks)
    assert len(lines) <= 2 * len(USES) + thresholds + more
    assert len({len(track) for track in tracks(lines)}) == 1


def test_a_use_has_its_thresholds_on_one_scale_with_the_contacts() -> None:
    lines = ladder_lines(TWELVE, 100)
    (head,) = [line for line in lines if "  loudspeaker" in line]
    track = head.split("  ")[0]
    (contact,) = [line.split("  ")[0] for line in lines if "as found (measured)" in line]
    assert track[contact.index("O")] == ":"
    assert [track.index(sign) for sign in "12345"] == sorted(track.index(sign) for sign in "12345")
    assert set(track[track.index("1") :]) <= set("12345+=")
    assert "loudspeaker: × 1.4" in head
    assert "×: times the largest contact" in " ".join(lines)
    (mains,) = [line for line in lines if "  mains feed" in line]
    assert "reached by as found" in mains


def test_the_limit_is_named_with_its_source() -> None:
    assert "3 mΩ: Datasheet limit" in "\n".join(ladder_lines(LADDER, 120))
    other = replace(LADDER, marks=(LadderMark("limit", "buyer", "the order", 0.003),))
    assert "3 mΩ: limit, buyer (the order)" in "\n".join(ladder_lines(other, 120))


def test_the_ladder_points_beyond_its_ends() -> None:
    marks = (LadderMark("contact", "tiny", "", 1e-9), LadderMark("threshold", "huge", "", math.inf))
    found = tracks(ladder_lines(replace(LADDER, marks=marks), 100))
    assert [found[0][0], found[-1][-1]] == ["<", ">"]
    assert ladder_lines(replace(LADDER, marks=()), 100) == ["nothing to list"]
