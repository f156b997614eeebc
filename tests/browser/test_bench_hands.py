"""What hands do at the bench: Enter, figures in the wrong field, units, notes."""

from collections.abc import Callable
from typing import Any

import pytest
from tests.browser import test_alone
from tests.browser.conftest import Served
from tests.browser.test_alone import VOLTS, ask, kept, said

pytestmark = [pytest.mark.browser, pytest.mark.slow]
opened = test_alone.opened


def focus(page: Any, name: str) -> None:
    page.wait_for_function("name => document.activeElement?.id === name", arg=name)


def voltage(page: Any, last: str) -> str:
    """A voltage that the contact which leads may have, with these last digits."""
    return VOLTS[page.inner_text("#under")].format(last)


def press(page: Any, *texts: str) -> None:
    """Type each and press Enter after it, as slowly as a hand."""
    for text in texts:
        page.keyboard.type(text)
        page.wait_for_timeout(150)
        page.keyboard.press("Enter")


def next_step(page: Any, step: int) -> None:
    page.wait_for_function(
        "words => document.querySelector('#now .where').innerText.startsWith(words)", arg=f"Step {step} "
    )
    focus(page, "voltage")


def test_two_figures_and_two_enters_are_one_reading(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    focus(page, "voltage")
    press(page, voltage(page, "11"))
    focus(page, "current")
    press(page, "100.02")
    next_step(page, 2)
    # With a current remembered: typed again, left empty, and typed in a hurry.
    press(page, voltage(page, "12"))
    focus(page, "current")
    press(page, "100.04")
    next_step(page, 3)
    press(page, voltage(page, "13"), "")
    next_step(page, 4)
    page.keyboard.type(voltage(page, "14"))
    page.keyboard.press("*")  # no key of the number pad acts while a figure is there
    page.keyboard.press("Backspace")
    page.keyboard.press("Enter")
    page.keyboard.press("/")
    page.keyboard.press("Backspace")
    page.keyboard.type("100.06")
    page.keyboard.press("Enter")
    next_step(page, 5)
    read = [
        (one["entry"]["voltage"]["text"][-2:], one["entry"]["current"]["text"])
        for one in kept(served.address)
    ]
    assert read == [("11", "100.02"), ("12", "100.04"), ("13", "100.04"), ("14", "100.06")]


def test_a_figure_typed_anew_after_a_question(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    focus(page, "voltage")
    press(page, voltage(page, "11"), "100.02")
    next_step(page, 2)
    right = voltage(page, "12")
    press(page, f"{float(right) * 10:.3f}", "100.02")
    page.wait_for_selector(".questioned")
    focus(page, "voltage")
    press(page, right)  # it was selected; Enter goes to the current, which is selected in its turn
    focus(page, "current")
    assert page.query_selector(".questioned .fault") is None
    press(page, "100.03")
    next_step(page, 3)
    assert [one["entry"]["voltage"]["text"] for one in kept(served.address)][-1] == right


def test_a_current_left_empty_while_the_bench_is_away_is_the_one_shown(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    focus(page, "voltage")
    press(page, voltage(page, "11"), "100.02")
    next_step(page, 2)
    page.route("**/studies/1/bench", lambda route: route.abort())
    press(page, voltage(page, "12"), "")
    said(page, "1 reading waits")
    assert not page.is_visible("#noted")  # nothing was refused that would have to be written down
    press(page, voltage(page, "13"), "0.10004A")
    said(page, "2 readings wait")
    assert page.inner_text("#current-said") == "Left empty: 0.10004A, as before."
    press(page, voltage(page, "14"), "")
    said(page, "3 readings wait")
    page.unroute("**/studies/1/bench")
    page.wait_for_function("() => document.getElementById('queue').hidden")
    currents = [f"{(c := one['entry']['current'])['text']} {c['unit']}" for one in kept(served.address)]
    assert currents == ["100.02 mA", "100.02 mA", "0.10004 A", "0.10004 A"]


def test_what_is_typed_while_the_page_is_asked_for_anew_stays(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    focus(page, "voltage")
    asked: list[Any] = []

    def hold(route: Any) -> None:
        asked.append(route)

    page.route("**/bench/now", hold)
    page.route("**/studies/1/bench", lambda route: route.abort())
    press(page, voltage(page, "11"), "100.02")
    said(page, "1 reading waits")
    page.unroute("**/studies/1/bench")
    page.wait_for_function("() => document.getElementById('queue').hidden")
    while not asked:
        page.wait_for_timeout(50)
    page.keyboard.type("0.25")
    asked[0].continue_()
    page.wait_for_timeout(1500)
    assert page.input_value("#voltage") == "0.25"
    assert page.evaluate("document.activeElement.id") == "voltage"


def test_a_refusal_stands_in_the_page_and_not_a_page_in_it(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    page.eval_on_selector("form[action$=skip] [name=step]", "field => (field.value = '99')")
    page.click("#skip")
    page.wait_for_selector("#refused :text('the sheet was laid anew')")
    assert len(page.query_selector_all("header.top")) == 1
    assert page.inner_text("#now .where").startswith("Step 1 of")
    page.focus("#voltage")
    press(page, voltage(page, "11"), "100.02")
    next_step(page, 2)
    assert page.inner_text("#refused") == ""


def test_a_comma_before_three_digits_is_said_while_it_is_typed(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    focus(page, "voltage")
    page.keyboard.type("1,88")
    assert page.inner_text("#voltage-said") == ""
    page.keyboard.type("8")
    assert page.inner_text("#voltage-said") == "Read as 1.888: the comma is the decimal mark."
    page.keyboard.type("2")
    assert page.inner_text("#voltage-said") == ""


def test_news_takes_no_focus_from_the_current(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page, other = opened(), opened()
    address = ask(page, served.address)
    focus(page, "voltage")
    press(page, voltage(page, "11"))
    focus(page, "current")
    other.goto(address)
    focus(other, "voltage")
    press(other, voltage(other, "12"), "100.02")
    page.wait_for_selector("#news :text('One reading more')", timeout=15_000)
    page.wait_for_timeout(300)
    assert page.evaluate("document.activeElement.id") == "current"
