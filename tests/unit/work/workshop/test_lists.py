"""The workshop's lists in the records: nothing is written over, and what cannot be read is kept from being written."""

from __future__ import annotations

import pytest
from tests.unit.work.workshop.ordered import PRICES, REELS, OrderShop

from ohmsworth.errors import InputRefused
from ohmsworth.work.workshop.lists import read_lists


def refused(shop: OrderShop, *given: object, **more: object) -> list[tuple[str, str]]:
    with pytest.raises(InputRefused) as caught:
        shop.write(*given, **more)  # type: ignore[arg-type]
    return [(fault.where, fault.found) for fault in caught.value.faults]


def test_before_anything_is_written_there_is_nothing() -> None:
    lists = OrderShop().orders.lists()
    assert (lists.reels.text, lists.prices.text, lists.reels.written) == ("", "", 0)


def test_every_text_that_a_list_had_stays() -> None:
    shop = OrderShop()
    assert shop.write("reels", REELS)
    assert shop.write("prices", PRICES)
    assert shop.write("reels", REELS.replace("S1,40", "S1,35"), by="Ben")
    assert not shop.write("reels", REELS.replace("S1,40", "S1,35"))
    lists = read_lists(shop.shop.records)
    assert [(line.by, "S1,40" in line.fields["text"]) for line in lists.reels.lines] == [
        ("Ada", True),
        ("Ben", False),
    ]
    assert lists.reels.text == REELS.replace("S1,40", "S1,35")
    assert lists.prices.text == PRICES
    assert shop.orders.lists() == lists  # read on from what was known
    assert shop.shop.records.count("workshop") == 1


def test_it_is_found_by_what_stands_in_it() -> None:
    shop = OrderShop()
    shop.write("reels", REELS)
    (card,) = shop.shop.records.cards("workshop", search="rope")
    assert card.face.title == "Reels and prices"


def test_what_cannot_be_read_is_told_by_line_and_not_kept() -> None:
    shop = OrderShop()
    found = refused(shop, "reels", "wire,length [m]\nstrand,much\n,4\n")
    assert [where for where, _ in found] == [
        "reels.csv, line 2, column 'length'",
        "reels.csv, line 3, column 'wire'",
    ]
    assert [where for where, _ in refused(shop, "prices", "hourly_rate = 60\ntip = 1\n")] == [
        "prices.toml, key 'currency'", "prices.toml, key 'tip'",
    ]  # fmt: skip
    assert shop.shop.records.count("workshop") == 0


def test_a_list_that_somebody_else_changed_meanwhile_is_not_written_over() -> None:
    shop = OrderShop()
    shop.write("reels", REELS)
    shop.write("prices", PRICES)  # another list is no hindrance
    seen = shop.orders.lists().reels.written
    shop.write("reels", REELS + "cord,C1,5,\n", by="Ben")
    assert refused(shop, "reels", REELS + "twine,W1,5,\n", seen=seen) == [
        ("reels.csv", "changed by Ben since this form was opened")
    ]
    assert "cord" in shop.orders.lists().reels.text


def test_the_same_sending_twice_writes_once_even_after_another() -> None:
    shop = OrderShop()
    assert shop.write("reels", REELS, key="one")
    assert shop.write("reels", REELS + "cord,C1,5,\n", key="two")
    assert not shop.write("reels", REELS, key="one")
    assert "cord" in shop.orders.lists().reels.text


def test_a_list_can_be_emptied_and_what_it_said_stays() -> None:
    shop = OrderShop()
    shop.write("reels", REELS)
    assert shop.write("reels", " \n ")
    lists = shop.orders.lists()
    assert lists.reels.text == ""
    assert lists.reels.lines[0].fields["text"] == REELS
