"""The PDF: the customer's page is one page, it can be archived and heard, and nothing acts but as text."""

import io
import re
from dataclasses import replace
from datetime import datetime, timedelta

import pypdf
import pytest
from tests.adapters.render.hostile import Nasty, hostile_report
from tests.adapters.render.sample import FIGURES, LADDER, MADE, REPORT

from ohmsworth.adapters.render import to_pdf
from ohmsworth.adapters.render.palette import FONT_FOLDER
from ohmsworth.adapters.render.pdf import MISSING
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.document import Document, Headline, LadderFigure, Paragraph, Section, Subheading, Table


def read(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


def squeezed(text: str) -> str:
    """`text` without blanks, which typesetting moves."""
    return re.sub(r"\s+", "", text)


def pages(document: Document) -> list[str]:
    """The text of each page."""
    return [page.extract_text() for page in read(to_pdf(document, MADE)).pages]


def only(*blocks: object) -> Document:
    return Document("Title", "", "en", "", (Section("Answer", blocks),))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return to_pdf(REPORT, MADE)


def test_the_first_section_fills_page_one_and_no_more(pdf: bytes) -> None:
    texts = [page.extract_text() for page in read(pdf).pages]
    assert len(texts) == 6
    assert REPORT.title in texts[0]
    assert "Unplug the amplifiers" in texts[0]
    assert "Six inlets" not in texts[0]
    assert "Six inlets" in texts[1]
    assert all("Unplug the amplifiers" not in text for text in texts[1:])
    for number, text in enumerate(texts, start=1):
        assert f"Page {number} of 6" in text
        assert REPORT.footer in text


def test_a_crowded_first_section_still_fits_one_page() -> None:
    tall = LadderFigure(
        "tall", "a", "c", LADDER.marks + tuple(replace(m, group="again") for m in LADDER.marks[-12:])
    )
    document = replace(
        only(Headline("An answer. " * 12, "bad", "over"), tall, *[Paragraph("Some more words. " * 20)] * 3),
        sections=(
            Section(
                "Answer", (Headline("An answer. " * 12, "bad", "over"), tall, Paragraph("Last of the front."))
            ),
            Section("Evidence", (Paragraph("Behind."),)),
        ),
    )
    texts = pages(document)
    assert len(texts) == 2
    assert "Last of the front." in texts[0]
    assert "Behind." in texts[1]


def test_a_first_section_too_long_for_any_page_loses_nothing() -> None:
    texts = pages(only(*(Paragraph(f"Paragraph {i}. " + "Words go on. " * 40) for i in range(40))))
    assert len(texts) > 1
    assert all(f"Paragraph {i}." in " ".join(texts) for i in range(40))


def test_a_figure_is_not_shrunk_for_a_page_that_never_fits() -> None:
    """Shrunk to less than half, as before, nobody could read it, and there were no fewer pages."""
    short, long = ((LADDER, *[Paragraph("Words go on. " * 30)] * count) for count in (1, 40))
    sizes = [smallest_letters(to_pdf(only(*blocks), MADE)) for blocks in (short, long)]
    assert sizes[1] == pytest.approx(sizes[0], rel=0.01)
    assert sizes[1] > 5  # points


def smallest_letters(pdf: bytes) -> float:
    """Points of the smallest letters on page one."""
    found = []

    def note(text: str, current: list[float], matrix: list[float], _font: object, size: float) -> None:
        if text.strip():
            found.append(abs(size * matrix[3] * current[3]))

    read(pdf).pages[0].extract_text(visitor_text=note)
    return min(found)


def test_the_order_is_that_of_the_document(pdf: bytes) -> None:
    text = squeezed(" ".join(page.extract_text() for page in read(pdf).pages))
    places = [
        text.rindex(squeezed(words))
        for words in ("Cleaning brought", "Six inlets were", "Half a decibel", "Wipe the")
    ]
    assert places == sorted(places)
    for figure in FIGURES:
        assert squeezed(figure.caption) in text


def test_it_is_tagged_titled_and_archivable(pdf: bytes) -> None:
    reader = read(pdf)
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en-GB"
    assert root["/MarkInfo"]["/Marked"]
    assert reader.metadata is not None
    assert reader.metadata.title == REPORT.title
    xmp = root["/Metadata"].get_object().get_data().decode()
    assert re.search(r"<pdfaid:part>2</pdfaid:part>", xmp)
    assert "<pdfaid:conformance>A<" in xmp
    assert "<pdfuaid:part>1<" in xmp


def kinds_and_alts(reader: pypdf.PdfReader) -> tuple[list[str], list[str]]:
    """Every structure element's kind, and every alternative text."""
    kinds, alts, todo = [], [], [reader.trailer["/Root"]["/StructTreeRoot"]]
    while todo:
        node = todo.pop().get_object()
        if isinstance(node, pypdf.generic.ArrayObject):
            todo += list(node)[::-1]
        elif isinstance(node, pypdf.generic.DictionaryObject):
            kinds.append(str(node.get("/S", "")))
            if "/Alt" in node:
                alts.append(str(node["/Alt"]))
            if "/K" in node:
                todo.append(node["/K"])
    return kinds, alts


def test_figures_are_described_and_structure_is_kept(pdf: bytes) -> None:
    kinds, alts = kinds_and_alts(read(pdf))
    assert set(alts) >= {figure.alt for figure in FIGURES}
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == 6
    assert kinds.count("/H3") == 2
    assert kinds.count("/Table") == 3
    assert kinds.count("/TH") >= 10
    assert kinds.count("/LI") >= 4


def test_same_time_same_bytes_and_another_time_others(pdf: bytes) -> None:
    assert to_pdf(REPORT, MADE) == pdf
    assert to_pdf(REPORT, MADE + timedelta(days=1)) != pdf


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="zone"):
        to_pdf(REPORT, datetime(2026, 3, 5))  # noqa: DTZ001


