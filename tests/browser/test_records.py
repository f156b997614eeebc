"""The pages of the records and of the settings in a browser: a folder is sent, and everybody can use them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations

from ohmsworth import wiring


@pytest.mark.parametrize("size", SIZES)
def test_a_folder_is_taken_in_and_the_records_are_copied(
    size: str, browser: Any, bench: Callable[..., Served], tmp_path: Path
) -> None:
    wiring.write_new_study(tmp_path / "hall")
    served = bench()
    width, height = SIZES[size]
    page = browser.new_page(viewport={"width": width, "height": height})
    blocked: list[str] = []
    page.on("console", lambda said: blocked.append(said.text) if "Content Security" in said.text else None)
    try:
        page.goto(f"{served.address}/records")
        assert violations(page) == []
        page.set_input_files("#folder", tmp_path / "hall")
        page.click("text=Take them in")
        assert "Study 1: 25 new lines." in page.inner_text("main")
        assert violations(page) == []
        page.goto(f"{served.address}/records")
        page.click("text=Make a copy now")
        assert "A copy of everything was made" in page.inner_text("main")
        assert violations(page) == []
        for address in ("/records/export", "/settings"):
            page.goto(f"{served.address}{address}")
            assert violations(page) == []
        page.select_option("#screen", "dark")
        page.click("text=Set this screen")
        assert page.get_attribute("html", "data-screen") == "dark"
        assert violations(page) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
        assert blocked == []
    finally:
        page.close()
