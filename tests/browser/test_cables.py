"""A built cable from its form to its report, by keyboard alone."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations
from tests.journeys.test_cable_sheet import filled, rows_of, semicolons
from tests.unit.work.builds.seasons import drifting

from ohmsworth import wiring
from ohmsworth.work.records import Face, NewLine

pytestmark = [pytest.mark.browser, pytest.mark.slow]
FIELDS = {
    "name": "stage line", "serial": "no. 3", "length": "20 m", "ends.0": "stage", "ends.1": "desk", "ways": "2", "contacts": "3",
    "conductor": "0.22 mm²", "accuracy": "0.1 % + 2 counts", "resolution": "1 mΩ",
}  # fmt: skip


def keyed(page: Any) -> str:
    """The key of the measurement that leads; "" where none does."""
    return str(page.evaluate("document.querySelector('#entry [name=key]')?.value || ''"))


def type_one(page: Any, shown: str) -> None:
    """Type into the field that has the focus already, Enter, and wait for what follows."""
    before = keyed(page)
    page.wait_for_function("() => document.activeElement?.id === 'resistance'")
    page.keyboard.type(shown)
    if shown != "/":
        page.keyboard.press("Enter")
    page.wait_for_function(
        "key => (document.querySelector('#entry [name=key]')?.value || '') !== key || document.querySelector('.questioned')",
        arg=before,
    )


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_a_cable_is_described_measured_and_told_by_keyboard(
    bench: Callable[..., Served], browser: Any, size: str
) -> None:
    served = bench()
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    page = context.new_page()
    page.goto(f"{served.address}/cables/new")
    for name, text in FIELDS.items():
        page.focus(f'[id="{name}"]')
        page.keyboard.press("Control+a")
        page.keyboard.type(text)
    page.focus("text=To the measurements")
    page.keyboard.press("Enter")
    page.wait_for_selector("#resistance")
    type_one(page, "15,7")  # it should be 1.57 Ω
    assert "10 times more" in page.inner_text(".questioned")
    assert violations(page) == []
    type_one(page, "1,57")  # what was doubted is selected: it is typed over
    assert "right" in page.inner_text(".result")
    page.keyboard.press("Enter")  # a second end of a line is not heard
    page.keyboard.type("*")
    page.wait_for_selector("text=Row 1 is withdrawn")
    for way in range(6):
        type_one(page, f"1,57{way}")
    assert violations(page) == []  # groups of contacts, where no path is hoped for
    while keyed(page):
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        type_one(page, "/")
    assert page.inner_text("#known") == "✓ right"
    assert "Everything is measured" in page.inner_text("#now")
    assert violations(page) == []
    page.focus("text=The report >> nth=-1")
    page.keyboard.press("Enter")
    page.wait_for_url("**/report")
    assert "is right" in page.inner_text("main")
    context.close()


def test_a_bench_that_does_not_answer_loses_nothing(bench: Callable[..., Served], browser: Any) -> None:
    served = bench()
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{served.address}/cables/new")
    for name, text in FIELDS.items():
        page.fill(f'[id="{name}"]', text)
    page.click("text=To the measurements")
    page.wait_for_selector("#resistance")
    address, port = page.url, served.port
    served.kill()
    page.keyboard.type("1,57")
    page.keyboard.press("Enter")
    page.wait_for_selector("#refused >> text=does not answer")
    assert page.input_value("#resistance") == "1,57"
    again = bench(records=served.records, port=port)
    page.wait_for_timeout(300)
    page.focus("#resistance")
    page.keyboard.press("Enter")
    page.wait_for_selector(".result")
    page.goto(f"{again.address}{address[address.index('/cables') :]}/rows")
    assert "1 row." in page.inner_text("main")
    context.close()


def begun(served: Served, context: Any) -> Any:
    """A page that leads to the first measurement of a new cable."""
    page = context.new_page()
    page.goto(f"{served.address}/cables/new")
    for name, text in FIELDS.items():
        page.fill(f'[id="{name}"]', text)
    page.click("text=To the measurements")
    page.wait_for_load_state("networkidle")
    page.wait_for_function("() => document.activeElement?.id === 'resistance'")
    return page


def figures_kept(page: Any, address: str) -> list[str]:
    """What the rows of the cable say, in their order."""
    wires = page.request.get(f"{address}/cables/1/answer.json").json()["wires"]
    return [f"{wire['resistance']:g}" for wire in wires if wire["resistance"] is not None]


@pytest.mark.parametrize("how", ["by itself", "after its page was closed", "after another figure was typed"])
def test_what_was_typed_while_the_bench_was_away_arrives(
    bench: Callable[..., Served], browser: Any, how: str
) -> None:
    served = bench()
    context = browser.new_context()
    page = begun(served, context)
    served.kill()
    page.keyboard.type("1.57")
    page.keyboard.press("Enter")
    page.wait_for_selector("#refused >> text=kept in this browser")
    if how == "after another figure was typed":
        page.fill("#resistance", "1.58")
        page.keyboard.press("Enter")
        page.wait_for_timeout(300)
    if how == "after its page was closed":
        page.close()
    again = bench(records=served.records, port=served.port)
    if how == "after its page was closed":
        page = context.new_page()
        page.goto(f"{again.address}/cables/1")
    page.wait_for_selector(".result", timeout=60_000)
    assert page.inner_text("#refused") == ""
    assert violations(page) == []
    assert figures_kept(page, again.address) == ["1.58" if "another" in how else "1.57"]
    page.goto(f"{again.address}/cables/1/rows")
    assert "1 row." in page.inner_text("main")
    context.close()


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_a_sheet_goes_out_is_filled_in_and_comes_back(
    bench: Callable[..., Served], browser: Any, tmp_path: Path, size: str
) -> None:
    served = bench()
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall}, accept_downloads=True)
    page = context.new_page()
    page.goto(f"{served.address}/cables/new")
    for name, text in FIELDS.items():
        page.fill(f'[id="{name}"]', text)
    page.click("text=To the measurements")
    page.wait_for_selector("#resistance")
    page.click("text=Measure something else")
    page.click("text=a sheet to fill in with a spreadsheet")
    assert violations(page) == []
    with page.expect_download() as coming:
        page.click("text=A sheet to fill in (CSV)")
    sheet = tmp_path / coming.value.suggested_filename
    coming.value.save_as(sheet)
    rows = rows_of(sheet.read_bytes())
    sheet.write_bytes(semicolons(filled(rows, "1.571")))
    page.set_input_files("#file", sheet)
    page.click("text=Take its rows")
    page.wait_for_selector(f"text=Rows of the file that were new: {len(rows) - 1}.")
    assert page.inner_text("#known") == "✓ right"
    assert violations(page) == []
    # The folder, as a zip file, comes in on another bench's page of records.
    page.goto(f"{served.address}/cables/1/report")
    with page.expect_download() as coming:
        page.click("text=Its folder (ZIP)")
    folder = tmp_path / "cable.zip"
    coming.value.save_as(folder)
    other = bench(records=tmp_path / "other.records")
    page.goto(f"{other.address}/records")
    page.set_input_files("#files", folder)
    page.click("text=Take them in")
    assert violations(page) == []
    page.click("text=Cable 1")
    page.wait_for_selector("text=Everything is measured")
    assert page.inner_text("#known") == "✓ right"
    context.close()


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_a_season_is_looked_at_by_keyboard(
    bench: Callable[..., Served], browser: Any, tmp_path: Path, size: str
) -> None:
    with wiring.open_records(str(tmp_path / "shop.records")) as records:
        for number, one in enumerate(drifting(12, 0.02, 0.002)[::5]):
            line = NewLine(f"c{number}", "cable described", {"toml": ""})
            name = "hall" if number % 2 else "festival"
            records.open_card(
                "cable", "Ada", [line], lambda _, f=one.figures, n=name: Face(n, "right", figures=f)
            )  # type: ignore[misc]
    served = bench()
    wide, tall = SIZES[size]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    page = context.new_page()
    page.goto(f"{served.address}/cables")
    page.focus("text=Season")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=All 48 cables tested since the week of 2026-01-05")
    page.wait_for_selector("figure svg")
    page.focus("#search")
    page.keyboard.type("festival")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector("text=All 24 cables tested since the month of 2026-01-01")
    page.wait_for_selector("figure svg")
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
