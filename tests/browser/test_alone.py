"""The bench page when the bench does not answer: what is typed waits in the page, is said to, and arrives once and in order."""

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest
from tests.browser.conftest import Served

pytestmark = [pytest.mark.browser, pytest.mark.slow]
#: What the contacts of an invented shop read, in mV, forward and reversed.
VOLTS = {"new": "0.25{}", "tarnished": "0.63{}"}
WORDS = "four words of mine"


@pytest.fixture
def opened(browser: Any) -> Iterator[Callable[..., Any]]:
    """Return what opens a page that has forgotten everything; an error in a script fails the test."""
    contexts, said = [], list[str]()

    def one(who: str = "", address: str = "", **settings: Any) -> Any:
        context = browser.new_context(**settings)
        contexts.append(context)
        if who:
            context.add_cookies([{"name": "who", "value": who, "url": address}])
        page = context.new_page()
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("dialog", lambda dialog: dialog.accept())
        return page

    yield one
    for context in contexts:
        context.close()
    assert said == []


def ask(page: Any, address: str) -> str:
    """A study with a sheet; return the address of its bench."""
    page.goto(f"{address}/studies/new")
    page.fill("#question", "Do the tarnished contacts matter?")
    page.fill("#limit", "4 mΩ")
    page.click("text=To the bench")
    page.wait_for_url("**/bench")
    return str(page.url)


def type_one(page: Any, last: str) -> str:
    """Type a reading of the contact that leads and press Enter; return what it was of."""
    condition = page.inner_text("#under")
    step = page.input_value("#entry [name=step]")
    page.wait_for_function("() => document.activeElement?.id === 'voltage'")
    page.keyboard.type(VOLTS[condition].format(last))
    page.keyboard.press("Enter")
    if page.evaluate("document.activeElement.id") == "current":
        page.keyboard.type("100.02")
        page.keyboard.press("Enter")
    page.wait_for_function(
        "step => document.querySelector('#entry [name=step]')?.value !== step && !document.querySelector('#voltage').value",
        arg=step,
    )
    return step


def kept(address: str) -> list[dict[str, Any]]:
    """The readings as the bench has them."""
    with urlopen(f"{address}/api/studies/1/readings", timeout=30) as answer:
        return json.load(answer)  # type: ignore[no-any-return]


def steps(address: str) -> list[str]:
    return [str(one["entry"]["step"]) for one in kept(address)]


def said(page: Any, words: str) -> None:
    """Wait until the queue says so."""
    page.wait_for_function(
        "words => !document.getElementById('queue').hidden && document.getElementById('queue').innerText.includes(words)",
        arg=words,
    )


def quiet(page: Any) -> None:
    page.wait_for_function("() => document.getElementById('queue').hidden")


