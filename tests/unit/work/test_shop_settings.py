"""The shop's settings: read back as written, refused with the field's name, and what rests on them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.work.cards.shops import new_shop

from ohmsworth.errors import InputRefused
from ohmsworth.report.document import Document
from ohmsworth.work.shop_settings import (
    AHEAD,
    ShopSettings,
    as_texts,
    from_texts,
    read_settings,
    signed,
    with_default_meters,
    write_settings,
)
from ohmsworth.work.study_form import MeterForm, StudyForm

GOOD = ShopSettings(
    "Ohm & sons",
    "1 Long Lane\nTown",
    voltmeter=MeterForm("0.05 % + 5 counts", "1 µV"),
    days_ahead="14",
    copies_folder="/media/disk/copies",
)
LINE = st.text(st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=60).map(str.strip)


def test_they_come_back_and_only_what_changed_is_written() -> None:
    shop = new_shop()
    assert read_settings(shop.records) == ShopSettings()
    assert write_settings(shop, GOOD, "Ann") == 6
    assert read_settings(shop.records) == GOOD
    assert read_settings(shop.records).ahead == 14
    assert write_settings(shop, GOOD, "Ann") == 0
    assert write_settings(shop, ShopSettings(), "Lee") == 6
    lines = shop.records.setting_lines()
    assert len(lines) == 12
    assert {(one.by, one.value) for one in lines[:6]} == {("Lee", "")}
    assert read_settings(shop.records).ahead == AHEAD


@given(LINE, LINE)
def test_any_name_and_address_come_back(name: str, address: str) -> None:
    shop = new_shop()
    write_settings(shop, ShopSettings(name, address), "Ann")
    assert read_settings(shop.records) == ShopSettings(name, address)
    assert from_texts(as_texts(GOOD)) == GOOD


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("days_ahead", "0", "whole number from 1 to 366"),
        ("days_ahead", "soon", "whole number"),
        ("days_ahead", "99999999999", "whole number"),
        ("copies_folder", "copies", "from the root"),
        ("copies_folder", "../copies", "from the root"),
        ("voltmeter.accuracy", "good", ""),
        ("ammeter.resolution", "10 µV", ""),
        ("shop_name", "x" * 401, "up to 400"),
    ],
)
def test_a_fault_is_told_by_its_field_and_nothing_is_written(name: str, text: str, said: str) -> None:
    shop = new_shop()
    texts = as_texts(GOOD) | {"ammeter.accuracy": "0.2 % + 3 counts", "ammeter.resolution": "10 µA"}
    with pytest.raises(InputRefused) as refused:
        write_settings(shop, from_texts(texts | {name: text}), "Ann")
    (fault,) = refused.value.faults
    assert fault.where == name
    assert said in fault.expected
    assert shop.records.settings() == {}


def test_what_others_wrote_under_these_names_is_no_error() -> None:
    shop = new_shop()
    shop.records.write_setting("days ahead", "soon", "Ann")
    assert read_settings(shop.records).ahead == AHEAD


def test_a_new_study_begins_with_the_meters_and_a_report_ends_with_the_shop() -> None:
    assert with_default_meters(StudyForm(), GOOD).voltmeter == GOOD.voltmeter
    document = Document("t", "s", "en", "Made.", ())
    assert signed(document, GOOD).footer == "Ohm & sons, 1 Long Lane, Town. Made."
    assert signed(document, ShopSettings()) == document
