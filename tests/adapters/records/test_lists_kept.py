"""The workshop's lists over the kept records: opened again, and out and in again with everything they ever said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from tests.unit.work.cards.shops import new_shop
from tests.unit.work.workshop.ordered import PRICES, REELS, OrderShop

from ohmsworth import wiring
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import faces_by
from ohmsworth.work.restore_shop import restore_shop
from ohmsworth.work.workshop.lists import read_lists


def test_a_whole_export_holds_the_lists_and_brings_them_back(address: str, tmp_path: Path) -> None:
    with wiring.open_records(address) as records:
        shop = OrderShop(replace(new_shop(), records=records))
        shop.write("reels", REELS)
        shop.write("prices", PRICES)
        shop.write("reels", REELS + "cord,C1,5,\n", by="Ben")
    with wiring.open_records(address) as records:
        before = read_lists(records)
        assert records.check() == ()
        wiring.write_tree(tmp_path / "all", export_shop(records, wiring.shop_format()))
        (card,) = records.cards("workshop", search="cord")
    folder = tmp_path / "all/workshop"
    assert {one.name: one.read_text("utf-8") for one in folder.iterdir()} == {
        "reels.csv": REELS + "cord,C1,5,\n", "prices.toml": PRICES,
    }  # fmt: skip
    with wiring.open_records(str(tmp_path / "new.sqlite")) as records:
        with wiring.open_shop(tmp_path / "all") as (cards, settings, content):
            restore_shop(records, cards, settings, content, "Kim", faces_by(wiring.cable_ports()))
        assert read_lists(records) == before
        assert [line.by for line in before.reels.lines] == ["Ada", "Ben"]
        assert records.card(card.number) == card
        again = OrderShop(replace(new_shop(), records=records))
        assert again.write("reels", REELS, key="another")  # the same card, and no second one
        assert records.count("workshop") == 1
