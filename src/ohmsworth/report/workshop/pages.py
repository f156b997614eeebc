"""The report about an order: what is in stock first, the cut list, the plan reel by reel, parts and price, the method."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ohmsworth.advice.cautions import CUTTING
from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section, Table, Tone
from ohmsworth.report.step_blocks import step_blocks
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.words import count, listed
from ohmsworth.report.workshop.answer import (
    ENOUGH,
    TOO_LITTLE,
    EstimateAnswer,
    PiecesAnswer,
    PriceLineAnswer,
    ReelAnswer,
    StockAnswer,
    WorkshopAnswer,
)
from ohmsworth.report.workshop.figures import reels_figure
from ohmsworth.report.workshop.wiring import wiring_section
from ohmsworth.report.workshop.words import amount, metres, piece_words, share
from ohmsworth.units import show_stated

_TONES: dict[str, Tone] = {ENOUGH: "good", TOO_LITTLE: "bad"}
_GROUPS = {"part": "part", "wire": "wire, metre", "scrap": "scrap, metre", "labour": "labour"}
#: Names of wires in a line of the cut list, and lines that fit a terminal.
_NAMED, _MOST_TOLD = 4, 20


def workshop_report(answer: WorkshopAnswer, wired: Sequence[CableAnswer] = ()) -> Document:
    """The whole report; `wired` says of each cable of the order which wire goes where."""
    sections = [Section("The order", _first_page(answer))]
    sections.append(Section("What to cut", (_cautioned(), _cut_list(answer.pieces, len(answer.pieces)))))
    if answer.verdict is not None:
        plans = tuple(block for stock in answer.stocks for block in _plan(stock))
        sections.append(Section("From which reel", plans, own_page=True))
    sections.append(Section("Parts and work", _parts(answer), own_page=answer.estimate is not None))
    if wired:
        sections.append(wiring_section(answer.cables, wired))
    sections.append(Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))))
    return Document(_title(answer), "Before it is built", "en", _footer(answer), tuple(sections))


def workshop_summary(answer: WorkshopAnswer) -> Document:
    """What fits a terminal."""
    blocks = [*_first_page(answer, drawn=False), _cut_list(answer.pieces[:_MOST_TOLD], len(answer.pieces))]
    for stock in answer.stocks if answer.verdict is not None else ():
        blocks += _plan(stock)
    if answer.estimate is not None:
        blocks += _estimate(answer.estimate)
    return Document(_title(answer), "", "en", "", (Section("The order", tuple(blocks)),))


def _title(answer: WorkshopAnswer) -> str:
    return listed([f"{cable.quantity} × {cable.name}" for cable in answer.cables], 3)


def _footer(answer: WorkshopAnswer) -> str:
    asked = "Prices and times are the shop's own. " if answer.estimate is not None else ""
    return f"Made with Ohmsworth. {asked}Measure every piece before it is cut."


def _first_page(answer: WorkshopAnswer, drawn: bool = True) -> tuple[Block, ...]:
    tone: Tone = _TONES[answer.verdict] if answer.verdict else "plain"
    blocks: list[Block] = [Headline(answer.sentence, tone, answer.verdict or "")]
    if answer.findings:
        blocks.append(Bullets(answer.findings))
    figure = reels_figure(answer) if drawn else None
    if figure is not None:
        blocks.append(figure)
    return (*blocks, Paragraph("What to do:"), *step_blocks(answer.actions))


def _cautioned() -> Bullets:
    return Bullets((CUTTING,), tone="caution")


def _cut_list(pieces: Iterable[PiecesAnswer], whole: int) -> Table:
    rows = tuple(
        (
            line.stock,
            f"{line.cable}: {_what(line)}",
            str(line.number),
            metres(line.finished),
            show_stated(line.allowance, "m"),
            show_stated(line.tolerance, "m") if line.tolerance else "–",
            metres(line.cut),
        )
        for line in pieces
    )
    header = ("cut from", "for", "pieces", "finished", "for its ends", "tolerance", "cut each to")
    note = (
        f"{whole - len(rows)} more in the report and in the answer's data (JSON)."
        if len(rows) < whole
        else ""
    )
    return table("Cut list", header, rows, (2, 3, 4, 5, 6), note)


def _what(line: PiecesAnswer) -> str:
    section = f", section {line.section}" if line.section else ""
    names = f" ({listed(list(line.wires), _NAMED)})" if line.wires else ""
    return f"{line.what}{section}{names}"


def _plan(stock: StockAnswer) -> tuple[Block, ...]:
    """The reels of one wire, in the order in which they are cut."""
    rows = tuple(_reel(reel) for reel in stock.reels or ())
    scrap = f"Scrap: {metres(stock.scrap or 0.0)}, {share(stock.scrap_share or 0.0)} of what is used up."
    proof = "" if stock.proven else " Not proven to be the best plan."
    blocks: list[Block] = []
    if rows:
        header = ("reel", "has", "cut in this order", "left", "which is")
        blocks.append(table(f"Reels of {stock.stock}", header, rows, (1, 3), scrap + proof))
    if stock.missing:
        lines = tuple(piece_words(cut) for cut in stock.missing)
        blocks += [Paragraph(f"No reel of {stock.stock} has room for:", "warning"), Bullets(lines)]
    return tuple(blocks)


def _reel(reel: ReelAnswer) -> tuple[str, ...]:
    cuts = "; ".join(
        f"{cut.number} × {metres(cut.cut)} {cut.cable}{f', section {cut.section}' if cut.section else ''}"
        for cut in reel.cuts
    )
    rest = "kept" if reel.kept else f"scrap (useful from {show_stated(reel.useful, 'm')})"
    return reel.name, metres(reel.length), cuts, metres(reel.left), rest if reel.left else "–"


def _parts(answer: WorkshopAnswer) -> tuple[Block, ...]:
    needed = tuple((name, str(number)) for name, number in answer.parts)
    steps = tuple((name, str(number)) for name, number in answer.steps if number)
    blocks: list[Block] = [table("Parts", ("part", "number"), needed, (1,))] if needed else []
    blocks.append(table("Work", ("step", "number"), steps, (1,)))
    return (*blocks, *(_estimate(answer.estimate) if answer.estimate is not None else ()))


def _estimate(told: EstimateAnswer) -> tuple[Block, ...]:
    rows = [_price_line(line, told) for line in told.lines]
    sums = [("parts and wire", told.materials)]
    if told.surcharge is not None:
        sums.append((f"surcharge of {told.surcharge_percent} %", told.surcharge))
    sums += [("labour", told.labour), ("total without tax", told.total)]
    if told.tax is not None and told.total_with_tax is not None:
        sums += [(f"tax of {told.tax_percent} %", told.tax), ("total with tax", told.total_with_tax)]
    summed = tuple((name, amount(money, told.currency)) for name, money in sums)
    rate = "" if told.hourly_rate is None else f" at {amount(told.hourly_rate, told.currency)} an hour"
    note = f"Labour: {told.minutes:g} minutes{rate}."
    lacking = count(sum(line.amount is None for line in told.lines), "line")
    warning = (
        f"The total is not the whole: {lacking} without a price, not in any sum." if not told.complete else ""
    )
    header = ("what", "name", "number", "each", "sum")
    return (
        *([Paragraph(warning, "warning")] if warning else []),
        table("Every line", header, tuple(rows), (2, 3, 4), note),
        table("Sums", ("sum", "amount"), summed, (1,), warning),
    )


def _price_line(line: PriceLineAnswer, told: EstimateAnswer) -> tuple[str, ...]:
    labour = line.group == "labour"
    missing = "no time stated" if labour else "no price stated"
    each = f"{line.each} min" if labour else amount(line.each, told.currency)
    lacking = "no hourly rate" if labour and line.each is not None else missing
    return (
        _GROUPS[line.group],
        line.name,
        f"{line.number:g}" if line.group in ("part", "labour") else f"{line.number:.3f}",
        missing if line.each is None else each,
        lacking if line.amount is None else amount(line.amount, told.currency),
    )
