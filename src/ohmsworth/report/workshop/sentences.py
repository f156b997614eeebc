"""What is said of an order: one sentence, the findings below it, how it was found."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ohmsworth.cables.request import ALLOWANCE, CableRequest
from ohmsworth.report.words import count, listed
from ohmsworth.report.workshop.answer import (
    ENOUGH,
    EstimateAnswer,
    PriceLineAnswer,
    StockAnswer,
    WorkshopAnswer,
)
from ohmsworth.report.workshop.words import amount, metres, piece_words, share
from ohmsworth.units import show_stated

#: Pieces of the same finding that are told; the rest stand in the table.
_TOLD = 6
#: How pieces, plan and price are found.
_CUT = (
    "A piece is cut as long as its wire is in the finished cable, with the allowance for both its ends and, where one is "
    "stated, the tolerance of the length; rounded up to a millimetre. Reels are rounded down."
)
_JOINTS = (
    "A cable with joints is cut in its sections, each with its share of the length's tolerance, and an allowance on either "
    "side of a joint."
)
_WHOLE = "A cable that is bought whole is cut once, to the longest of its cores."
_ORDER = (
    "Cut so that as little as can be is missing, then as little is scrap, then as few reels are begun. Pieces are never spliced. "
    "A rest is no scrap from the useful length of its reel on; where none is stated, from the shortest piece of the same wire "
    "on."
)
_PROOF = (
    "The plan is searched for until it is proven that none is better, or until the time is up: then what no plan can be below is "
    "told beside it."
)
_MONEY = (
    "Money is computed in decimal numbers. Each line is rounded once, half away from zero as in commerce, and sums are those of "
    "the rounded lines. Surcharge on parts and wire, tax on the whole."
)
_STEPS = (
    "A termination is one end of a wire, or a link; a joint is one wire joined at one place; a measurement is one line of the "
    "test sheet. Times are the shop's own."
)


def workshop_sentence(answer: WorkshopAnswer) -> str:
    """The answer in one sentence, or two."""
    return f"{_stock_sentence(answer)} {_price_sentence(answer.estimate)}".strip()


def _stock_sentence(answer: WorkshopAnswer) -> str:
    copies = count(sum(cable.quantity for cable in answer.cables), "cable")
    pieces = count(sum(stock.pieces for stock in answer.stocks), "piece")
    if answer.verdict is None:
        needed = [f"{metres(stock.needed)} of '{stock.stock}'" for stock in answer.stocks]
        return f"{copies} {_verb(copies, 'needs', 'need')} {pieces}: {listed(needed)}."
    if answer.verdict == ENOUGH:
        reels = count(sum(len(stock.reels or ()) for stock in answer.stocks), "reel")
        return f"The {pieces} for {copies} can be cut from {reels} in stock; {_scrap(answer)}."
    missing = [f"{metres(s.missing_length or 0.0)} of '{s.stock}'" for s in answer.stocks if s.missing]
    are = "is" if len(missing) == 1 else "are"
    return f"There is not enough in stock for {copies}: {listed(missing)} {are} missing."


def _verb(counted: str, one: str, several: str) -> str:
    return one if counted.startswith("1 ") else several


def _scrap(answer: WorkshopAnswer) -> str:
    scrap = sum(stock.scrap or 0.0 for stock in answer.stocks)
    if not scrap:
        return "nothing is scrap"
    used_up = scrap + sum(stock.needed for stock in answer.stocks)
    return f"{metres(scrap)} is scrap, {share(scrap / used_up)} of what is used up"


def _price_sentence(estimate: EstimateAnswer | None) -> str:
    if estimate is None:
        return ""
    total = amount(estimate.total, estimate.currency)
    with_tax = estimate.total_with_tax
    taxed = f", {amount(with_tax, estimate.currency)} with it" if with_tax is not None else ""
    if estimate.complete:
        return f"It comes to {total} without tax{taxed}."
    lacking = count(sum(line.amount is None for line in estimate.lines), "line")
    have = _verb(lacking, "has", "have")
    return f"What has a price comes to {total} without tax{taxed}. That is not the whole: {lacking} {have} no price."


def missing_words(stock: StockAnswer) -> str:
    """What to get of a wire."""
    room = "in one length, or in several that hold the pieces named above"
    return f"{metres(stock.missing_length or 0.0)} of '{stock.stock}', {room}"


def workshop_findings(answer: WorkshopAnswer, requests: Sequence[CableRequest]) -> tuple[str, ...]:
    """What stands below the sentence."""
    found: list[str] = []
    for stock in answer.stocks:
        found += _of_stock(stock)
    for cable in answer.cables:
        if cable.unnamed_ends:
            ends = listed([f"'{end}'" for end in cable.unnamed_ends])
            found.append(f"No connector is stated for {ends} of {cable.name}: none is counted there.")
    found += [_tolerance(request) for request in requests if request.build.length_tolerance]
    usual = sorted({end for request in requests for end in _by_practice(request)})
    if usual:
        told = show_stated(ALLOWANCE, "m")
        found.append(f"No allowance is stated for {listed(usual)}: {told} each, by common practice.")
    if answer.estimate is not None:
        found += _of_price(answer.estimate)
    if answer.unused_reels:
        names = listed([f"'{name}'" for name in answer.unused_reels])
        found.append(f"In stock and not asked for by this order: {names}.")
    if answer.unused:
        found.append(f"Columns that are not used: {listed(list(answer.unused))}.")
    return tuple(found)


def _of_stock(stock: StockAnswer) -> list[str]:
    found = []
    if stock.missing:
        told = [piece_words(cut) for cut in stock.missing[:_TOLD]]
        if len(stock.missing) > _TOLD:
            told.append(f"{len(stock.missing) - _TOLD} lines more")
        found.append(f"No reel of '{stock.stock}' has room for {'; '.join(told)}.")
    if stock.proven is False and stock.least is not None:
        missing, scrap, reels = stock.least
        least = f"{metres(scrap)} of scrap and {count(reels, 'reel')}"
        if stock.missing:
            least = f"{metres(missing)} missing, {least}"
        found.append(
            f"The plan for '{stock.stock}' is good, and not proven to be the best: it has {_score(stock)}, and no plan has less "
            f"than {least}. More time for the solver may find a better one."
        )
    return found


def _score(stock: StockAnswer) -> str:
    told = f"{metres(stock.scrap or 0.0)} of scrap and {count(len(stock.reels or ()), 'reel')}"
    return f"{metres(stock.missing_length or 0.0)} missing, {told}" if stock.missing else told


def _tolerance(request: CableRequest) -> str:
    told = show_stated(request.build.length_tolerance, "m")
    return (
        f"Pieces of {request.build.name} are cut longer by the tolerance of its length ({told}), beyond the allowances: what is "
        "too long can be trimmed."
    )


def _by_practice(request: CableRequest) -> Iterable[str]:
    """Ends and joints of which nobody said what is cut for them."""
    name = request.build.name
    yield from (f"end '{e.name}' of {name}" for e in request.build.ends if e.name not in request.allowances)
    if request.joints and request.supply.joint_allowance is None:
        yield f"the joints of {name}"


def _of_price(estimate: EstimateAnswer) -> list[str]:
    found = []
    unpriced = [line for line in estimate.lines if line.group != "labour" and line.amount is None]
    if unpriced:
        names = "; ".join(dict.fromkeys(_named(line) for line in unpriced))
        found.append(f"No price stated: {names}.")
    untimed = [line.name for line in estimate.lines if line.group == "labour" and line.each is None]
    if untimed:
        found.append(f"No time stated: minutes for each {listed(untimed)}.")
    if estimate.hourly_rate is None and any(line.group == "labour" for line in estimate.lines):
        found.append("No hourly rate stated: labour has no price.")
    if estimate.tax is None:
        found.append("No tax stated: none is added.")
    return found


def _named(line: PriceLineAnswer) -> str:
    return f"'{line.name}' (did you mean '{line.nearest}'?)" if line.nearest else f"'{line.name}'"


def workshop_method(answer: WorkshopAnswer, requests: Sequence[CableRequest]) -> tuple[str, ...]:
    """How it was found."""
    method = [_CUT]
    if any(request.joints for request in requests):
        method.append(_JOINTS)
    if any(cable.bulk for cable in answer.cables):
        method.append(_WHOLE)
    if answer.verdict is not None:
        method += [_ORDER, _PROOF]
    if answer.estimate is not None:
        method += [_MONEY, _STEPS]
    return tuple(method)
