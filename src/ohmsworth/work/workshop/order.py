"""The use case of an order in the workshop: what to cut from which reel, what to have ready, what it costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ohmsworth.advice.actions import Action
from ohmsworth.advice.workshop import build_and_test, buy_first, cut_pieces, keep_rests
from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.supply import MOST_COPIES
from ohmsworth.cables.workshop.allotted import Allotment, allot
from ohmsworth.cables.workshop.cutting import SECONDS, CutReel, CuttingPlan, Reel, plan_cuts
from ohmsworth.cables.workshop.needs import needs_of
from ohmsworth.cables.workshop.pieces import Pieces, cut_list
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.answer import ActionAnswer, SourceAnswer
from ohmsworth.report.document import Document
from ohmsworth.report.workshop.answer import (
    ENOUGH,
    FORMAT,
    TOO_LITTLE,
    OrderedAnswer,
    PiecesAnswer,
    ReelAnswer,
    ReelCutAnswer,
    StockAnswer,
    WorkshopAnswer,
)
from ohmsworth.report.workshop.pages import workshop_report, workshop_summary
from ohmsworth.report.workshop.sentences import (
    missing_words,
    workshop_findings,
    workshop_method,
    workshop_sentence,
)
from ohmsworth.sources import source
from ohmsworth.work.cable_study import cable_ahead
from ohmsworth.work.workshop.loaded import LoadedWorkshop, OrderedCable
from ohmsworth.work.workshop.price import priced


@dataclass(frozen=True, slots=True)
class ToldWorkshop:
    """An answer with its report and what of it fits a terminal."""

    answer: WorkshopAnswer
    report: Document
    summary: Document


def report_workshop(
    loaded: LoadedWorkshop, quantity: int | None = None, seconds: float = SECONDS
) -> ToldWorkshop:
    """The answer about an order, and its report."""
    answer = workshop_order(loaded, quantity, seconds)
    # Faults whose distance was measured are no part of what is built.
    wired = [cable_ahead(replace(one.request, locate=())).answer for one in loaded.cables]
    return ToldWorkshop(answer, workshop_report(answer, wired), workshop_summary(answer))


def workshop_order(
    loaded: LoadedWorkshop, quantity: int | None = None, seconds: float = SECONDS
) -> WorkshopAnswer:
    """What an order needs before it is built.

    Parameters
    ----------
    loaded
        Cables, reels and prices.
    quantity
        Copies of every cable, whatever its description says; None for what that says.
    seconds
        For the solver, each wire.

    Raises
    ------
    ArgumentFault
        For no cable, or a quantity or seconds that cannot be.
    """
    if not loaded.cables:
        raise ArgumentFault("cables", 0, "one or more")
    if quantity is not None and not 1 <= quantity <= MOST_COPIES:
        raise ArgumentFault("quantity", quantity, f"1 to {MOST_COPIES}")
    if not seconds > 0:
        raise ArgumentFault("seconds", seconds, "more than zero")
    requests = _requests(loaded.cables, quantity)
    pieces = tuple(line for request in requests for line in cut_list(request))
    stocks = tuple(_stock(name, pieces, loaded.reels, seconds) for name in _names(pieces))
    needs = needs_of(requests)
    asked = {stock.stock for stock in stocks}
    answer = WorkshopAnswer(
        format=FORMAT,
        sentence="",
        verdict=_verdict(stocks),
        findings=(),
        cables=tuple(_ordered(request, needs.unnamed) for request in requests),
        pieces=tuple(_pieces(line) for line in pieces),
        stocks=stocks,
        parts=tuple(needs.parts.items()),
        steps=tuple(needs.steps.items()),
        estimate=None if loaded.prices is None else priced(loaded.prices, pieces, stocks, needs),
        unused_reels=tuple(dict.fromkeys(r.stock for r in loaded.reels or () if r.stock not in asked)),
        unused=loaded.unused,
        actions=(),
        method=(),
        sources=_sources(loaded.reels is not None),
    )
    actions = tuple(ActionAnswer(a.words, a.why, a.cautions) for a in _actions(answer))
    answer = replace(answer, actions=actions, method=workshop_method(answer, requests))
    return replace(answer, sentence=workshop_sentence(answer), findings=workshop_findings(answer, requests))


def _requests(cables: Sequence[OrderedCable], quantity: int | None) -> tuple[CableRequest, ...]:
    """The cables, each under a name that no other has, in as many copies as are wanted."""
    names = [f"{one.request.build.name} {one.request.serial}".strip() for one in cables]
    often = Counter(names)
    found = []
    for one, name in zip(cables, names, strict=True):
        request, called = one.request, name if often[name] == 1 else f"{name} ({one.folder})"
        supply = request.supply if quantity is None else replace(request.supply, quantity=quantity)
        found.append(replace(request, build=replace(request.build, name=called), supply=supply))
    return tuple(found)


def _names(pieces: Sequence[Pieces]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(line.stock for line in pieces))


def _ordered(request: CableRequest, unnamed: Sequence[tuple[str, str]]) -> OrderedAnswer:
    build, supply = request.build, request.supply
    ends = tuple(end for cable, end in unnamed if cable == build.name)
    return OrderedAnswer(build.name, supply.quantity, build.length, build.length_tolerance, supply.bulk, ends)


def _pieces(line: Pieces) -> PiecesAnswer:
    return PiecesAnswer(
        line.stock, line.cable, line.what, line.wires, line.section, line.number, line.finished, line.allowance,
        line.tolerance, line.millimetres / 1000,
    )  # fmt: skip


def _stock(name: str, pieces: Sequence[Pieces], reels: Sequence[Reel] | None, seconds: float) -> StockAnswer:
    """One wire: what is needed of it, and the plan where there are reels."""
    own = [line for line in pieces if line.stock == name]
    needed, number = sum(line.number * line.millimetres for line in own), sum(line.number for line in own)
    if reels is None:
        return StockAnswer(name, needed / 1000, number)
    wanted: Counter[int] = Counter()
    for line in own:
        wanted[line.millimetres] += line.number
    plan = plan_cuts(name, wanted, reels, seconds)
    allotted = allot(plan, pieces)
    missing, scrap, _ = plan.score
    used_up = needed - missing + scrap
    return StockAnswer(
        stock=name,
        needed=needed / 1000,
        pieces=number,
        in_stock=sum(reel.millimetres for reel in reels if reel.stock == name) / 1000,
        reels=tuple(_reel(one, cuts, plan) for one, cuts in zip(plan.reels, allotted.reels, strict=True)),
        missing=_cuts(allotted.missing),
        missing_length=missing / 1000,
        scrap=scrap / 1000,
        scrap_share=scrap / used_up if used_up else 0.0,
        proven=plan.proven,
        least=(plan.least[0] / 1000, plan.least[1] / 1000, plan.least[2]),
    )


def _reel(one: CutReel, cuts: Allotment, plan: CuttingPlan) -> ReelAnswer:
    stated = one.reel.useful is not None
    useful = one.reel.useful if one.reel.useful is not None else plan.useful
    return ReelAnswer(
        one.reel.name,
        one.reel.millimetres / 1000,
        useful / 1000,
        stated,
        _cuts(cuts),
        one.left / 1000,
        one.kept,
    )


def _cuts(allotment: Allotment) -> tuple[ReelCutAnswer, ...]:
    return tuple(
        ReelCutAnswer(number, line.millimetres / 1000, line.cable, line.what, line.section)
        for number, line in allotment
    )


def _verdict(stocks: Sequence[StockAnswer]) -> str | None:
    if any(stock.reels is None for stock in stocks):
        return None
    return TOO_LITTLE if any(stock.missing for stock in stocks) else ENOUGH


def _actions(answer: WorkshopAnswer) -> list[Action]:
    planned = answer.verdict is not None
    return [
        *buy_first([missing_words(stock) for stock in answer.stocks if stock.missing]),
        *cut_pieces(planned),
        *(keep_rests() if planned else []),
        *build_and_test(),
    ]


def _sources(planned: bool) -> tuple[SourceAnswer, ...]:
    keys = ("GilmoreGomory", "HuangfuHall", "practice") if planned else ("practice",)
    return tuple(SourceAnswer(s.key, s.citation, s.standing) for s in map(source, keys))
