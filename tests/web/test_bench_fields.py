"""The figures at the bench: which field Enter leads to, units, and what is asked about a figure in the wrong one."""

import re

import pytest
from starlette.testclient import TestClient
from tests.web import test_study_pages
from tests.web.test_study_pages import PART, fields, hidden, page, take

client = test_study_pages.client


def first_button(text: str) -> str:
    """The button of the form that Enter presses in a browser without scripts."""
    form = text[text.index('<form id="entry"') :]
    found = re.search(r"<button[^>]*>", form[: form.index("</form>")])
    assert found
    return found[0]


def by_enter(text: str, **more: str) -> dict[str, str]:
    """What a browser without scripts sends when Enter is pressed in a figure."""
    led = {"led": "yes"} if 'name="led"' in text else {}
    return fields(text, **more) | {"enter": "on"} | led


def focused(text: str) -> list[str]:
    return re.findall(r'<input id="(\w+)"[^>]*autofocus', text)


def test_enter_in_the_voltage_leads_to_the_current_without_scripts_too(client: TestClient) -> None:
    text = page(client, "/studies/1/bench")
    assert 'name="enter"' in first_button(text)
    led = client.post("/studies/1/bench", data=by_enter(text, current=""))
    assert "Step 1 of 24" in led.text
    assert focused(led.text) == ["current"]
    assert 'class="fault"' not in led.text
    taken = client.post("/studies/1/bench", data=by_enter(led.text))
    assert "Step 2 of 24" in taken.text
    assert focused(taken.text) == ["voltage"]

    # A current is remembered now. Two figures and two Enters are one reading all the same.
    led = client.post("/studies/1/bench", data=by_enter(taken.text, current=""))
    assert "Step 2 of 24" in led.text
    assert "Left empty: 100.02 mA, as before. Enter takes it." in led.text
    assert "Step 3 of 24" in client.post("/studies/1/bench", data=by_enter(led.text, current="")).text


def test_the_button_takes_the_reading_with_the_current_as_before(client: TestClient) -> None:
    text = take(client, page(client, "/studies/1/bench/now", **PART))
    answer = client.post("/studies/1/bench", data=fields(text, current=""))
    assert "Step 3 of 24" in answer.text


def test_retyping_a_figure_with_enter_asks_for_no_reason(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    for _ in range(6):
        text = take(client, text)
    asked = client.post("/studies/1/bench", data=fields(text, 10.0), headers=PART)
    assert "Not kept yet" in asked.text
    assert 'name="keep"' not in first_button(asked.text)
    again = client.post("/studies/1/bench", data=fields(asked.text, 10.0) | {"enter": "on"}, headers=PART)
    assert "Not kept yet" in again.text
    assert "Say why" not in again.text


def test_a_current_typed_as_the_voltage_is_asked_about(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    text = take(client, text, voltage="2.5012", current="1.0031", current_unit="A")
    sent = fields(text, voltage="1.0029", current="", current_unit="A")
    asked = client.post("/studies/1/bench", data=sent, headers=PART)
    assert asked.status_code == 409
    assert "was the current typed as the voltage?" in asked.text


def chosen(text: str, quantity: str) -> str:
    part = text[text.index(f'name="{quantity}_unit"') :]
    found = re.search(r"<option selected>([^<]*)</option>", part)
    assert found
    return found[1]


def test_the_unit_behind_a_figure_is_chosen_at_once(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    text = take(client, text, voltage="0.0025012V", current="1.003A")
    assert "Step 2 of 24" in text
    assert (chosen(text, "voltage"), chosen(text, "current")) == ("V", "A")
    assert 'placeholder="1.003"' in text
    assert "Left empty: 1.003 A, as before." in text


def test_a_current_of_another_unit_says_its_unit_in_the_field(client: TestClient) -> None:
    text = take(client, page(client, "/studies/1/bench/now", **PART), current="100.02", current_unit="mA")
    sent = fields(text, current_unit="A", voltage="nothing")
    refused = client.post("/studies/1/bench", data=sent | {"current": ""}, headers=PART)
    assert chosen(refused.text, "current") == "A"
    assert 'placeholder="100.02 mA"' in refused.text


def test_a_question_says_what_was_typed_before_what_it_would_make(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    text = take(client, text, voltage="0.2700", current="100.00")
    sent = fields(text, voltage="2.731", current="100.00")
    asked = client.post("/studies/1/bench", data=sent, headers=PART)
    assert asked.status_code == 409
    assert "Not kept yet: 27.31 mΩ?" in asked.text
    assert re.search(r"With the current both ways it would make 15\.0", asked.text)


def heading(text: str) -> tuple[str, ...]:
    """What the panel says of the step: where it is, whose, and what to do."""
    found = re.search(
        r'<p class="where">(.*?)</p>\s*<h2[^>]*>(.*?)</h2>\s*<p class="do"[^>]*>(.*?)</p>', text, re.DOTALL
    )
    assert found
    return found.groups()


def test_a_comma_before_three_digits_is_decimal_and_that_is_said(client: TestClient) -> None:
    text = page(client, "/studies/1/bench/now", **PART)
    assert "data-comma-said" in text
    text = take(client, text, voltage="2,511", current="1000")
    shown = text[text.index('class="result"') : text.index("How that came about")]
    assert "Read as 2.511 mV: the comma is the decimal mark." in shown


@pytest.mark.parametrize("do", ["", "?do=mating", "?do=repeat"])
def test_a_refused_comma_names_the_setting_and_the_heading_stays(client: TestClient, do: str) -> None:
    take(client, page(client, "/studies/1/bench/now", **PART))
    client.cookies.set("mark", "point")
    text = page(client, f"/studies/1/bench/now{do}", **PART)
    assert "data-comma-said" not in text
    names = ("key", "step", "specimen", "condition", "contact", "mating", "volunteered")
    way = re.search(r'<option value="(.)" selected>', text) or re.search(r'name="polarity" value="(.)"', text)
    assert way
    sent = {name: hidden(text, name) for name in names} | {
        "polarity": way[1],
        "voltage": "1,888",
        "voltage_unit": "mV",
    }
    refused = client.post("/studies/1/bench", data=sent, headers=PART)
    assert refused.status_code == 422
    assert (
        "set the decimal mark of this screen, which is the point, to the comma under Settings" in refused.text
    )
    assert 'href="/settings#screen-here"' in refused.text
    assert heading(refused.text) == heading(text)


def test_a_screen_of_commas_shows_what_was_typed_with_commas(client: TestClient) -> None:
    client.cookies.set("mark", "comma")
    text = take(client, page(client, "/studies/1/bench/now", **PART), voltage="0,2512", current="100,02")
    assert 'placeholder="100,02"' in text
    assert "Left empty: 100,02 mA, as before." in text
    assert "0,2512&nbsp;mV, 100,02&nbsp;mA" in text
    asked = client.post("/studies/1/bench", data=fields(text, voltage="2,512", current=""), headers=PART)
    question = asked.text[asked.text.index('class="questioned"') : asked.text.index("Type the figures again")]
    assert re.search(r"\d,\d", question)
    assert not re.search(r"\d\.\d", question)
    assert "0,2512&nbsp;mV" in page(client, "/studies/1/readings")
    assert 'value="0,2512"' in page(client, "/studies/1/readings/3")
    client.cookies.clear()
    assert "0.2512&nbsp;mV" in page(client, "/studies/1/readings")
