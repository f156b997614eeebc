"""Cards in a browser: a specimen is made by keyboard alone, and no page of cards shuts anybody out or runs over its edge."""

from collections.abc import Callable
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def type_into(page: Any, fields: dict[str, str]) -> None:
    """Fill in a form by keyboard and send it with Enter."""
    for field, text in fields.items():
        page.focus(f"#{field}")
        page.keyboard.type(text)
    page.focus("text=Write it down")
    page.keyboard.press("Enter")


@pytest.mark.parametrize("size", ["desktop", "tablet"])
def test_cards_by_keyboard(bench: Callable[..., Served], browser: Any, size: str) -> None:
    address = bench().address
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    page = context.new_page()

    page.goto(f"{address}/cards/new/limits")
    type_into(page, {"f-name": "line plug", "f-resistance": "3 mV"})
    page.wait_for_selector("#f-resistance-fault")
    assert page.input_value("#f-name") == "line plug"
    found = violations(page)
    page.fill("#f-resistance", "")
    type_into(page, {"f-resistance": "3 mΩ"})
    page.wait_for_url("**/cards/*")

    page.goto(f"{address}/cards/new/meters")
    page.select_option("#f-measures", "voltage")
    type_into(page, {"f-name": "voltmeter", "calibration-on": "2025-01-02", "calibration-due": "2025-02-03"})
    page.wait_for_selector("text=overdue")
    found += violations(page)

    page.goto(f"{address}/cards/new/specimens")
    page.select_option("#f-limit", label="line plug – 3 mΩ")
    type_into(page, {"f-serial": "SN 7", "f-what": "line cable"})
    page.wait_for_url("**/specimens/*")
    page.click("summary:has-text('Write a note')")
    page.keyboard.press("Tab")
    page.keyboard.type("pin bent")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=pin bent")
    found += violations(page)

    page.focus("#find")
    page.keyboard.type("sn 7")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=SN 7 – line cable")
    for place in (
        "/search?q=line",
        "/specimens",
        "/meters",
        "/shop",
        "/jobs",
        "/cards/new/meters",
        "/cards/new/jobs",
    ):
        page.goto(address + place)
        found += [f"{place}: {one}" for one in violations(page)]
        edge = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert edge[0] <= edge[1], place
    assert found == []
    context.close()
