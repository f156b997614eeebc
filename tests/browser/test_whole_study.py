"""Somebody asks a question, reads its sheet by keyboard, pulls the plug in the middle, and hands over the PDF."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import SIZES, Served, violations

pytestmark = [pytest.mark.browser, pytest.mark.slow]

#: Contacts of an invented shop: ohm by condition.
TRUTH = {"new": 2.4e-3, "tarnished": 6.3e-3}


@pytest.fixture(params=["desktop", "tablet"])
def page(request: pytest.FixtureRequest, browser: Any) -> Any:
    """Return a page of that size that has forgotten everything, and holds the console to silence."""
    wide, tall = SIZES[request.param]
    context = browser.new_context(
        viewport={"width": wide, "height": tall}, has_touch=request.param != "desktop"
    )
    opened = context.new_page()
    said: list[str] = []
    opened.on("pageerror", lambda error: said.append(str(error)))
    opened.on("request", lambda sent: said.append(sent.url) if "127.0.0.1" not in sent.url else None)
    yield opened
    assert not said, "an error in a script, or a request to elsewhere"
    context.close()


def ask(page: Any, address: str) -> None:
    """Fill in the form by keyboard alone."""
    page.goto(f"{address}/studies/new")
    page.focus("#question")
    page.keyboard.type("Do the tarnished contacts matter on a microphone line?")
    page.focus("#limit")
    page.keyboard.type("4 mΩ")
    page.keyboard.press("Tab")
    page.keyboard.type("datasheet of the connector")
    page.focus("input[value='dynamic microphone']")
    page.keyboard.press("Space")
    page.focus("text=To the bench")
    page.keyboard.press("Enter")
    page.wait_for_url("**/bench")


def read_one(page: Any, chance: random.Random, slip: float = 1.0) -> None:
    """Type what the meters show for the contact that leads, and Enter after each figure."""
    condition, sign = (
        page.inner_text("#under"),
        page.eval_on_selector("#entry [name=polarity]", "field => field.value"),
    )
    volts = TRUTH[condition] * 0.1 * (1 + chance.gauss(0, 0.01)) + (2e-6 if sign == "+" else -2e-6)
    before = page.get_attribute("#now", "data-last")
    page.wait_for_function("document.activeElement.id === 'voltage'")
    page.keyboard.type(f"{slip * volts * 1e3:.4f}")
    page.keyboard.press("Enter")
    if page.evaluate("document.activeElement.id") == "current":
        page.keyboard.type("100,02")
        page.keyboard.press("Enter")
    page.wait_for_function("last => document.getElementById('now').dataset.last !== last", arg=before)


def test_a_whole_study_by_keyboard(page: Any, bench: Callable[..., Served], tmp_path: Path) -> None:
    chance = random.Random(41)
    served = bench()
    ask(page, served.address)
    address = page.url
    for _ in range(9):
        read_one(page, chance)
    read_one(page, chance, slip=10.0)
    assert "Not kept yet" in page.inner_text(".questioned")
    page.fill("#voltage", "")
    page.focus("#voltage")
    read_one(page, chance)
    assert page.query_selector(".questioned") is None

    served.kill()
    again = bench(records=served.records)
    address = address.replace(served.address, again.address)
    page.goto(address)
    assert page.inner_text(".where").startswith("Step 11 of 24")
    while "Step" in page.inner_text(".where"):
        read_one(page, chance)
    page.wait_for_selector("#live .stop")
    assert "tarnished" in page.inner_text("#live .stop")

    page.goto(address.replace("/bench", "/report"))
    with page.expect_download() as begun:
        page.click("text=The report as a PDF")
    report = tmp_path / "report.pdf"
    begun.value.save_as(report)
    assert report.read_bytes().startswith(b"%PDF-")


def test_nothing_bars_anybody_from_the_pages(page: Any, bench: Callable[..., Served]) -> None:
    chance = random.Random(7)
    served = bench()
    ask(page, served.address)
    for _ in range(4):
        read_one(page, chance)
    found = []
    for path in (
        "/", "/studies", "/studies/new", "/studies/1/bench", "/studies/1/answer", "/studies/1/readings", "/studies/1/readings/4",
        "/studies/1/report", "/studies/1/question", "/who", "/nowhere",
    ):  # fmt: skip
        page.goto(served.address + path)
        page.wait_for_load_state("networkidle") if path != "/studies/1/bench" else page.wait_for_selector(
            "#live h2"
        )
        found += [f"{path}: {one}" for one in violations(page)]
    assert found == []
