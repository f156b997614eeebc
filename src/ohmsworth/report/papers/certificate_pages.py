"""A certificate's pages: who, what, when and the result first; every wire; the readings as taken; how to check it."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.report.cable_answer import LOOK, WRONG
from ohmsworth.report.cable_words import length_words
from ohmsworth.report.document import (
    Block,
    Bullets,
    CodeFigure,
    Document,
    Headline,
    Paragraph,
    Section,
    Table,
    Tone,
)
from ohmsworth.report.papers.certificate import Certificate, PaperMeter, PaperWire
from ohmsworth.report.papers.certificate_words import (
    SHORT_DIGEST,
    cable_words,
    grouped_digest,
    heading,
    passed,
    seal_text,
)
from ohmsworth.report.tables import table
from ohmsworth.report.words import capital
from ohmsworth.units import show_interval, show_percent, show_pm, show_stated

_ICE = 273.15
_HOW_TO_CHECK = (
    (
        "The data of this paper, with the description of the cable and every reading, are a file of their own and stand inside "
        "this page as well. 'ohmsworth verify FILE' tells whether they are whole, whether the results follow from the readings, "
        "and whether the signature fits."
    ),
    (
        "The key printed here proves only that nothing changed since it was signed. Who signed is proven by the shop's public "
        "key, had from the shop itself: 'ohmsworth verify FILE --key SHOP.pub'."
    ),
    (
        "This is the shop's own statement about one cable on one day. Resistance at low voltage was measured: insulation and "
        "the safety of mains wiring are not judged here."
    ),
)
_NOT_RIGHT: dict[str, Tone] = {WRONG: "bad", LOOK: "mixed"}


def certificate_document(paper: Certificate) -> Document:
    """The whole paper."""
    sections = (
        Section("Result", _first_page(paper)),
        Section("Every wire", (_wires(paper), *_faults(paper), Paragraph(paper.results.rule)), own_page=True),
        Section("Readings as taken", (_readings(paper),)),
        Section("How to check this paper", _check(paper)),
    )
    footer = f"{heading(paper)}, {cable_words(paper)}. SHA-256 {paper.digest[:SHORT_DIGEST]}…"
    issued_by = ", ".join(part for part in (paper.shop, paper.address) if part)
    return Document(heading(paper), f"Issued by {issued_by} on {paper.issued[:10]}.", "en", footer, sections)


def certificate_summary(paper: Certificate) -> Document:
    """What fits a terminal."""
    blocks = tuple(block for block in _first_page(paper) if not isinstance(block, CodeFigure))
    digest = Paragraph(f"SHA-256 {grouped_digest(paper.digest)}")
    return Document(heading(paper), "", "en", "", (Section("Result", (*blocks, digest)),))


def _first_page(paper: Certificate) -> tuple[Block, ...]:
    good = passed(paper)
    tone: Tone = "good" if good else _NOT_RIGHT.get(paper.results.verdict, "open")
    verdict = "passed" if good else f"not passed: {paper.results.verdict}"
    blocks: list[Block] = [Headline(paper.results.sentence, tone, verdict)]
    if not good:
        words = "This is a test report and no certificate: the cable did not pass."
        blocks.append(Paragraph(words, "warning"))
    if paper.supersedes.number:
        old = paper.supersedes
        words = (
            f"This paper takes the place of number {old.number} (SHA-256 {old.digest[:SHORT_DIGEST]}…), which no longer holds. "
            f"Why: {old.reason}"
        )
        blocks.append(Paragraph(words, "warning"))
    return (
        *blocks,
        _particulars(paper),
        _instrument(paper.meter),
        _seal(paper),
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
    told = []
    if float(meter.gain):
        told.append(f"{100 * float(meter.gain):.4g} % of reading")
    if float(meter.counts):
        told.append(f"{float(meter.counts):g} counts of {show_stated(float(meter.resolution), 'Ω')}")
    if meter.stated_uncertainty:
        told.append(f"standard uncertainty {show_stated(float(meter.stated_uncertainty), 'Ω')}")
    words = " + ".join(told) or f"half a count of {show_stated(float(meter.resolution), 'Ω')}"
    if not float(meter.leads):
        return words
    return f"{words}; {show_pm(float(meter.leads), float(meter.leads_uncertainty), 'Ω')} of leads taken off"


def _seal(paper: Certificate) -> CodeFigure:
    lines = (
        heading(paper),
        f"serial {paper.cable.serial}",
        f"SHA-256 {grouped_digest(paper.digest[: 2 * SHORT_DIGEST])}",
        grouped_digest(paper.digest[2 * SHORT_DIGEST :]),
    )
    content = seal_text(paper, paper.digest)
    return CodeFigure(
        "seal",
        f"A code that a telephone reads: {content}.",
        "Number, result, serial and the beginning of the digest.",
        content,
        lines,
    )


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


def _readings(paper: Certificate) -> Table:
    rows = tuple(
        (str(k), line) for k, line in enumerate(paper.readings.splitlines(), start=1) if line.strip()
    )
    made = table("Every line of test.csv, as it was written", ("line", "from, to, reading"), rows, (0,))
    return replace(made, small=True)


def _check(paper: Certificate) -> tuple[Block, ...]:
    seal = (
        ("digest (SHA-256)", grouped_digest(paper.digest)),
        ("public key of the shop", paper.signature.public_key),
        (f"signature ({paper.signature.algorithm})", " ".join(_cut(paper.signature.value, 44))),
        ("made with", paper.made_with),
    )
    return (table("Seal", ("what", "value"), seal), Bullets(_HOW_TO_CHECK))


def _cut(text: str, width: int) -> list[str]:
    return [text[k : k + width] for k in range(0, len(text), width)]
