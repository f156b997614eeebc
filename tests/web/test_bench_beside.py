"""Readings beside the sheet: taken again, with the partner that they need, and the way back."""

import html
import re

import pytest
from starlette.testclient import TestClient
from tests.web import test_study_pages
from tests.web.test_study_pages import FORM, PART, VOLTS, hidden, page, take

from ohmsworth.readings.plan_request import BEFORE_AND_AFTER

client = test_study_pages.client
NOW = "/studies/1/bench/now"
PARTNER = "The last mating has a reading without its partner"


def beside(client: TestClient, text: str) -> str:
    """Take the reading that a form beside the sheet asks for."""
    names = ("key", "specimen", "condition", "contact", "mating")
    sent = {name: hidden(text, name) for name in names} | {
        "step": "",
        "volunteered": "yes",
        "polarity": polarity(text),
    }
    sent |= {
        "voltage": f"{VOLTS[sent['condition']]}11",
        "voltage_unit": "mV",
        "current": "100.02",
        "current_unit": "mA",
    }
    answer = client.post("/studies/1/bench", data=sent | {"anyway": "read again"}, headers=PART)
    assert answer.status_code == 200, answer.text
    return answer.text


def polarity(text: str) -> str:
    if 'type="hidden" name="polarity"' in text:
        return hidden(text, "polarity")
    part = text[text.index('id="label-polarity"') :]
    return part[: part.index(" selected")].rpartition('value="')[2].rstrip('"')


def forms_of(client: TestClient) -> str:
    """How the answer says that its resistances were formed."""
    return html.unescape(page(client, "/studies/1/answer"))


@pytest.mark.parametrize("taken", [1, 2])
def test_a_reading_taken_again_gets_its_partner(client: TestClient, taken: int) -> None:
    """After a pair, and before the current is turned round: in the end every reading is one of two."""
    text = page(client, NOW, **PART)
    for _ in range(taken):
        text = take(client, text)
    repeated = page(client, f"{NOW}?do=repeat", **PART)
    assert polarity(repeated) == ("+" if taken == 1 else "-")
    text = beside(client, repeated)
    if taken == 1:
        # The sheet's own step is in the same mating and leads first.
        assert "Step 2 of 24" in text
        text = take(client, text)
    assert PARTNER in text
    assert polarity(text) == ("-" if taken == 1 else "+")
    assert PARTNER in page(client, NOW, **PART)
    assert "Step 3 of 24" in page(client, f"{NOW}?do=sheet", **PART)
    text = beside(client, text)
    assert "Step 3 of 24" in text
    assert PARTNER not in text
    assert "ONE_POLARITY" not in forms_of(client)


def test_who_does_not_want_the_partner_goes_back_to_the_sheet(client: TestClient) -> None:
    text = page(client, NOW, **PART)
    for _ in range(2):
        text = take(client, text)
    text = beside(client, page(client, f"{NOW}?do=repeat", **PART))
    assert 'href="/studies/1/bench?do=sheet"' in text
    text = page(client, f"{NOW}?do=sheet", **PART)
    assert "do=sheet" not in text
    assert "Step 4 of 24" in take(client, text)


def test_forward_and_reversed_are_explained_with_the_first_reading_of_each(client: TestClient) -> None:
    text = page(client, NOW, **PART)
    assert "Forward is the way round that you choose now" in text
    text = take(client, text)
    assert "Reversed: exchange the two current leads" in text
    for _ in range(3):
        text = take(client, text)
        assert 'id="which-way"' not in text


def test_no_two_fields_of_a_question_have_one_label(client: TestClient) -> None:
    labels = re.findall(r"<label for=\"[^\"]*\">\s*([^<]*[^<\s])", page(client, "/studies/new"))
    assert len(labels) > 10
    assert len(labels) == len(set(labels))


def test_the_same_specimen_is_cleaned_before_it_is_read_in_the_other_condition(client: TestClient) -> None:
    asked = FORM | {"conditions": "as found\ncleaned", "assignment": BEFORE_AND_AFTER, "key": "before-after"}
    answer = client.post("/studies/new", data=asked, follow_redirects=False)
    ahead = page(client, answer.headers["location"] + "/ahead", **PART)
    assert ahead.count("Clean it now, then mate it (1st mating)") == 3
