"""The check standard over all studies and days, and what it says of the bench."""

from dataclasses import replace

import pytest
from tests.unit.work.cards.shops import BY, START, new_shop, study, take, volts
from tests.unit.work.checked_days import check, daily, standard

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.study import Limit
from ohmsworth.work.cards.writing import add_step, read_card, write_card
from ohmsworth.work.quick_check import WHY_OPENED, next_mating, standing_study, take_check
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_fitness import Asked, day_of, load_fitness, tell_fitness
from ohmsworth.work.shop_settings import ShopSettings, write_settings
from ohmsworth.work.standards import Standard, checks_taken, since_setting, standards
from ohmsworth.work.study_cards import close_study
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_form import MeterForm
from ohmsworth.work.study_log import SET_ASIDE
from ohmsworth.work.take_entry import Sending


def one(shop: Shop) -> Standard:
    (found,) = standards(shop.records)
    return found


def test_checks_of_all_studies_make_one_series_in_order_of_time() -> None:
    shop = new_shop()
    standard(shop)
    first, second = study(shop), study(shop)
    take(shop, second, *check(1.0, 2), *check(1.02, 0, "2"))
    take(shop, first, *check(1.01, 1), volts("lead 7", "0.2"))
    loaded = load_fitness(shop, Desk(shop), Asked(one(shop)), checks_taken(shop.records, one(shop)))
    (table,) = loaded.checks
    assert table.date is not None
    assert table.date.names == ("2026-02-28", "2026-03-01", "2026-03-02")
    assert len(table.table) == 6
    day = day_of(shop, Desk(shop), one(shop))
    assert (day.checks, day.today, day.fit) == (3, True, None)
    assert day.value == pytest.approx(10.2e-3)


def test_two_checks_of_a_day_and_of_two_studies_stay_apart() -> None:
    shop = new_shop()
    standard(shop)
    take(shop, study(shop), *check(1.0, 0), *check(1.01, 0, "2"))
    take(shop, study(shop), *check(1.02, 0))
    assert day_of(shop, Desk(shop), one(shop)).checks == 3


def test_eight_quiet_days_are_fit_and_a_step_is_not() -> None:
    shop = new_shop()
    standard(shop, value="10 mΩ", uncertainty="20 µΩ")
    studies = daily(shop)
    desk = Desk(shop)
    day = day_of(shop, desk, one(shop))
    assert day.fit is True
    assert day.sentence.startswith("Fit today: the last check (2026-03-02, 10.00 mΩ)")
    assert day_of(shop, desk, one(shop)) is day
    take(shop, studies[-1], *check(1.05, 0, "2"))
    day = day_of(shop, desk, one(shop))
    assert day.fit is False
    assert "above the upper limit" in day.reasons[0]
    later = replace(shop, clock=lambda: START.replace(day=4))
    assert day_of(later, desk, one(later)).today is False


def test_a_check_that_is_withdrawn_set_aside_or_under_the_name_before() -> None:
    shop = new_shop()
    card = standard(shop, name="bar")
    study_card = study(shop)
    numbers = take(shop, study_card, *check(1.0, 1, name="bar"), *check(1.3, 0, name="bar"))
    for number in numbers[2:]:
        shop.records.add(study_card, BY, [NewLine(shop.new_key(), SET_ASIDE, about=number, reason="clip")])
    new = dict(read_card(shop.records, card).texts) | {"name": "shunt A"}
    write_card(shop, card, new, "a better name", 99, BY, shop.new_key())
    take(shop, study_card, *check(1.1, 0))
    found = one(shop)
    assert found.names == ("shunt A", "bar")
    taken = checks_taken(shop.records, found)
    assert [each.entry.condition for each in taken] == ["bar", "bar", "shunt A", "shunt A"]
    day = day_of(shop, Desk(shop), found)
    assert (day.checks, day.value) == (2, pytest.approx(11e-3))


def test_ohms_and_volts_are_one_series() -> None:
    shop = new_shop()
    standard(shop)
    ohms = Entry("shunt A", "shunt A", resistance=Typed("10.1", "mΩ", "resistance"), time=START)
    take(shop, study(shop), ohms)
    take(shop, study(shop), *check(1.0, 3))
    off = volts("shunt A", "0.001", "0", "shunt A")
    take(shop, study(shop), off)  # with the current off there is nothing to chart
    day = day_of(shop, Desk(shop), one(shop))
    assert (day.checks, day.value) == (2, pytest.approx(10.1e-3))


def test_charts_that_begin_anew() -> None:
    shop = new_shop()
    card = standard(shop)
    daily(shop)
    shop.records.write_setting(since_setting(card), "2026-02-27", BY)
    assert day_of(shop, Desk(shop), one(shop)).checks == 4
    shop.records.write_setting(since_setting(card), "nonsense", BY)
    assert one(shop).since is None


def test_a_new_calibration_is_held_against_the_checks() -> None:
    shop = new_shop()
    card = standard(shop)
    daily(shop)
    assert day_of(shop, Desk(shop), one(shop)).fit is True
    given = {"on": "2026-03-01", "value": "10.9 mΩ", "uncertainty": "1 µΩ"}
    add_step(shop, card, "calibration", given, "", BY, shop.new_key())
    day = day_of(shop, Desk(shop), one(shop))
    assert day.fit is False
    assert "its calibration says 10.9 mΩ" in day.sentence


