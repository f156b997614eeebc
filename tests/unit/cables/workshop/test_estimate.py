"""Money by hand: decimal, rounded line by line as in commerce, and never low without saying so."""

from __future__ import annotations

from decimal import Decimal as D

import pytest

from ohmsworth.cables.workshop import Prices, estimate
from ohmsworth.cables.workshop.estimate import rounded

PRICES = Prices(
    "€",
    parts={"plug": D("4.20"), "label": D("0.125")},
    wires={"strand": D("0.333")},
    minutes={"termination": D("2.5")},
    hourly_rate=D("47"),
    surcharge=D("15"),
    tax=D("19"),
)


def test_an_order_by_hand() -> None:
    found = estimate(
        PRICES, {"plug": 3, "label": 1}, {"strand": 12345}, {"strand": 500}, {"termination": 7, "joint": 0}
    )
    # 12.60; 0.125 -> 0.13; 12.345 m at 0.333 -> 4.110885 -> 4.11; 0.5 m -> 0.1665 -> 0.17; 17.5 min at 47 -> 13.7083 -> 13.71
    assert [str(line.amount) for line in found.lines] == ["12.60", "0.13", "4.11", "0.17", "13.71"]
    assert [line.group for line in found.lines] == ["part", "part", "wire", "scrap", "labour"]
    assert found.materials == D("17.01")
    assert found.surcharge == D("2.55")  # 2.5515
    assert (found.minutes, found.labour) == (D("17.5"), D("13.71"))
    assert found.total == D("33.27")
    assert found.tax == D("6.32")  # 6.3213
    assert found.total_with_tax == D("39.59")
    assert found.complete


@pytest.mark.parametrize(
    ("money", "decimals", "told"),
    [("2.345", 2, "2.35"), ("2.355", 2, "2.36"), ("0.005", 2, "0.01"), ("2.5", 0, "3"), ("2.49", 0, "2"),
     ("1.00005", 4, "1.0001")],
)  # fmt: skip
def test_half_is_rounded_up(money: str, decimals: int, told: str) -> None:
    """Commercial rounding; binary floats would give 2.35 for 2.355, and half-even 2 for 2.5."""
    assert str(rounded(D(money), decimals)) == told


@pytest.mark.parametrize("lacking", ["part", "wire", "scrap", "labour", "rate"])
def test_what_has_no_price_makes_the_whole_incomplete(lacking: str) -> None:
    parts = {"socket" if lacking == "part" else "plug": 1}
    wires = {"rope" if lacking == "wire" else "strand": 1000}
    scrap = {"rope" if lacking == "scrap" else "strand": 1000}
    steps = {"cable" if lacking == "labour" else "termination": 1}
    prices = PRICES if lacking != "rate" else Prices("€", 2, PRICES.parts, PRICES.wires, PRICES.minutes)
    found = estimate(prices, parts, wires, scrap, steps)
    assert not found.complete
    assert [line.group for line in found.unpriced] == ["labour" if lacking == "rate" else lacking]
    assert found.total == sum(line.amount for line in found.lines if line.amount is not None) + (
        found.surcharge or 0
    )


def test_without_a_tax_there_is_no_total_with_it() -> None:
    found = estimate(Prices("€"), {}, {}, {}, {})
    assert (found.tax, found.total_with_tax, found.total, found.complete) == (None, None, D(0), True)
