"""The picture of a cutting plan: reels with the pieces that are cut from them."""

from __future__ import annotations

from ohmsworth.report.document import ReelBar, ReelFigure, ReelPiece
from ohmsworth.report.words import count
from ohmsworth.report.workshop.answer import ReelAnswer, WorkshopAnswer
from ohmsworth.report.workshop.words import metres

#: Reels that are drawn; the others stand in the table.
_MOST = 30


def reels_figure(answer: WorkshopAnswer) -> ReelFigure | None:
    """The reels that are cut; None where there is no plan, or nothing in it."""
    bars = [_bar(stock.stock, reel) for stock in answer.stocks for reel in stock.reels or ()]
    if not bars:
        return None
    shown = bars[:_MOST]
    left = f" {count(len(bars) - len(shown), 'more reel')} in the table." if len(bars) > len(shown) else ""
    told = "; ".join(
        f"{bar.group}, {bar.name}: {count(sum(p.number for p in bar.pieces), 'piece')}, {metres(bar.left)} "
        f"{'left' if bar.kept else 'scrap'}"
        for bar in shown
    )
    return ReelFigure(
        "reels",
        f"{count(len(shown), 'reel')}. {told}.",
        "Reels and the pieces to cut from them, in metres, from the left. Each wire has a scale of its own. An open end "
        f"stays in stock, a crossed one is scrap.{left}",
        tuple(shown),
    )


def _bar(stock: str, reel: ReelAnswer) -> ReelBar:
    pieces = tuple(ReelPiece(cut.number, cut.cut, f"{cut.cable}: {cut.what}") for cut in reel.cuts)
    return ReelBar(stock, reel.name, reel.length, pieces, reel.left, reel.kept)
