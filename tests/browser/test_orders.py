"""An order from the list of cables to the reels that are left, by keyboard alone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations
from tests.unit.work.cards.shops import new_shop
from tests.unit.work.workshop.ordered import PRICES, REELS, OrderShop

from ohmsworth import wiring

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_an_order_is_planned_and_cut_by_keyboard(
    bench: Callable[..., Served], browser: Any, tmp_path: Path, size: str
) -> None:
    with wiring.open_records(str(tmp_path / "shop.records")) as records:
        shop = OrderShop(replace(new_shop(), records=records))
        shop.write("reels", REELS)
        shop.write("prices", PRICES)
    served = bench()
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    page = context.new_page()
    page.goto(f"{served.address}/cables")
    page.focus("text=Before it is built")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=Which cables are to be built?")
    page.focus("label:has-text('lead') input")
    page.keyboard.press("Space")
    page.focus("text=Say what they take")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=The 12 pieces for 4 cables")
    page.focus("[name='copies.1']")
    page.keyboard.press("Control+a")
    page.keyboard.type("2")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=The 6 pieces for 2 cables")
    assert page.is_checked("[name=reels]")
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.focus("text=All of this plan was cut")
    page.keyboard.press("Enter")
    page.wait_for_url("**/cables/reels?said=cut")
    assert "21.400" in page.inner_text("main")  # 6 x 3.1 m of 40 m
    assert violations(page) == []
    context.close()