def repeated(shop: Shop, toml_more: str = "") -> int:
    """Two people read four specimens three times."""
    from ohmsworth.work.study_cards import open_study

    toml = f'question = "Who reads what?"\n{toml_more}'
    number = open_study(shop, toml, (), BY, shop.new_key())
    for who, more in (("Ada", 0.0), ("Ben", 0.002)):
        for specimen in range(1, 5):
            for trial in range(3):
                text = f"{0.1 * specimen + more + 0.001 * ((trial * 7 + specimen) % 5):.4f}"
                take(
                    shop,
                    number,
                    *(
                        volts(f"S{specimen}", text if sign == "+" else f"-{text}", sign, mating=str(trial + 1), operator=who)
                        for sign in ("+", "-")
                    ),
                )  # fmt: skip
    return number


def test_a_study_of_repeatability_is_told_with_the_shops_checks_and_a_limit() -> None:
    shop = new_shop()
    standard(shop)
    daily(shop)
    number = repeated(shop, '[check_standard]\nname = "shunt A"\n')
    take(shop, number, *check(1.0, 0))
    told = tell_fitness(shop, Desk(shop), Asked(one(shop), number, Limit(3e-3, "the shop"))).answer
    assert told.study is not None
    assert (told.study.specimens, told.study.operators) == (4, 2)
    assert told.control is not None
    assert len(told.control.checks) == 9
    assert told.ability is not None
    assert "3 mΩ" in told.sentence
    alone = tell_fitness(shop, Desk(shop), Asked(None, number)).answer
    assert alone.control is None
    assert alone.study is not None


def test_rows_of_the_standard_in_a_study_that_does_not_name_it_are_no_specimen() -> None:
    shop = new_shop()
    standard(shop)
    number = repeated(shop)
    take(shop, number, *(replace(each, operator="Ada") for each in check(1.0, 0)))
    told = tell_fitness(shop, Desk(shop), Asked(one(shop), number)).answer
    assert told.study is not None
    assert told.study.specimens == 4


def test_meters_are_those_of_the_study_in_which_it_was_read_last() -> None:
    shop = new_shop()
    standard(shop)
    daily(shop, 6)
    found = one(shop)
    desk = Desk(shop)
    assert (
        load_fitness(shop, desk, Asked(found), checks_taken(shop.records, found)).study.bench.voltmeter
        is None
    )
    stated = '[bench.voltmeter]\naccuracy = "0.5 % + 3 counts"\nresolution = "1 µV"'
    number = repeated(shop, stated)
    take(shop, number, *check(1.0, 0, "2"))
    bench = load_fitness(shop, desk, Asked(found), checks_taken(shop.records, found)).study.bench
    assert bench.voltmeter is not None
    assert bench.voltmeter.gain == pytest.approx(0.005)


def test_a_standing_study_is_opened_once_and_follows_its_card() -> None:
    shop = new_shop()
    card = standard(shop)
    desk = Desk(shop)
    meters = ShopSettings(voltmeter=MeterForm("0.5 % + 3 counts", "1 µV"))
    write_settings(shop, meters, BY)
    study_card = standing_study(shop, desk, one(shop), BY)
    assert desk.question(study_card, desk.state(study_card)).bench.voltmeter is not None
    assert standing_study(shop, desk, one(shop), BY) == study_card
    assert desk.question(study_card, desk.state(study_card)).check.value == pytest.approx(0.01)
    close_study(shop, study_card, "by mistake", BY, shop.new_key())
    new = dict(read_card(shop.records, card).texts) | {"name": "bar", "uncertainty": ""}
    write_card(shop, card, new, "a better name", 99, BY, shop.new_key())
    assert standing_study(shop, desk, one(shop), BY) == study_card
    state = desk.state(study_card)
    check_standard = desk.question(study_card, state).check
    assert (check_standard.name, check_standard.value, state.closed) == ("bar", None, False)
    assert WHY_OPENED in [line.reason for line in shop.records.lines(study_card)]


def test_a_check_is_kept_whole_or_not_at_all() -> None:
    shop = new_shop()
    standard(shop)
    desk = Desk(shop)
    study_card = standing_study(shop, desk, one(shop), BY)
    for number in range(1, 3):
        assert take_check(shop, desk, study_card, check(1.0, 0, str(number)), Sending(BY, f"k{number}")).kept
    slip = [*check(1.0, 0, "3")[:1], *check(10.0, 0, "3")[1:]]
    asked = take_check(shop, desk, study_card, slip, Sending(BY, "k3"))
    assert not asked.kept
    assert asked.doubts
    assert len(desk.state(study_card).counted) == 4
    for _ in range(2):  # sent twice
        assert take_check(shop, desk, study_card, slip, Sending(BY, "k3", "it is so")).kept
    state = desk.state(study_card)
    assert len(state.counted) == 6
    assert next_mating(state) == 4
    without = replace(check(1.0, 0)[0], specimen="")
    with pytest.raises(InputRefused):
        take_check(shop, desk, study_card, [without], Sending(BY, "k4"))
