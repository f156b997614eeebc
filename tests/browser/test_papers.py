"""From a new cable to its papers in a browser: measured, issued, verified, corrected, superseded, and a label."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations
from tests.browser.test_cables import FIELDS, keyed, type_one

from ohmsworth.cli.app import run

pytestmark = [pytest.mark.browser, pytest.mark.slow]


class Customer:
    """Whoever uses the pages: clicks what is to be read there, and looks at what is said."""

    def __init__(self, page: Any, address: str, kept: Path) -> None:
        self.page, self.address, self.kept = page, address, kept
        self.broken: list[str] = []
        page.on(
            "console", lambda said: self.broken.append(said.text) if "Content Security" in said.text else None
        )
        page.on("pageerror", lambda error: self.broken.append(str(error)))

    def look(self, name: str) -> None:
        """Nobody is shut out of this page, and nothing runs over its edge."""
        if folder := os.environ.get("OHMSWORTH_SHOTS"):
            self.page.screenshot(path=str(Path(folder) / f"papers-{name}.png"), full_page=True)
        assert violations(self.page) == []
        assert self.page.evaluate("document.documentElement.scrollWidth <= innerWidth")

    def says(self, words: str) -> None:
        assert words in " ".join(self.page.inner_text("main").split())

    def turn(self, label: str) -> None:
        self.page.click(f".turns >> text={label}")

    def take(self, link: str) -> Path:
        """Download what a link hands over."""
        with self.page.expect_download() as coming:
            self.page.click(link)
        there = self.kept / coming.value.suggested_filename
        coming.value.save_as(there)
        return there

    def describe_and_measure(self) -> None:
        """Fill in the form, and type every figure where the page leads."""
        self.page.goto(f"{self.address}/cables/new")
        for name, text in FIELDS.items():
            self.page.fill(f'[id="{name}"]', text)
        self.page.click("text=To the measurements")
        self.page.wait_for_selector("#resistance")
        for way in range(6):
            type_one(self.page, f"1,57{way}")
        while keyed(self.page):
            type_one(self.page, "/")

    def make_the_key(self) -> None:
        """The page that asks for it leads there, and from there back again."""
        self.page.click("main >> text=Settings")
        self.page.fill("#shop_name", "The Cable Bench")
        self.page.fill("#shop_address", "1 Mill Lane\nMillbrook")
        self.page.click("text=Write it down")
        self.page.click("text=Make the key")
        self.page.wait_for_selector("text=The public key (for customers)")

    def verify(self, file: Path, public: Path) -> None:
        """Send a file on the page that verifies."""
        self.page.goto(f"{self.address}/cables")
        self.page.click("text=Verify a paper")
        self.page.set_input_files("#file", file)
        self.page.set_input_files("#public", public)
        self.page.click("button:has-text('Verify it')")


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_from_a_new_cable_to_a_corrected_paper(
    bench: Callable[..., Served], browser: Any, tmp_path: Path, size: str
) -> None:
    served = bench()
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall}, accept_downloads=True)
    context.add_cookies([{"name": "who", "value": "Ada", "url": served.address}])
    shop = Customer(context.new_page(), served.address, tmp_path)
    page = shop.page
    shop.describe_and_measure()
    page.click("#now >> text=Papers")
    cable = page.url
    shop.says("there is none yet")
    shop.make_the_key()
    public = shop.take("text=The public key (for customers)")
    page.goto(cable)
    shop.look(f"none-{size}")
    page.fill("#customer", "The Hall")
    page.click("text=Issue it")
    shop.says("Issued and kept: certificate")
    number = page.inner_text("#issued ~ ul strong.title")
    shop.look(f"issued-{size}")
    paper, data = shop.take("a:has-text('PDF')"), shop.take("a:has-text('Data (JSON)')")
    assert paper.name == f"certificate-{number}.pdf"
    for file in (paper, data):
        shop.verify(file, public)
        shop.says("The records hold this very paper, of cable 1.")
        shop.says("signed with the key that you hold")
    shop.look(f"verified-{size}")
    assert run(["verify", str(paper), "--key", str(public)]) == 0

    # A reading was wrong: it is measured again, and the paper that holds the old one is said not to match.
    page.click("text=cable 1")
    shop.turn("Rows")
    page.click("tbody tr:last-child summary")
    page.click("tbody tr:last-child >> text=Measure it again")
    type_one(page, "1,572")
    page.goto(cable)
    shop.says("no longer says what the cable’s rows and description say")
    shop.look(f"differs-{size}")
    shop.verify(paper, public)
    shop.says("The records say something else by now.")
    page.click("text=cable 1")
    assert page.input_value("#customer") == "The Hall"
    assert page.input_value("#supersedes") == number
    page.click("text=Issue it")
    shop.says("why the earlier paper is corrected")  # nothing that was typed is lost
    shop.look(f"refused-{size}")
    page.fill("#reason", "Core 1 was read again.")
    page.click("text=Issue it")
    shop.says(f"superseded by {number[:-1]}2")
    assert "no longer says" not in page.inner_text("main")
    shop.verify(paper, public)
    shop.says("takes its place. Why: Core 1 was read again.")
    page.click("text=cable 1")
    second = shop.take("#issued ~ ul li:first-child >> a:has-text('PDF')")
    shop.verify(second, public)
    shop.says("The records hold this very paper, of cable 1.")
    page.click("text=cable 1")
    page.click("#issued ~ ul li:first-child >> text=Label")
    page.wait_for_selector("img.label")
    page.fill("#size", "50x25")
    page.click("text=Look at it")
    page.wait_for_url("**/label?size=50x25")
    assert page.evaluate("document.querySelector('img.label').naturalWidth > 0")
    shop.look(f"label-{size}")
    label = shop.take("text=The label as a PDF")
    assert label.read_bytes().startswith(b"%PDF-")
    assert shop.broken == []
    context.close()