def test_hostile_text_stays_text_everywhere() -> None:
    text = Nasty()
    reader = read(to_pdf(hostile_report(text), MADE))
    _, alts = kinds_and_alts(reader)
    shown = squeezed("".join(page.extract_text() for page in reader.pages))
    missing = [t for t in text.given if squeezed(t) not in shown and t not in alts]
    assert missing in ([], [text.given[1]])  # the specimen's name stands in no picture


def test_a_character_that_the_typeface_lacks_is_shown_as_a_box() -> None:
    (text,) = pages(only(Paragraph("contact 接触 \U0001f50c end")))
    assert f"contact {MISSING}{MISSING} {MISSING} end" in text


def test_the_list_of_characters_is_true_of_both_faces() -> None:
    ranges = (FONT_FOLDER / "ranges.txt").read_text(encoding="ascii").split()
    spans = [(int(r.partition("-")[0], 16), int(r.rpartition("-")[2], 16)) for r in ranges]
    every = "".join(chr(code) for first, last in spans for code in range(first, last + 1))
    assert set("ΩµΩμ±−≤≥°²×√Δ→…éßŁ✓✗□") <= set(every)
    # Archivable PDF refuses a character without a glyph, so that it compiles at all is the proof.
    assert to_pdf(only(Headline(every), Paragraph(every)), MADE)


def test_control_characters_and_lone_surrogates_do_not_break_it() -> None:
    (text,) = pages(only(Paragraph("a\x00b\x1b[31m\ud800\u202ec\nd"), Table("T", ("x",), ())))
    assert "c d" in text
    assert "nothing to list" in text


@pytest.mark.parametrize("tone", ["plain", "good", "mixed", "bad", "open", "warning", "caution"])
def test_every_tone_can_be_set(tone: str) -> None:
    document = only(Headline("Text.", tone, "too close to call"), Paragraph("More.", tone))  # type: ignore[arg-type]
    assert "too close to call" in pages(document)[0]


def test_rows_of_unequal_length_stay_rows() -> None:
    (text,) = pages(only(Table("T", ("a", "b"), (("one",), ("two", "three", "four")))))
    assert re.search(r"two\s+three\s+four", text)


def test_a_caption_stays_with_its_table() -> None:
    filler = [Paragraph("One line.") for _ in range(48)]
    broken = set()
    for lines in range(34, 48):
        blocks = (*filler[:lines], Table("The caption", ("head",), (("row",),) * 3))
        sections = (Section("Answer", ()), Section("Evidence", blocks))
        texts = pages(replace(REPORT, sections=sections))
        (page,) = [text for text in texts if "The caption" in text]
        assert "row" in page
        broken.add(len(texts))
    assert broken == {2, 3}  # the page's end was indeed crossed


def test_a_small_table_is_never_broken_and_a_long_one_may_be() -> None:
    for lines in range(30, 48, 3):
        filler = [Paragraph("One line.")] * lines
        small = Table("The caption", ("head",), tuple((f"row {i}.",) for i in range(8)))
        texts = pages(
            replace(REPORT, sections=(Section("Answer", ()), Section("Evidence", (*filler, small))))
        )
        (page,) = [text for text in texts if "The caption" in text]
        assert all(f"row {i}." in page for i in range(8))
    long = Table("The caption", ("head",), tuple((f"row {i}.",) for i in range(120)))
    texts = pages(replace(REPORT, sections=(Section("Answer", ()), Section("Evidence", (long,)))))
    assert len(texts) > 3
    assert all(any(f"row {i}." in text for text in texts) for i in range(120))


def test_a_subheading_stays_with_what_follows() -> None:
    for lines in range(36, 50):
        blocks = (*[Paragraph("One line.")] * lines, Subheading("The subheading"), Paragraph("Below it."))
        texts = pages(replace(REPORT, sections=(Section("Answer", ()), Section("Evidence", blocks))))
        (page,) = [text for text in texts if "The subheading" in text]
        assert "Below it." in page


def test_numbers_of_a_wide_table_do_not_run_into_each_other() -> None:
    header = (
        "condition",
        "specimens",
        "resistances",
        "median",
        "95 % interval",
        "95 % of next matings below",
    )
    header += ("next one over limit", "verdict")
    name = "silver-plated brass from the second supplier"
    row = (name, "4", "8", "2.44 mΩ", "2.19 to 2.71 mΩ", "3.5 mΩ", "less than 0.1 %", "too close to call")
    unbroken = tuple(cell.replace(" ", "\u00a0") if 0 < i < 7 else cell for i, cell in enumerate(row))
    page = read(to_pdf(only(Table("Conditions", header, (unbroken,) * 3, (1, 2, 3, 4, 5, 6))), MADE)).pages[0]
    assert len(re.findall(r"2.44\s?mΩ\s+2.19\sto", page.extract_text(extraction_mode="layout"))) == 3


def test_a_small_table_is_set_in_small_type() -> None:
    rows = tuple((f"row {i}.", "2.41 mΩ") for i in range(600))
    counts = []
    for small in (False, True):
        made = Table("All readings", ("head", "value"), rows, (1,), small=small)
        counts.append(
            len(pages(replace(REPORT, sections=(Section("Answer", ()), Section("Evidence", (made,))))))
        )
    assert counts[1] < 0.75 * counts[0]
