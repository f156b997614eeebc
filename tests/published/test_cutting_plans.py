"""Cutting plans against published problems: lengths of stock cut with the least waste."""

from __future__ import annotations

import pytest

from ohmsworth.cables.workshop import Reel, plan_cuts

#: The example of an encyclopaedia's article on the cutting-stock problem: 5600 mm rolls, widths and numbers as printed there.
#: Their total of 407 160 mm fills 72.7 rolls, so that no plan has fewer than 73. That one with 73 is possible, and that 0.401 %
#: of it is waste, is from memory; the second is also worked out below: 1 - 407 160 / (73 x 5600).
PAPER = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18,
    2200: 20,
}  # fmt: skip
#: V. Chvátal, Linear Programming (1983), chapter 13, after Gilmore and Gomory: rolls of 100 in. From memory; the demands are
#: printed in the manuals of several modelling languages. The least is 453 rolls (the linear program has 452.25).
CHVATAL = {450: 97, 360: 610, 310: 395, 140: 211}


@pytest.mark.parametrize(
    ("pieces", "long", "stock", "fewest"), [(PAPER, 5600, 80, 73), (CHVATAL, 1000, 460, 453)]
)
def test_the_least_number_of_rolls(pieces: dict[int, int], long: int, stock: int, fewest: int) -> None:
    """With no useful rest all that is left is waste, and the least waste is the fewest rolls."""
    plan = plan_cuts("roll", pieces, [Reel(f"no. {k}", "roll", long, long + 1) for k in range(stock)])
    assert plan.proven
    assert not plan.missing
    assert len(plan.reels) == fewest
    assert plan.score[1] == fewest * long - sum(mm * n for mm, n in pieces.items())


def test_the_waste_is_what_is_left_of_the_least() -> None:
    assert sum(mm * n for mm, n in PAPER.items()) == 407160
    assert f"{100 * (1 - 407160 / (73 * 5600)):.3f}" == "0.401"
    plan = plan_cuts("roll", PAPER, [Reel(f"no. {k}", "roll", 5600, 5601) for k in range(80)])
    assert f"{100 * plan.score[1] / (73 * 5600):.3f}" == "0.401"
