"""Takes of the shop's check standards over all its studies: gathered by card, and held to their calibration and each other."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.unit.work.tone_studies import BY, CONTACT, QUESTION, ToneStudy

from ohmsworth import wiring
from ohmsworth.adapters.simulated.sound import TrueContact
from ohmsworth.work.cards.writing import open_card, write_card
from ohmsworth.work.check_takes import CheckTakes, check_takes
from ohmsworth.work.reading_changes import change_reading
from ohmsworth.work.records import Records

#: What the bar is, and a calibration that says so.
BAR = TrueContact(10e-3, 10e-9)
CARD = {"name": "bar A", "value": "10 mΩ", "uncertainty": "20 µΩ"}
#: The question without its check standard: the shop's card alone names it.
PLAIN = QUESTION[: QUESTION.index("[check_standard]")]


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with wiring.open_records(str(tmp_path / "shop.records")) as found:
        yield found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sent")


def of_all(one: ToneStudy) -> tuple[CheckTakes, ...]:
    return check_takes(one.shop, one.desk)


def test_every_standard_of_the_shop_has_its_takes_of_all_studies(records: Records, folder: Path) -> None:
    first = ToneStudy(records, folder, PLAIN, key="first")
    second = ToneStudy(records, folder, PLAIN, key="second")
    assert of_all(first) == ()  # no card yet
    card = open_card(first.shop, "check standard", CARD, BY, "bar")
    open_card(first.shop, "check standard", CARD | {"name": "bar B"}, BY, "other bar")
    first.keep("bar A", "bar A", "one", contact=BAR, seed=1)
    second.keep("bar A", "Bar A", "two", contact=BAR, seed=2)
    second.keep("D1", "dark", "three", contact=CONTACT, seed=3)
    bar, unread = of_all(first)
    assert (bar.name, unread.name) == ("bar A", "bar B")
    assert (unread.takes, unread.agrees) == ((), None)
    assert "has not been recorded yet" in unread.sentence
    assert [one.study for one in bar.takes] == [first.study, second.study]
    assert bar.agrees
    assert "agrees with the 10 mΩ of its calibration" in bar.sentence
    assert "the 1 take before, which noise explains" in bar.sentence
    for one in bar.takes:
        low, high = one.resistance.interval(0.999)
        assert low < BAR.resistance < high
    # The chart goes on under the name that the card has later; what was withdrawn does not count.
    write_card(first.shop, card, CARD | {"name": "the old bar"}, "a better name", 1, BY, "renamed")
    third = ToneStudy(records, folder, PLAIN, key="third")
    third.keep("the old bar", "the old bar", "four", contact=BAR, seed=4)
    number = first.state.takes[0].reading.number
    change_reading(first.shop, first.study, first.state, number, "withdraw", "leads moved", BY, "w")
    renamed = next(one for one in of_all(first) if one.name == "the old bar")
    assert [one.study for one in renamed.takes] == [second.study, third.study]


def test_a_standard_that_has_changed_is_told(records: Records, folder: Path) -> None:
    study = ToneStudy(records, folder, PLAIN)
    open_card(study.shop, "check standard", CARD, BY, "bar")
    study.keep("bar A", "bar A", "one", contact=BAR, seed=1)
    study.keep("bar A", "bar A", "two", contact=TrueContact(10.5e-3, 10e-9), seed=2)
    (bar,) = of_all(study)
    assert bar.agrees is False
    assert "does not agree with the 10 mΩ of its calibration" in bar.sentence
    assert "more than noise explains" in bar.sentence
    # Without a calibration it is held to the takes before alone.
    assert check_takes(study.shop, study.desk, study.study) == ()  # its question names none
