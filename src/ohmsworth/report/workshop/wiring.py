"""The pages of an order that lie beside the one who terminates: each cable drawn from contact to contact, and its wires."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.cautions import SOLDERING
from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.report.cable_figures import cable_figure
from ohmsworth.report.cable_pages import wiring_table
from ohmsworth.report.document import Block, Bullets, Paragraph, Section
from ohmsworth.report.words import count
from ohmsworth.report.workshop.answer import OrderedAnswer

#: Cables that are drawn; the others stand in their own reports.
MOST_DRAWN = 6


def wiring_section(ordered: Sequence[OrderedAnswer], wired: Sequence[CableAnswer]) -> Section:
    """Drawing and wiring list of the first cables; `wired` are the cables of the order one by one."""
    blocks: list[Block] = [Bullets((SOLDERING,), tone="caution")]
    for number, (cable, answer) in enumerate(zip(ordered, wired, strict=True), start=1):
        if number > MOST_DRAWN:
            break
        blocks.append(cable_figure(answer, f"wiring-{number}", cable.name))
        blocks.append(wiring_table(answer, f"Wiring of {cable.name}"))
    left = len(ordered) - MOST_DRAWN
    if left > 0:
        blocks.append(Paragraph(f"{count(left, 'more cable')}: the wiring stands in the cable's own report."))
    return Section("How it is wired", tuple(blocks), own_page=True)
