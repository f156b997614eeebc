"""A specimen's readings over all studies, and which name in a study stands for which card."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from tests.unit.work.cards.shops import BY, new_shop, study, take, volts

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.cards.naming import linked, name_specimen
from ohmsworth.work.cards.specimen_history import InStudy, specimen_history, spells
from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.records import NewLine
from ohmsworth.work.shelf import Shelf
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_log import SET_ASIDE, WITHDRAWN


def history(shop: Shop, card: int) -> tuple[InStudy, ...]:
    return specimen_history(shop.records, card, Shelf(shop.records).state)


def ohms(shop: Shop, card: int) -> list[float]:
    return [point.resistance for one in history(shop, card) for point in one.points]


def test_pairs_are_reduced_and_matings_kept_apart() -> None:
    shop = new_shop()
    number = study(shop)
    card = name_specimen(shop, number, "N1", "SN 7", BY, "n")
    # 10 µV of thermal EMF in each: (0.26 + 0.24) / 0.2 and (0.31 + 0.29) / 0.2
    take(shop, number, volts("N1", "0.26"), volts("N1", "-0.24", "-"), specimen=card)
    take(shop, number, volts("N1", "0.31", mating="2"), volts("N1", "-0.29", "-", mating="2"), specimen=card)
    assert ohms(shop, card) == [pytest.approx(2.5e-3), pytest.approx(3e-3)]
    (one,) = history(shop, card)
    assert [(p.mating, p.form) for p in one.points] == [("1", "current reversed"), ("2", "current reversed")]
    (spell,) = spells([one])
    assert (spell.count, spell.median, spell.low, spell.high) == (
        2,
        pytest.approx(2.75e-3),
        pytest.approx(2.5e-3),
        pytest.approx(3e-3),
    )


def test_readings_from_before_the_name_was_given_belong_to_the_card() -> None:
    shop = new_shop()
    number = study(shop)
    take(shop, number, volts("N1", "0.25"), volts("N2", "0.9"))
    card = name_specimen(shop, number, "N1", "SN 7", BY, "n")
    assert ohms(shop, card) == [pytest.approx(2.5e-3)]
    assert [one.number for one in linked(shop.records, card, "study")] == [number]


def test_studies_stand_in_the_order_of_their_readings_and_under_their_own_names() -> None:
    shop = new_shop()
    later, earlier = study(shop, "later"), study(shop, "earlier")
    card = name_specimen(shop, later, "N1", "SN 7", BY, "a")
    assert name_specimen(shop, earlier, "left", card, BY, "b") == card
    take(shop, later, replace(volts("N1", "0.2"), time=datetime(2026, 1, 5, tzinfo=UTC)), specimen=card)
    take(shop, earlier, replace(volts("left", "0.1"), time=datetime(2024, 1, 5, tzinfo=UTC)), specimen=card)
    found = history(shop, card)
    assert [(one.title, one.names) for one in found] == [("earlier", ("left",)), ("later", ("N1",))]
    assert [spell.first.year for spell in spells(found)] == [2024, 2026]


def test_what_was_withdrawn_or_set_aside_is_not_in_the_history() -> None:
    shop = new_shop()
    number = study(shop)
    card = name_specimen(shop, number, "N1", "SN 7", BY, "n")
    first, second, _ = take(
        shop, number, *(volts("N1", text) for text in ("0.1", "0.2", "0.3")), specimen=card
    )
    shop.records.add(
        number, BY, [NewLine("w", WITHDRAWN, about=first), NewLine("s", SET_ASIDE, about=second)]
    )
    assert ohms(shop, card) == [pytest.approx(3e-3)]
    assert history(shop, card)[0].set_aside == 1


def test_volts_ohms_zeros_and_what_gives_no_resistance_stand_side_by_side() -> None:
    shop = new_shop()
    number = study(shop)
    card = name_specimen(shop, number, "N1", "SN 7", BY, "n")
    take(
        shop,
        number,
        Entry("N1", "new", resistance=Typed("4", "mΩ", "resistance")),
        volts("N1", "0.01", "0", current=None),
        volts("N1", "0.21", "+"),
        volts("N1", "0.3", "+", current=None),
        volts("N1", "x", "+", mating="5"),
        volts("N1", "0.3", "+", mating="6", current=Typed("0", "mA", "current")),
        specimen=card,
    )
    assert sorted(ohms(shop, card)) == [pytest.approx(2e-3), pytest.approx(4e-3)]
    assert history(shop, card)[0].unread == 3


def test_a_name_that_stands_for_another_card_now_takes_its_readings_there() -> None:
    shop = new_shop()
    number = study(shop)
    wrong = name_specimen(shop, number, "N1", "SN 7", BY, "a")
    take(shop, number, volts("N1", "0.2"), specimen=wrong)
    right = name_specimen(shop, number, "N1", "SN 8", BY, "b")
    assert ohms(shop, right) == [pytest.approx(2e-3)]
    assert ohms(shop, wrong) == []


def test_naming_is_done_once_and_only_with_a_specimen() -> None:
    shop = new_shop()
    number = study(shop)
    card = name_specimen(shop, number, "N1", "SN 7", BY, "n")
    assert name_specimen(shop, number, "N1", "SN 7", BY, "n") == card
    assert name_specimen(shop, number, " N1 ", card, BY, "m") == card
    assert len(shop.records.lines(number)) == 2
    limit = open_card(shop, "limit", {"name": "x", "resistance": "1 mΩ"}, BY, "l")
    for name, given in (("N2", limit), ("  ", card), ("N2", "SN 7"), ("N2", "")):
        with pytest.raises(InputRefused):
            name_specimen(shop, number, name, given, BY, "o")


def test_a_card_without_a_reading_has_an_empty_history() -> None:
    shop = new_shop()
    assert history(shop, open_card(shop, "specimen", {"serial": "1"}, BY, "k")) == ()
