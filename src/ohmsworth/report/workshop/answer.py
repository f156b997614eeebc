"""The answer about an order in the workshop as plain records: what other programs read, and what its report is written from.

Lengths are in metre, times in minutes. Money is text with every digit, such as "12.30", for no binary number holds it. None
stands for "not asked" or "not known". The field names are a published format: adding one is free, changing or removing one
makes a new version.
"""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.answer import ActionAnswer, SourceAnswer

FORMAT = "ohmsworth workshop 1"
ENOUGH, TOO_LITTLE = "enough in stock", "not enough in stock"


@dataclass(frozen=True, slots=True)
class OrderedAnswer:
    """A cable of the order: how many copies, how long, and the ends whose connector is not stated."""

    name: str
    quantity: int
    length: float
    length_tolerance: float
    bulk: str
    unnamed_ends: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PiecesAnswer:
    """Pieces of one length: what they are cut from, for which cable and what in it, `number` for all copies together.

    `section` counts from the first end between joints, 0 where there are none. `cut` is what each is cut to: `finished` with
    the `allowance` for both its ends and the `tolerance` of the length, rounded up to a millimetre.
    """

    stock: str
    cable: str
    what: str
    wires: tuple[str, ...]
    section: int
    number: int
    finished: float
    allowance: float
    tolerance: float
    cut: float


@dataclass(frozen=True, slots=True)
class ReelCutAnswer:
    """So many pieces of one length for one cable, cut one after the other."""

    number: int
    cut: float
    cable: str
    what: str
    section: int


@dataclass(frozen=True, slots=True)
class ReelAnswer:
    """A reel that is cut: its pieces in order, what is `left`, and whether that is `kept` or scrap."""

    name: str
    length: float
    useful: float
    useful_stated: bool
    cuts: tuple[ReelCutAnswer, ...]
    left: float
    kept: bool


@dataclass(frozen=True, slots=True)
class StockAnswer:
    """A wire, or a bought cable: how much is needed, and from which reels it is cut.

    `reels` and what follows are None where no reels were named. `missing` are pieces that no reel has room for, `missing_length`
    what they make together, and `scrap_share` the scrap in what is cut off or thrown away. Where the plan is not `proven`, no
    plan has less missing, less scrap and fewer reels than the three of `least`, in this order.
    """

    stock: str
    needed: float
    pieces: int
    in_stock: float | None = None
    reels: tuple[ReelAnswer, ...] | None = None
    missing: tuple[ReelCutAnswer, ...] | None = None
    missing_length: float | None = None
    scrap: float | None = None
    scrap_share: float | None = None
    proven: bool | None = None
    least: tuple[float, float, int] | None = None


@dataclass(frozen=True, slots=True)
class PriceLineAnswer:
    """A line: `group` is "part", "wire", "scrap" or "labour"; `each` is money, of labour minutes; None where not stated.

    `nearest` is a name of the price list that is like one without a price, or "".
    """

    group: str
    name: str
    number: float
    each: str | None
    minutes: float | None
    amount: str | None
    nearest: str


@dataclass(frozen=True, slots=True)
class EstimateAnswer:
    """What the order costs. Where it is not `complete`, lines without an amount are not in any sum."""

    currency: str
    complete: bool
    lines: tuple[PriceLineAnswer, ...]
    materials: str
    surcharge_percent: str | None
    surcharge: str | None
    minutes: float
    hourly_rate: str | None
    labour: str
    total: str
    tax_percent: str | None
    tax: str | None
    total_with_tax: str | None


@dataclass(frozen=True, slots=True)
class WorkshopAnswer:
    """Everything said of one order; `verdict` is "enough in stock", "not enough in stock", or None where no reels were named.

    `parts` and `steps` are what is needed beside wire, each with its number; `unused_reels` are wires in stock that the order
    does not ask for, `unused` headings of the reels that are not used.
    """

    format: str
    sentence: str
    verdict: str | None
    findings: tuple[str, ...]
    cables: tuple[OrderedAnswer, ...]
    pieces: tuple[PiecesAnswer, ...]
    stocks: tuple[StockAnswer, ...]
    parts: tuple[tuple[str, int], ...]
    steps: tuple[tuple[str, int], ...]
    estimate: EstimateAnswer | None
    unused_reels: tuple[str, ...]
    unused: tuple[str, ...]
    actions: tuple[ActionAnswer, ...]
    method: tuple[str, ...]
    sources: tuple[SourceAnswer, ...]
