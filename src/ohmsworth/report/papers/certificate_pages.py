"""A certificate's pages: who, what, when and the result first; every wire; the readings as taken; how to check it."""

from __future__ import annotations

from ohmsworth.report.cable_answer import LOOK, WRONG
from ohmsworth.report.cable_words import length_words
from ohmsworth.report.document import (
    Block,
    Bullets,
    Document,
    Headline,
    Paragraph,
    Section,
    Table,
    Tone,
)
from ohmsworth.report.papers.certificate import Certificate, PaperMeter, PaperWire
from ohmsworth.report.papers.certificate_words import passed
from ohmsworth.report.papers.paper_parts import (
    accuracy_words,
    check_blocks,
    lines_table,
    seal_figure,
    sealed_document,
    sealed_summary,
    superseded_words,
)
from ohmsworth.report.tables import table
from ohmsworth.report.words import capital
from ohmsworth.units import show_interval, show_percent, show_pm

_ICE = 273.15
_STATEMENT = (
    "This is the shop's own statement about one cable on one day. Resistance at low voltage was measured: insulation and "
    "the safety of mains wiring are not judged here."
)
_NOT_RIGHT: dict[str, Tone] = {WRONG: "bad", LOOK: "mixed"}


def certificate_document(paper: Certificate) -> Document:
    """The whole paper."""
    sections = (
        Section("Result", _first_page(paper)),
        Section("Every wire", (_wires(paper), *_faults(paper), Paragraph(paper.results.rule)), own_page=True),
        Section("Readings as taken", (lines_table("test.csv", "from, to, reading", paper.readings),)),
        Section("How to check this paper", check_blocks(paper, "the description of the cable", _STATEMENT)),
    )
    return sealed_document(paper, sections)


def certificate_summary(paper: Certificate) -> Document:
    """What fits a terminal."""
    return sealed_summary(paper, _first_page(paper))


def _first_page(paper: Certificate) -> tuple[Block, ...]:
    good = passed(paper)
    tone: Tone = "good" if good else _NOT_RIGHT.get(paper.results.verdict, "open")
    verdict = "passed" if good else f"not passed: {paper.results.verdict}"
    blocks: list[Block] = [Headline(paper.results.sentence, tone, verdict)]
    if not good:
        words = "This is a test report and no certificate: the cable did not pass."
        blocks.append(Paragraph(words, "warning"))
    return (
        *blocks,
        *superseded_words(paper),
        _particulars(paper),
        _instrument(paper.meter),
        seal_figure(paper),
        Bullets(paper.results.findings),
    )


def _particulars(paper: Certificate) -> Table:
    cable = paper.cable
    length = length_words(float(cable.length), float(cable.length_tolerance))
    stated = "" if cable.temperature_stated == "yes" else " (not stated: taken for granted)"
    degrees = f"{float(cable.temperature) - _ICE:.3g} °C ± {float(cable.temperature_tolerance):.3g} K{stated}"
    facts = (
        ("cable", cable.name),
        ("serial", cable.serial),
        ("length", length),
        ("customer", paper.customer),
        ("tested on", paper.tested),
        ("tested by", paper.tested_by),
        ("temperature of the cable", degrees),
    )
    rows = tuple((what, told) for what, told in facts if told)
    return table("What was tested", ("what", "as stated"), rows)


def _instrument(meter: PaperMeter) -> Table:
    rows = ((
        f"{meter.name or 'not stated'}{f', serial {meter.serial}' if meter.serial else ''}",
        _accuracy(meter),
        meter.calibrated or "not stated",
    ),)  # fmt: skip
    return table("Meter", ("meter", "accuracy", "last calibrated"), rows)


def _accuracy(meter: PaperMeter) -> str:
    words = accuracy_words(meter, "Ω")
    if not float(meter.leads):
        return words
    return f"{words}; {show_pm(float(meter.leads), float(meter.leads_uncertainty), 'Ω')} of leads taken off"


def _wires(paper: Certificate) -> Table:
    rows = tuple((w.name, w.start, w.stop, _read(w), _bounds(w), _chance(w), w.verdict or "not read")
                 for w in paper.results.wires)  # fmt: skip
    header = ("wire", "from", "to", "reading", "a good one lies in", "within bounds", "verdict")
    note = "± is one standard uncertainty, of the meter and its leads."
    return table("Wires from end to end", header, rows, (3, 4, 5), note)


def _read(wire: PaperWire) -> str:
    if not wire.resistance:
        return "no path" if wire.verdict else "–"
    return show_pm(float(wire.resistance), float(wire.standard_uncertainty or 0), "Ω")


def _bounds(wire: PaperWire) -> str:
    return show_interval(float(wire.low), float(wire.high), "Ω")


def _chance(wire: PaperWire) -> str:
    return show_percent(float(wire.probability_within)) if wire.probability_within else "–"


def _faults(paper: Certificate) -> tuple[Block, ...]:
    results = paper.results
    told = [fault.words for fault in results.faults]
    told += [f"{capital(wire)} stands out among its fellows." for wire in results.stands_out]
    if told:
        return (Bullets(tuple(told)),)
    left = int(results.pairs_left)
    words = f"Of {results.nets} nets any two could touch: {results.pairs} pairs, "
    return (Paragraph(f"{words}{'all ruled out' if not left else f'{left} not ruled out'}."),)