def test_five_readings_typed_while_the_bench_is_away(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page = opened()
    ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    typed = [type_one(page, "11"), type_one(page, "12")]
    served.kill()
    said(page, "The bench does not answer")  # before anything was typed
    for n in range(5):
        typed.append(type_one(page, f"2{n}"))
        said(page, f"{n + 1} reading{'s wait' if n else ' waits'} in this page")
        assert page.query_selector(".result") is None
    assert typed == [str(n) for n in range(1, 8)]
    assert page.inner_text("#now .where") == "Step 8"
    page.click("#undo")
    said(page, "has to wait until the readings of this page are sent")
    again = bench(records=served.records, port=served.port)
    assert again.address == served.address
    quiet(page)
    page.wait_for_function("() => document.querySelector('#now .where').innerText.startsWith('Step 8 of 24')")
    assert steps(again.address) == typed
    type_one(page, "33")
    assert steps(again.address) == [*typed, "8"]
    # A time is as good as the way to the server is quick; it is when the reading was typed, not when it came.
    times = [datetime.fromisoformat(one["entry"]["time"]) for one in kept(again.address)]
    assert all(later - earlier > timedelta(seconds=-2) for earlier, later in pairwise(times))
    assert times[-2] - times[2] < timedelta(seconds=30)


def test_what_waits_keeps_the_name_and_the_time_it_was_typed_with(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page = opened("Kim", served.address)
    address = ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    served.kill()
    before = datetime.now(UTC)
    typed = [type_one(page, "11"), type_one(page, "12")]
    after = datetime.now(UTC)
    page.context.add_cookies([{"name": "who", "value": "Lee", "url": served.address}])
    again = bench(records=served.records, port=served.port)
    page.goto(address)
    quiet(page)
    typed.append(type_one(page, "13"))
    assert steps(again.address) == typed
    assert [one["entry"]["operator"] for one in kept(again.address)] == ["Kim", "Kim", "Lee"]
    slack = timedelta(seconds=1)
    for one in kept(again.address)[:2]:
        assert before - slack < datetime.fromisoformat(one["entry"]["time"]) < after + slack


def test_what_another_typed_is_sent_when_that_is_decided(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    for name, role in (("kim", "office"), ("lee", "bench")):
        subprocess.run(
            [sys.executable, "-m", "ohmsworth", "people", "add", name, "--role", role, "--records", str(served.records)],
            input=f"{WORDS}\n", text=True, check=True, capture_output=True, timeout=60,
        )  # fmt: skip
    served.kill()
    served = bench("--accounts", records=served.records, port=served.port)
    page = opened()
    sign_in(page, served.address, "kim")
    address = ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    served.kill()
    type_one(page, "11")
    type_one(page, "12")
    page.context.clear_cookies()
    bench("--accounts", records=served.records, port=served.port)
    sign_in(page, served.address, "lee")
    page.goto(address)
    said(page, "What waits was typed by kim, and lee is signed in now. It is not sent.")
    said(page, "2 readings wait in this page")
    page.goto(address.replace("/bench", "/readings"))
    assert "0 readings" in page.inner_text("main")
    page.goto(address)
    assert page.inner_text("#instead") == "Send it in the name of lee"
    page.click("#instead")
    quiet(page)
    page.wait_for_function("() => document.querySelectorAll('#recent li').length === 2")
    assert "lee" in page.inner_text("#recent li >> nth=0")
    page.click("#recent li >> nth=0 >> a")
    assert "typed while the bench did not answer, by kim" in page.inner_text("main")


def sign_in(page: Any, address: str, name: str) -> None:
    page.goto(f"{address}/sign-in")
    page.fill("#name", name)
    page.fill("#password", WORDS)
    page.click("main button")
    page.wait_for_url(f"{address}/")


def test_a_page_that_is_loaded_again_while_readings_wait(opened: Any, bench: Callable[..., Served]) -> None:
    """The browser has nothing to show, but it has the readings; they are sent when the page is there again."""
    served = bench()
    page = opened()
    address = ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    typed = [type_one(page, "11")]
    served.kill()
    typed += [type_one(page, "12"), type_one(page, "13")]
    with pytest.raises(Exception, match="ERR_CONNECTION_REFUSED"):
        page.reload()
    again = bench(records=served.records, port=served.port)
    page.goto(address)
    quiet(page)
    page.wait_for_function("() => document.querySelector('#now .where').innerText.startsWith('Step 4 of 24')")
    assert steps(again.address) == typed


def test_what_is_typed_while_others_are_being_sent(opened: Any, bench: Callable[..., Served]) -> None:
    """Answers come slowly: a reading typed meanwhile waits behind the others and is not lost."""
    served = bench()
    page = opened()
    ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    page.route("**/studies/1/bench", lambda route: route.abort())
    typed = [type_one(page, "11"), type_one(page, "12")]
    said(page, "2 readings wait")
    page.unroute("**/studies/1/bench")
    page.route("**/studies/1/bench", slowly)
    while not page.query_selector("#queue[hidden]"):
        typed.append(type_one(page, f"3{len(typed)}"))
        if len(typed) == 6:
            break
    quiet(page)
    assert steps(served.address) == typed


def slowly(route: Any) -> None:
    import time

    time.sleep(0.3)
    route.continue_()


def test_a_doubtful_reading_that_waited_is_kept_with_its_doubt(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page = opened()
    address = ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    for n in range(4):
        type_one(page, f"1{n}")
    served.kill()
    page.wait_for_function("() => document.activeElement?.id === 'voltage'")
    page.keyboard.type("251.1")  # a thousand times too large
    page.keyboard.press("Enter")
    page.keyboard.type("100.02")
    page.keyboard.press("Enter")
    said(page, "1 reading waits")
    again = bench(records=served.records, port=served.port)
    quiet(page)
    page.wait_for_selector("#recent >> text=doubtful, sent later: nobody could be asked")
    page.wait_for_selector("#doubted >> text=1 reading is doubtful")
    assert len(kept(again.address)) == 5
    number = kept(again.address)[-1]["number"]
    page.goto(again.address)
    page.click(".doubted li a")
    assert page.url == address.replace("/bench", f"/readings/{number}")
    assert "Sent later, when nobody could be asked about it: " in page.inner_text("main")


def test_a_waiting_reading_that_is_refused_is_shown_until_it_is_noted(
    opened: Any, bench: Callable[..., Served]
) -> None:
    served = bench()
    page, other = opened(), opened()
    address = ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    page.route("**/studies/1/bench", lambda route: route.abort())
    type_one(page, "11")
    said(page, "1 reading waits")
    other.goto(address.replace("/bench", "/question"))
    other.fill("#reason-close", "done")
    other.click("button[value=close]")
    page.unroute("**/studies/1/bench")
    said(page, "A reading that waited was refused: new 1 0.2511")
    said(page, "takes no more readings")
    page.reload()
    said(page, "A reading that waited was refused: new 1 0.2511")
    page.click("#noted")
    quiet(page)
    page.reload()
    assert page.query_selector("#queue:not([hidden])") is None
    assert kept(served.address) == []


def test_records_that_cannot_be_written_are_said_and_the_reading_waits(
    opened: Any, bench: Callable[..., Served], tmp_path: Path
) -> None:
    import sqlite3

    served = bench()
    page = opened()
    ask(page, served.address)
    page.wait_for_selector("#ahead li", state="attached")
    other = sqlite3.connect(served.records)
    other.execute("BEGIN EXCLUSIVE")
    typed = [type_one(page, "11")]
    said(page, "in use by another program that does not let go")
    said(page, "1 reading waits")
    other.execute("ROLLBACK")
    other.close()
    quiet(page)
    assert steps(served.address) == typed


def test_two_at_one_study_see_each_other(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    kim = opened("Kim", served.address)
    address = ask(kim, served.address)
    lee = opened("Lee", served.address)
    lee.goto(address)
    for n, (reader, other) in enumerate([(kim, lee), (lee, kim), (kim, lee)], 1):
        type_one(reader, f"1{n}")
        other.wait_for_function(
            "n => document.querySelectorAll('#recent li').length === n", arg=n, timeout=15_000
        )
        assert reader.inner_text("#recent li >> nth=0") == other.inner_text("#recent li >> nth=0")
        other.wait_for_function(
            f"() => document.querySelector('#now .where').innerText.startsWith('Step {n + 1} of')"
        )
    # What somebody is typing is left alone; that there is news is said.
    lee.focus("#voltage")
    begun = VOLTS[lee.inner_text("#under")].format("")
    lee.keyboard.type(begun)
    type_one(kim, "19")
    lee.wait_for_selector("#news :text('One reading more, by Kim')", timeout=15_000)
    assert lee.input_value("#voltage") == begun
    lee.keyboard.type("77")
    lee.keyboard.press("Enter")
    lee.keyboard.type("100.02")
    lee.keyboard.press("Enter")
    for page in (kim, lee):
        page.wait_for_selector("text=step 4 was read twice, also as", timeout=15_000)
    assert steps(served.address) == ["1", "2", "3", "4", "4"]


def test_a_study_without_scripts(opened: Any, bench: Callable[..., Served]) -> None:
    served = bench()
    page = opened(java_script_enabled=False)
    ask(page, served.address)
    for n in range(1, 25):
        condition = page.inner_text("#under")
        assert page.inner_text("#now .where").startswith(f"Step {n} of 24")
        page.fill("#voltage", VOLTS[condition].format(f"{n:02d}"))
        if n == 1:
            page.fill("#current", "100.02")
        page.click("#take")
        if page.query_selector(".questioned"):
            page.fill("#anyway", "the meter shows it so")
            page.click("button[value=yes]")
        assert "Kept:" in page.inner_text("main")
    assert "The sheet is done" in page.inner_text("#now")
    assert len(steps(served.address)) == 24
    page.click("text=The whole answer") if page.query_selector("text=The whole answer") else page.click(
        "text=Answer"
    )
    assert "tarnished" in page.inner_text("main")
