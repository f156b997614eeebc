"""What is in stock after an order was cut by its plan: rests that are worth keeping, and no scrap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256

from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.workshop.answer import WorkshopAnswer
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.shop import Shop
from ohmsworth.work.workshop.lists import read_lists
from ohmsworth.work.workshop.writing import write_list

#: Letters of the reason that tells what was cut.
_TOLD = 400


def plan_mark(answer: WorkshopAnswer) -> str:
    """Letters that stand for what is cut from which reel: another plan has others."""
    cuts = [
        (stock.stock, reel.name, reel.length, reel.left, reel.kept)
        for stock in answer.stocks
        for reel in stock.reels or ()
    ]
    return sha256(repr(cuts).encode()).hexdigest()[:24]


def reels_after(reels: Sequence[Reel], answer: WorkshopAnswer) -> tuple[Reel, ...]:
    """The reels in their order, those that were cut with what is left on them; what is scrap or used up is gone.

    Examples
    --------
    A plan that cuts nothing leaves every reel as it was; see the tests for one that does.
    """
    cut = {(stock.stock, reel.name): reel for stock in answer.stocks for reel in stock.reels or ()}
    left = []
    for reel in reels:
        one = cut.get((reel.stock, reel.name))
        if one is None:
            left.append(reel)
        elif one.kept and (millimetres := round(one.left * 1000)):
            left.append(replace(reel, millimetres=millimetres))
    return tuple(left)


def write_cut(shop: Shop, answer: WorkshopAnswer, mark: str, sending: Sending) -> None:
    """Write what is left on the reels into the records' list, after the plan of `mark` was cut.

    Raises
    ------
    InputRefused
        Where another plan than this one stands there by now: the reels were changed in between.
    """
    lists = read_lists(shop.records)
    if any(line.key == sending.key for line in lists.reels.lines):
        return
    if plan_mark(answer) != mark or answer.verdict is None:
        found, mend = (
            "another plan by now",
            "The reels were changed, or the plan was found anew: write what is left by hand.",
        )
        raise InputRefused((Fault("the plan", found, "the plan that was cut", mend),))
    left = reels_after(shop.workshop.reels(lists.reels.text).reels, answer)
    text = shop.workshop.reels_csv(left) if left else ""
    cables = ", ".join(f"{cable.quantity} × {cable.name}" for cable in answer.cables)
    told = cables if len(cables) <= _TOLD else f"{cables[:_TOLD]} …"
    write_list(shop, "reels", text, lists.reels.written, f"cut for {told}", sending)
