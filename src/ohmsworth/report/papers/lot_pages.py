"""The pages of a lot's certificate: the verdict, what was tested and how it was drawn; every piece; the plan; the readings."""

from __future__ import annotations

from ohmsworth.inference.lots.verdicts import ACCEPT, REJECT
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section, Table, Tone
from ohmsworth.report.lot_sentences import in_hundred, share_words
from ohmsworth.report.papers.certificate_words import passed, result_words
from ohmsworth.report.papers.lot_certificate import LotCertificate, PaperAir, PaperPiece
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
from ohmsworth.report.words import count
from ohmsworth.units import show, show_percent, show_pm, show_stated

_ICE = 273.15
_STATEMENT = (
    "This is the shop's own statement about one lot on one day: a sample was measured, and the plan's risks are those that "
    "stand here. Pieces that were not drawn were not measured."
)
_READS_IN = {"voltmeter": "V", "ammeter": "A", "ohmmeter": "Ω"}
_KINDS = {
    "single": "counting, one sample",
    "double": "counting, two samples",
    "variables": "measuring (mean and scatter)",
}


def lot_paper_document(paper: LotCertificate) -> Document:
    """The whole paper."""
    header = paper.readings.partition("\n")[0].strip()
    files = [lines_table("readings.csv", "as in its first line", paper.readings)] if header else []
    files += [lines_table(one.name, "text", one.text) for one in paper.others]
    return sealed_document(
        paper,
        (
            Section("Result", _first_page(paper)),
            Section("Every piece that was drawn", _pieces(paper), own_page=True),
            Section("How it was decided", _decided(paper)),
            Section("Readings as taken", tuple(files)),
            Section("How to check this paper", check_blocks(paper, "the text of the study", _STATEMENT)),
        ),
    )


def lot_paper_summary(paper: LotCertificate) -> Document:
    """What fits a terminal."""
    return sealed_summary(paper, _first_page(paper))


def _first_page(paper: LotCertificate) -> tuple[Block, ...]:
    results, good = paper.results, passed(paper)
    tone: Tone = "good" if good else "bad" if results.verdict == REJECT else "open"
    told = result_words(paper)
    if not good:
        told = f"{told}: {_why_not(paper)}"
    blocks: list[Block] = [Headline(results.sentence, tone, told)]
    if not good:
        words = "This is a test report and no certificate: the lot was not accepted."
        blocks.append(Paragraph(words, "warning"))
    return (
        *blocks,
        *superseded_words(paper),
        _particulars(paper),
        _meters(paper),
        seal_figure(paper),
        Bullets(results.findings),
    )


def _why_not(paper: LotCertificate) -> str:
    results = paper.results
    if results.verdict != ACCEPT:
        return "rejected" if results.verdict == REJECT else results.verdict
    return "the bench is in doubt" if results.bench_in_doubt == "yes" else "inspection is discontinued"


def _particulars(paper: LotCertificate) -> Table:
    lot, limit = paper.lot, show_stated(float(paper.limit.resistance), "Ω")
    source = f" (source: {paper.limit.source})" if paper.limit.source else ""
    facts = (
        ("lot", lot.name),
        ("number of the lot", lot.number),
        ("size", count(int(lot.size), "piece") if lot.size else ""),
        ("drawn and measured", count(int(paper.results.measured), "piece")),
        ("how they were drawn", lot.drawn),
        ("limit", f"{limit}{source}"),
        ("customer", paper.customer),
        ("tested on", paper.tested),
        ("tested by", paper.tested_by),
        ("temperature", _degrees(paper.temperature)),
    )
    return table(
        "What was tested", ("what", "as stated"), tuple((what, told) for what, told in facts if told)
    )


def _degrees(air: PaperAir) -> str:
    """What is stated of the temperature; the readings' own comes first."""
    if air.low:
        low, high = (f"{float(end) - _ICE:.3g} °C" for end in (air.low, air.high))
        return low if low == high else f"{low} to {high}, stated with the readings"
    return f"{float(air.stated) - _ICE:.3g} °C" if air.stated else "not stated"


def _meters(paper: LotCertificate) -> Table:
    rows = tuple(
        (
            meter.role,
            f"{meter.name or 'not stated'}{f', serial {meter.serial}' if meter.serial else ''}",
            accuracy_words(meter, _READS_IN[meter.role]) if meter.gain else "not stated",
            meter.calibrated or "not stated",
        )
        for meter in paper.meters
        if meter.role in _READS_IN
    )
    return table("Meters", ("used as", "meter", "accuracy", "last calibrated"), rows)


def _pieces(paper: LotCertificate) -> tuple[Block, ...]:
    results = paper.results
    rows = tuple(
        (one.piece, one.resistances, _read(one), _chance(one), one.verdict or "–") for one in results.pieces
    )
    header = ("piece", "resistances", "resistance", "within limit", "verdict")
    note = (
        "± is one standard uncertainty. A piece stands here by its worst contact; 'resistances' counts those formed of its "
        "readings."
    )
    blocks: list[Block] = [table("Pieces", header, rows, (1, 2, 3), note)]
    if results.left_out:
        left = tuple((one.row, one.reason or "no reason stated") for one in results.left_out)
        blocks.append(table("Rows of readings.csv that do not count", ("line", "why"), left, (0,)))
    if results.warnings:
        blocks += [Paragraph("Warnings about the readings:"), Bullets(results.warnings, tone="warning")]
    return tuple(blocks)


def _read(one: PaperPiece) -> str:
    if not one.standard_uncertainty:
        return f"{show(float(one.resistance), 'Ω')} ± not known"
    return show_pm(float(one.resistance), float(one.standard_uncertainty), "Ω")


def _chance(one: PaperPiece) -> str:
    return show_percent(float(one.probability_within)) if one.probability_within else "–"


def _decided(paper: LotCertificate) -> tuple[Block, ...]:
    plan = paper.plan
    good, bad = share_words(float(plan.acceptable)), share_words(float(plan.rejectable))
    rows = [
        ("inspection", f"{plan.inspection}, by the record of {count(int(plan.lots_before), 'lot')}"),
        ("acceptable share over the limit", good),
        ("rejectable share over the limit", bad),
        ("producer's risk asked for", share_words(float(plan.producer_risk))),
        ("consumer's risk asked for", share_words(float(plan.consumer_risk))),
    ]
    if plan.kind:
        rows = [
            ("kind of plan", _KINDS.get(plan.kind, plan.kind)),
            ("plan", plan.words),
            *rows,
            (f"accepts a lot with {good} over", in_hundred(float(plan.accepts_acceptable))),
            (f"accepts a lot with {bad} over", in_hundred(float(plan.accepts_rejectable))),
        ]
    return (table("The sampling plan", ("what", "value"), tuple(rows)), Bullets(paper.results.rule))
