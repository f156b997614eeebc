"""Somebody asks a question, reads its sheet by keyboard, pulls the plug in the middle, and hands over the PDF."""

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations
from tests.browser.journeys import ask, read_one

pytestmark = [pytest.mark.browser, pytest.mark.slow]


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
