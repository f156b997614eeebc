"""Labels: the size that was asked for, text that is read, a code whose modules are the standard's, and refusals."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime

import pypdf
import pytest

from ohmsworth.adapters.render import LabelSize, to_label
from ohmsworth.adapters.render.qr import QUIET, modules, outline
from ohmsworth.errors import InputRefused
from ohmsworth.report.papers.label import Label

AT = datetime(2026, 3, 3, tzinfo=UTC)
LABEL = Label(
    "stage multicore",
    ("serial no. 7", "40 m", "tested 2026-03-02", "passed, 2026-014"),
    "certificate 2026-014; passed; serial no. 7; sha256 112b26a813ac9776",
)


@pytest.mark.parametrize(("width", "height"), [(60, 30), (50, 25), (100, 60), (90, 20)])
def test_a_label_has_its_size_and_its_words(width: float, height: float) -> None:
    pdf, _ = to_label(LABEL, LabelSize(width, height), "pdf", AT)
    (page,) = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert float(page.mediabox.width) == pytest.approx(width * 72 / 25.4, abs=0.01)
    assert float(page.mediabox.height) == pytest.approx(height * 72 / 25.4, abs=0.01)
    words = " ".join(page.extract_text().split())
    for line in (LABEL.title, *LABEL.lines):
        assert line in words


def test_a_picture_has_its_size_too() -> None:
    svg, _ = to_label(LABEL, LabelSize(60, 30), "svg", AT)
    width, height = map(float, re.findall(rb'(?:width|height)="([0-9.]+)pt"', svg)[:2])
    assert (width, height) == pytest.approx((60 * 72 / 25.4, 30 * 72 / 25.4), abs=0.01)
    png, _ = to_label(LABEL, LabelSize(60, 30), "png", AT)
    assert png.startswith(b"\x89PNG")
    assert int.from_bytes(png[16:20], "big") == pytest.approx(60 / 25.4 * 600, abs=1)


def test_small_text_is_told_and_smaller_refused() -> None:
    _, told = to_label(LABEL, LabelSize(60, 30), "pdf", AT)
    assert told == ""
    _, told = to_label(LABEL, LabelSize(42, 20), "pdf", AT)
    assert re.search(r"set in [56]\.?[0-9]* point to fit 42 × 20 mm", told)
    with pytest.raises(InputRefused) as refused:
        to_label(LABEL, LabelSize(30, 12), "pdf", AT)
    (fault,) = refused.value.faults
    wide, high = map(int, re.findall(r"--label-size (\d+)x(\d+)", fault.mend)[0])
    to_label(LABEL, LabelSize(wide, high), "pdf", AT)  # what is proposed does


def test_a_name_that_is_too_long_is_broken_over_lines_and_then_refused() -> None:
    long = Label("multicore of the large hall, stage left to the desk", LABEL.lines, LABEL.content)
    pdf, _ = to_label(long, LabelSize(60, 30), "pdf", AT)
    words = " ".join(pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())
    assert long.title in words
    with pytest.raises(InputRefused, match="--label-size"):
        to_label(Label("x" * 200, LABEL.lines, LABEL.content), LabelSize(60, 30), "pdf", AT)


def test_the_same_label_twice_is_the_same_file() -> None:
    assert to_label(LABEL, LabelSize(60, 30), "pdf", AT) == to_label(LABEL, LabelSize(60, 30), "pdf", AT)


def test_markup_on_a_label_stays_words() -> None:
    nasty = Label('#panic("x") *b* $x$', LABEL.lines, LABEL.content)
    pdf, _ = to_label(nasty, LabelSize(80, 40), "pdf", AT)
    assert nasty.title in " ".join(pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())


def test_a_code_has_the_standards_finders_and_its_white() -> None:
    """Source: ISO/IEC 18004: finders of 7 modules in three corners, four modules of white round it."""
    matrix = modules(LABEL.content)
    side = len(matrix)
    assert (side - 2 * QUIET - 17) % 4 == 0  # 21, 25, 29 …
    assert not any(any(row) for row in (*matrix[:QUIET], *matrix[-QUIET:]))
    finder = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"]
    for top, left in ((QUIET, QUIET), (QUIET, side - QUIET - 7), (side - QUIET - 7, QUIET)):
        found = ["".join("01"[matrix[top + y][left + x]] for x in range(7)) for y in range(7)]
        assert found == finder


def test_the_outline_covers_the_dark_modules_and_no_more() -> None:
    matrix = modules(LABEL.content)
    boxes = re.findall(r"M([\d.]+),([\d.]+)h([\d.]+)v1\.00000", outline(matrix, 1.0))
    covered = {
        (round(float(y)), round(float(x)) + k) for x, y, wide in boxes for k in range(round(float(wide)))
    }
    assert covered == {(y, x) for y, row in enumerate(matrix) for x, dark in enumerate(row) if dark}
