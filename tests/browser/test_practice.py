"""A few readings of a study in practice, by Enter alone; and a current that goes off with its page."""

import time
from collections.abc import Callable
from typing import Any

import pytest
from tests.browser.conftest import SIZES, Served, violations
from tests.browser.test_whole_study import ask

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def practice(bench: Callable[..., Served]) -> Served:
    """Return a bench for practice."""
    return bench("--practice")


@pytest.fixture
def page(browser: Any) -> Any:
    """Return a page that holds the console to silence."""
    wide, tall = SIZES["desktop"]
    context = browser.new_context(viewport={"width": wide, "height": tall})
    opened = context.new_page()
    said: list[str] = []
    opened.on("pageerror", lambda error: said.append(str(error)))
    yield opened
    assert not said
    context.close()


def until(page: Any, script: str, arg: Any = None, seconds: float = 20.0) -> None:
    """Wait until a script says so; asked from outside, for the pages let nothing be evaluated."""
    end = time.monotonic() + seconds
    while not page.evaluate(script, arg):
        assert time.monotonic() < end, script
        page.wait_for_timeout(50)


def step(page: Any) -> str:
    return str(page.eval_on_selector("#entry [name=step]", "field => field.value"))


def test_readings_by_enter_alone(page: Any, practice: Served) -> None:
    ask(page, practice.address)
    for _ in range(5):
        before = step(page)
        until(page, "() => document.activeElement.id === 'voltage'")
        page.wait_for_timeout(
            300
        )  # a second Enter within a quarter of a second is a meter's second end of a line
        page.keyboard.press("Enter")
        until(page, "b => (document.querySelector('#entry [name=step]')?.value ?? b) !== b", before)
    page.wait_for_selector(".result .large")
    assert len(page.query_selector_all("#recent li")) == 5
    assert "Practice: these readings are invented." in page.inner_text(".practice")

    # A meter that types, with two ends of a line: the second is not heard, and the meters are not asked.
    before = step(page)
    until(page, "() => document.activeElement.id === 'voltage'")
    page.keyboard.type("+1.0E-01")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "current"
    assert page.query_selector(".questioned, .fault") is None
    page.wait_for_timeout(300)
    page.keyboard.press("Enter")
    page.wait_for_selector(".questioned, .fault")
    assert step(page) == before
    assert len(page.query_selector_all("#recent li")) == 5

    page.goto(page.url)
    page.wait_for_timeout(300)
    page.click("#read-reversal, #read-meters")
    until(page, "() => document.querySelectorAll('#recent li').length > 5")
    assert violations(page) == []


def test_the_current_goes_off_with_its_page_and_by_one_key(page: Any, practice: Served) -> None:
    def on(where: str) -> None:
        page.goto(practice.address + where)
        page.click("text=Switch on")
        page.wait_for_selector("text=The current is on: 100 mA forward.")
        page.wait_for_load_state("load")  # the key is heard by a script, which comes last

    on("/meters/live")
    page.wait_for_timeout(4000)
    assert page.evaluate("document.querySelector('#source').dataset.holder") is not None
    assert violations(page) == []
    page.goto(practice.address + "/studies")
    page.wait_for_selector(".current-on", state="detached")

    on("/meters/live")
    page.keyboard.press("Escape")
    page.wait_for_selector(".current-on", state="detached")
    assert "Off: switched off by the person" in page.inner_text("#source")


def test_enter_on_the_focused_button_is_off_without_script(browser: Any, practice: Served) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(practice.address + "/meters/live")
    page.click("text=Switch on")
    assert "The current is on" in page.inner_text(".source .current-on")
    page.wait_for_selector(".source button.off:focus")
    page.keyboard.press("Enter")
    page.wait_for_url("**/meters/live")
    assert page.query_selector(".current-on") is None
    context.close()


def test_what_is_on_the_page_of_the_meters(page: Any, practice: Served) -> None:
    page.goto(practice.address + "/meters/live")
    page.click("section:has(#the-voltmeter) >> text=Try it")
    page.wait_for_selector("text=PRACTICE,voltmeter")
    assert violations(page) == []
