"""The service card of a built cable: when it was tested, what was wrong and is no more, its latest paper."""

import io
from dataclasses import replace
from pathlib import Path

import pypdf
from tests.unit.work.builds.built import TOML, WIRE, BuiltShop
from tests.unit.work.builds.papered import FORM, PaperedShop
from tests.unit.work.service.served import TODAY, parts

from ohmsworth import wiring
from ohmsworth.advice.cautions import CABLE_APART, SOLDERING
from ohmsworth.report.document import Document
from ohmsworth.report.papers.service_cable import EARLIER
from ohmsworth.report.papers.service_pages import DONE, FOUND, KEEP, NEXT, NOW
from ohmsworth.work.builds.log import NOTE
from ohmsworth.work.records import NewLine
from ohmsworth.work.service.cable_card import cable_paper, cable_service


def paper(shop: BuiltShop) -> Document:
    return cable_paper(shop.desk, shop.shop, shop.cable)


def mended(shop: BuiltShop) -> BuiltShop:
    """Wire 2 read too much at its first test, and was then measured again."""
    shop.next_row()
    shop.next_row("1.4")
    shop.whole()
    shop.row("A:2", "B:2", WIRE)
    return shop


def test_a_fault_that_was_found_and_is_gone_is_told() -> None:
    shop = mended(BuiltShop())
    card = cable_service(shop.desk, shop.cable)
    assert (card.tests[-1].verdict, card.verdict) == ("wrong", "right")
    told = parts(paper(shop))
    assert told[""].startswith("serial no. 12\nno. 12\nline cable\nlength: 10 m\n")
    assert told[FOUND].startswith(
        "At its first complete test, on 2026-03-02, by Ada: wrong.\n- Wire 2 has 1.400"
    )
    assert told[DONE].startswith(
        "By the readings, 1 fault of those above was mended: measured again on 2026-03-02, by Ada."
    )
    assert "Who mended it, and how, is not written down." in told[DONE]
    assert f"- {CABLE_APART}\n- {SOLDERING}" in told[DONE]
    assert told[NOW].startswith("Line cable no. 12 is right: 3 wires")
    assert "Nearest to a bound: wire " in told[NOW]
    assert "No certificate of it was issued." in told[NOW]
    assert "Not measured again" not in told[NOW]
    assert CABLE_APART not in told[NEXT]  # stands on the page already
    assert told[KEEP].startswith("Coil it loosely")


def test_a_cable_that_was_tested_once_was_not_measured_again() -> None:
    shop = BuiltShop()
    shop.whole()
    told = parts(paper(shop))
    assert told[FOUND] == "At its first complete test, on 2026-03-02, by Ada: right.\n"
    assert told[DONE] == "Nothing since it was built, as far as the records say.\n"
    assert told[NOW].endswith("Not measured again since.\n")
    assert "test it again at the next service" in told[NEXT]
    assert CABLE_APART in told[NEXT]


def test_a_cable_that_is_not_measured_whole_says_so() -> None:
    shop = BuiltShop()
    told = parts(paper(shop))
    assert told[FOUND] == "No test of it is complete yet: how it was is not known.\n"
    assert "3 wires" in told[NOW]
    shop.next_row()
    told = parts(paper(shop))
    assert told[NOW].startswith(
        "Nothing is wrong with line cable no. 12 so far, and not everything is measured"
    )
    assert "Not measured again" not in told[NOW]


def test_the_latest_paper_is_named(tmp_path: Path) -> None:
    shop = PaperedShop(tmp_path)
    shop.issue()
    assert "Its latest paper: certificate 2026-001, right, issued on 2026-03-02." in parts(paper(shop))[NOW]
    shop.issue(replace(FORM, number="2026-002", supersedes="2026-001", reason="The customer's name."))
    told = parts(paper(shop))[NOW]
    assert "certificate 2026-002, right" in told
    assert "(1 earlier paper before it)" in told


def test_a_cable_that_was_measured_again_with_the_same_faults_is_not_called_mended() -> None:
    shop = BuiltShop()
    shop.next_row()
    shop.next_row("1.4")
    shop.whole()
    shop.row("A:1", "B:1", WIRE)
    assert cable_service(shop.desk, shop.cable).tests == ()  # the same day, verdict and faults: one test
    assert "mended" not in parts(paper(shop))[DONE]


def test_a_cable_that_is_wrong_now_is_not_to_be_used() -> None:
    shop = BuiltShop()
    shop.next_row()
    shop.next_row("1.4")
    shop.whole()
    told = parts(paper(shop))
    assert told[NOW].startswith("Line cable no. 12 is wrong: wire 2 has 1.400")
    assert told[NEXT].startswith("Now: it is wrong. Do not use it before it is mended and tested again.\n")
    assert f"- {CABLE_APART}\n- {SOLDERING}" in told[NEXT]


def test_a_cable_without_a_serial_is_known_by_its_name() -> None:
    told = parts(paper(BuiltShop(toml=TOML.replace('serial = "no. 12"\n', ""))))
    assert told[""].startswith("line cable\nline cable\nserial: not stated\n")


def test_ten_tests_with_long_words_fit_one_page_and_those_without_a_row_are_counted() -> None:
    shop = BuiltShop(toml=TOML.replace("line cable", "wide name " * 30).replace("no. 12", "W" * 100))
    shop.whole()
    for number in range(9):
        shop.row("A:2", "B:2", f"1.{number + 1}")  # a fault of its own each time
    for _ in range(4):
        line = NewLine(shop.shop.new_key(), NOTE, {"text": "the note is long " * 60})
        shop.shop.records.add(shop.cable, "Ada", [line], shop.desk.face)
    document = paper(shop)
    told = parts(document)
    *rows, note = told[EARLIER].splitlines()
    assert len(cable_service(shop.desk, shop.cable).tests) == 9
    assert note.startswith(f"And {8 - len(rows)} earlier ones, from 2026-03-02 to")
    assert "2 more notes in the shop's records." in told[DONE]
    assert len(pypdf.PdfReader(io.BytesIO(wiring.as_pdf(document, TODAY))).pages) == 1


def test_the_page_is_tagged_titled_and_archivable() -> None:
    document = paper(mended(BuiltShop()))
    reader = pypdf.PdfReader(io.BytesIO(wiring.as_pdf(document, TODAY)))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    xmp = root["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:conformance>A<" in xmp
    assert "<pdfuaid:part>1<" in xmp
    assert reader.metadata is not None
    assert reader.metadata.title == "Service card: line cable no. 12"
    assert len(reader.pages) == 1
