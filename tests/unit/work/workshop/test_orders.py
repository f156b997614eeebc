"""Orders out of the records: the same answers as from folders, each planned once, and taken off the reels when it is cut."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.unit.work.workshop.ordered import LEAD, LINE, PRICES, REELS, OrderShop

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.document import CableFigure
from ohmsworth.work.builds.writing import Sending, open_cable
from ohmsworth.work.records import NewLine, NoSuchCard
from ohmsworth.work.workshop.after import plan_mark, reels_after, write_cut
from ohmsworth.work.workshop.order import ToldWorkshop, workshop_order
from ohmsworth.work.workshop.orders import MOST_CABLES, Order, typed_copies

#: The reels once the order below is cut.
AFTER = "wire,reel,length [m],useful [m]\nstrand,S1,2.8,2\ntwo cores,T1,41,1\ntwo cores,T2,59.8,1\nrope,no. 1,9,\n"


@pytest.fixture
def shop() -> OrderShop:
    """Return one with both lists written."""
    made = OrderShop()
    made.write("reels", REELS)
    made.write("prices", PRICES)
    return made


def told(shop: OrderShop, order: Order) -> ToldWorkshop:
    return shop.orders.tell(shop.orders.lay(order))


def faults(shop: OrderShop, order: Order) -> list[tuple[str, str]]:
    with pytest.raises(InputRefused) as caught:
        shop.orders.lay(order)
    return [(fault.where, fault.found) for fault in caught.value.faults]


def test_it_says_what_the_folders_say(shop: OrderShop, tmp_path: Path) -> None:
    for name, text in (
        ("lead/cable.toml", LEAD),
        ("line/cable.toml", LINE),
        ("reels.csv", REELS),
        ("prices.toml", PRICES),
    ):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    folders = wiring.load_workshop(
        [tmp_path / "lead", tmp_path / "line"], tmp_path / "reels.csv", tmp_path / "prices.toml"
    )
    order = Order({shop.lead: None, shop.line: None})
    assert as_json(told(shop, order).answer) == as_json(workshop_order(folders))


def test_copies_reels_and_prices_are_chosen(shop: OrderShop) -> None:
    answer = told(
        shop, Order({shop.lead: 2, shop.line: 1}, prices=False, without=frozenset({("two cores", "T1")}))
    ).answer
    assert [(cable.name, cable.quantity) for cable in answer.cables] == [("lead", 2), ("line", 1)]
    assert answer.estimate is None
    strand, line = answer.stocks
    # 6 x 3.1 m of 40 m; without T1 the line is cut from T2 though the other would be used up better.
    assert [(reel.name, reel.left) for reel in strand.reels or ()] == [("S1", 21.4)]
    assert [(reel.name, reel.left) for reel in line.reels or ()] == [("T2", 59.8)]
    assert told(shop, Order({shop.lead: 2}, reels=False)).answer.verdict is None


def test_an_order_is_planned_once_and_anew_when_what_it_rests_on_has_changed(shop: OrderShop) -> None:
    order = Order({shop.lead: None})
    first = told(shop, order)
    assert told(shop, order) is first
    shop.write("reels", REELS.replace("S1,40", "S1,60"))
    second = told(shop, order)
    assert [reel.length for reel in second.answer.stocks[0].reels or ()] == [60.0]
    shop.write("prices", PRICES.replace("strand = 0.25", "strand = 0.50"))
    third = told(shop, order)
    assert third.answer.estimate is not None
    assert second.answer.estimate is not None
    # 37.2 m of strand: 9.30 and 18.60
    assert (second.answer.estimate.materials, third.answer.estimate.materials) == ("44.50", "53.80")


def test_the_report_draws_each_cable_with_its_caution(shop: OrderShop) -> None:
    sections = {one.title: one for one in told(shop, Order({shop.lead: 1, shop.line: 1})).report.sections}
    drawn = [block for block in sections["How it is wired"].blocks if isinstance(block, CableFigure)]
    assert [(one.name, len(one.wires), one.caption.split(" as ")[0]) for one in drawn] == [
        ("wiring-1", 3, "lead"), ("wiring-2", 2, "line"),
    ]  # fmt: skip
    assert "flux" in str(sections["How it is wired"].blocks[0])


def test_two_cables_of_one_name_are_told_apart_by_their_numbers(shop: OrderShop) -> None:
    other = open_cable(shop.cables, LEAD, "Ben", "another")
    names = [cable.name for cable in told(shop, Order({shop.lead: 1, other: 1})).answer.cables]
    assert names == [f"lead (no. {shop.lead})", f"lead (no. {other})"]


def test_the_solver_has_less_time_for_each_of_many_wires(shop: OrderShop) -> None:
    kinds = "".join(
        f'[[wires]]\nfrom = "A:{n}"\nto = "B:{n}"\nkind = "k{n}"\n'
        f'[kinds.k{n}]\nresistance = "1 Ω/m"\ntolerance = "5 %"\n'
        for n in range(4, 14)
    )
    toml = LEAD.replace('"1-3"]', '"1-13"]').replace('to = "B:1-3"', 'to = "B:1-3"\nkind = "core"') + kinds
    many = open_cable(shop.cables, toml, "Ada", "many wires")
    assert shop.orders.lay(Order({shop.lead: 1})).seconds == 3.0
    assert shop.orders.lay(Order({shop.lead: 1}, longer=True)).seconds == 20.0
    assert shop.orders.lay(Order({many: 1})).seconds == pytest.approx(15 / 11)


def test_everything_that_is_wrong_is_told_at_once() -> None:
    shop = OrderShop()
    state = shop.cables.state(shop.lead)
    line = NewLine("by-another-program", "cable described", {"toml": state.toml.replace("3 m", "far")})
    shop.shop.records.add(shop.lead, "Ada", [line])
    assert faults(shop, Order({shop.lead: None})) == [
        ("lead, cable.toml, key 'length'", "'far'"), ("reels in stock", "none in the records"), ("prices", "none in the records"),
    ]  # fmt: skip
    assert faults(shop, Order({}, False, False)) == [("this order", "no cable")]
    crowd = dict.fromkeys(range(1, MOST_CABLES + 2))
    assert faults(shop, Order(crowd, False, False)) == [("this order", "101 cables")]
    with pytest.raises(NoSuchCard):
        shop.orders.lay(Order({99: None}, False, False))


def test_copies_are_whole_numbers() -> None:
    assert typed_copies({1: " 3 ", 2: "", 3: "10000"}) == {1: 3, 2: None, 3: 10000}
    with pytest.raises(InputRefused) as caught:
        typed_copies({1: "0", 2: "two", 3: "2.5", 4: "10001", 5: "-1", 6: "٣", 7: "2"})
    assert [fault.where for fault in caught.value.faults] == [f"copies.{n}" for n in range(1, 7)]


def test_what_is_left_is_written_after_the_plan_was_cut(shop: OrderShop) -> None:
    # 12 pieces of 3.1 m leave 2.8 m of S1, which are kept; 40.2 m leave 0.8 m of T1, scrap, or 59.8 m of T2, which are kept.
    order = Order({shop.lead: None, shop.line: 1})
    answer = told(shop, order).answer
    write_cut(shop.shop, answer, plan_mark(answer), Sending("Ben", "the-cut"))
    lists = shop.orders.lists()
    assert lists.reels.text == AFTER
    last = lists.reels.lines[-1]
    assert (last.by, last.reason) == ("Ben", "cut for 4 × lead, 1 × line")
    again = told(shop, order).answer
    write_cut(shop.shop, again, plan_mark(answer), Sending("Ben", "the-cut"))  # sent twice
    assert shop.orders.lists() == lists
    with pytest.raises(InputRefused, match="another plan"):
        write_cut(shop.shop, again, plan_mark(answer), Sending("Ben", "a second cut"))


def test_scrap_and_empty_reels_leave_the_list(shop: OrderShop) -> None:
    shop.write("reels", "wire,reel,length [m],useful [m]\nstrand,S1,9.3,0\nstrand,S2,10,2\n")
    answer = told(shop, Order({shop.lead: 2})).answer
    reels = shop.shop.workshop.reels(shop.orders.lists().reels.text).reels
    assert reels_after(reels, answer) == ()  # one is used up to the end, 0.7 m of the other are of no use
    write_cut(shop.shop, answer, plan_mark(answer), Sending("Ben", "the-cut"))
    assert shop.orders.lists().reels.text == ""
