"""Visits of the records: which course a reading belongs to, and which treatment it followed."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from tests.adapters.records_in_memory import RecordsInMemory

from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.cards.kinds import TREATED
from ohmsworth.work.cards.log import WRITTEN, face_of
from ohmsworth.work.care.visited import Visited, look_through
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import SET_ASIDE, TAKEN, WITHDRAWN


class Shop:
    """Records with one specimen, no. 1."""

    def __init__(self) -> None:
        self.records = RecordsInMemory()
        self.studies = 0
        line = NewLine(
            "card", WRITTEN, {"serial": "S1", "plating": "gold", "what": "socket", "received": "2020-01-01"}
        )
        self.records.open_card("specimen", "Kim", [line], face_of("specimen"))

    def treated(self, what: str, on: str, read_as: str = "") -> None:
        fields = {"what": what, "on": on, "read_as": read_as}
        self.records.add(1, "Kim", [NewLine(f"{what} {on}", TREATED, fields)], face_of("specimen"))

    def study(self, *read: tuple[str, str, float], contact: str = "") -> int:
        """A study of one specimen: moment, condition and mΩ of each reading."""
        self.studies += 1
        lines = [NewLine(f"q{self.studies}", "question written", {"toml": ""})]
        lines += [
            NewLine(
                f"r{self.studies}.{k}",
                TAKEN,
                entry=Entry(
                    "a",
                    condition,
                    contact=contact,
                    mating=str(k),
                    resistance=Typed(str(ohm), "mΩ", "resistance"),
                    time=datetime.fromisoformat(at).replace(tzinfo=UTC),
                ),
                specimen=1,
            )
            for k, (at, condition, ohm) in enumerate(read)
        ]
        return self.records.open_card("study", "Kim", lines, study_face)

    def visits(self) -> tuple[Visited, ...]:
        return look_through(self.records).visits


@pytest.fixture
def shop() -> Shop:
    return Shop()


def test_all_readings_of_a_day_are_one_visit_also_of_two_studies(shop: Shop) -> None:
    """By hand: the mean of the logarithms of 4, 9 and 6 mΩ is that of 6 mΩ."""
    shop.study(("2024-01-01T09:00", "as found", 4.0), ("2024-01-01T09:10", "as found", 9.0))
    shop.study(("2024-01-01T15:00", "as found", 6.0))
    (one,) = shop.visits()
    assert one.logarithm == pytest.approx(-5.115996, abs=1e-6)
    assert one.told["part"] == "socket"
    assert (one.told["plating"], one.told["supplier lot"]) == ("gold", "")
    assert one.made is not None


@pytest.mark.parametrize(
    ("first", "told"),
    [
        ("2019-12-31", ""),
        ("2020-01-01", "under a year old"),
        ("2020-12-30", "under a year old"),
        ("2021-01-02", "1 to 3 years old"),
        ("2023-01-02", "3 to 10 years old"),
        ("2030-01-02", "over 10 years old"),
    ],
)
def test_age_is_that_at_which_it_was_read_first(shop: Shop, first: str, told: str) -> None:
    """Received on 2020-01-01; a reading before that day says that the card is wrong."""
    shop.study((f"{first}T09:00", "as found", 4.0), ("2034-01-01T09:00", "as found", 5.0))
    assert [one.told["age"] for one in shop.visits()] == [told, told]


def test_what_is_withdrawn_set_aside_or_no_ratio_does_not_count(shop: Shop) -> None:
    number = shop.study(
        *((f"2024-0{k}-01T09:00", "as found", 4.0) for k in range(1, 5)), ("2024-09-01T09:00", "as found", -1)
    )
    lines = [NewLine("w", WITHDRAWN, about=2, reason="slip"), NewLine("s", SET_ASIDE, about=3, reason="slip")]
    shop.records.add(number, "Kim", lines)
    assert [one.day.month for one in shop.visits()] == [3, 4]


def test_a_reading_that_was_added_without_a_new_face_counts(shop: Shop) -> None:
    number = shop.study(("2024-01-01T09:00", "as found", 4.0))
    assert len(shop.visits()) == 1
    time = datetime(2024, 6, 1, tzinfo=UTC)
    entry = Entry("a", "as found", resistance=Typed("5", "mΩ", "resistance"), time=time)
    shop.records.add(number, "Kim", [NewLine("more", TAKEN, entry=entry, specimen=1)])
    assert look_through(shop.records, 0).waiting == 1
    assert len(shop.visits()) == 2
    assert look_through(shop.records, 0).waiting == 0


def test_readings_that_cannot_be_reduced_keep_nobody_from_writing(shop: Shop) -> None:
    number = shop.study(("2024-01-01T09:00", "as found", 4.0))
    entry = Entry(
        "a",
        "as found",
        resistance=Typed("5", "mΩ", "resistance"),
        temperature=Typed("warm", "°C", "temperature"),
    )
    shop.records.add(number, "Kim", [NewLine("odd", TAKEN, entry=entry, specimen=1)], study_face)
    assert shop.visits() == ()
    assert look_through(shop.records, 0).waiting == 0


def test_two_conditions_on_the_day_of_a_treatment_are_before_and_after(shop: Shop) -> None:
    shop.treated("clean", "2024-01-01")
    shop.study(
        ("2023-01-01T09:00", "as found", 5.0),
        ("2024-01-01T09:00", "as found", 6.0),
        ("2024-01-01T10:00", "cleaned", 3.0),
        ("2025-01-01T09:00", "as found", 3.5),
    )
    found = [
        (one.day.year, one.told["condition"], one.told["treatment"], one.course) for one in shop.visits()
    ]
    assert found == [
        (2023, "as found", "not treated", ("as found", 0)),
        (2024, "as found", "not treated", ("as found", 0)),
        # What it is right after the treatment is where the readings of later years begin.
        (2024, "cleaned", "clean", ("as found", 1)),
        (2025, "as found", "clean", ("as found", 1)),
    ]


def test_on_a_sheet_without_times_the_condition_of_earlier_days_came_first(shop: Shop) -> None:
    shop.treated("clean", "2024-01-01")
    shop.study(
        ("2023-01-01T00:00", "old", 5.0),
        ("2024-01-01T00:00", "bright", 3.0),
        ("2024-01-01T00:00", "old", 6.0),
    )
    found = {(one.day.year, one.told["condition"]): one.told["treatment"] for one in shop.visits()}
    assert found == {(2023, "old"): "not treated", (2024, "old"): "not treated", (2024, "bright"): "clean"}


@pytest.mark.parametrize(
    ("read_as", "first"), [("", "not treated"), ("In Use", "wipe"), ("wiped", "not treated")]
)
def test_one_condition_on_that_day_was_read_before_it_unless_the_card_says_so(
    shop: Shop, read_as: str, first: str
) -> None:
    shop.treated("wipe", "2024-01-01", read_as)
    shop.study(("2024-01-01T09:00", "in use", 6.0), ("2025-01-01T09:00", "in use", 6.5))
    assert [one.told["treatment"] for one in shop.visits()] == [first, "wipe"]


def test_what_the_card_says_counts_before_the_order_of_reading(shop: Shop) -> None:
    shop.treated("clean", "2024-01-01", "cleaned")
    shop.study(("2024-01-01T09:00", "cleaned", 3.0), ("2024-01-01T10:00", "dark", 6.0))
    assert {one.told["condition"]: one.told["treatment"] for one in shop.visits()} == {
        "cleaned": "clean", "dark": "not treated",
    }  # fmt: skip


def test_the_last_of_several_treatments_counts(shop: Shop) -> None:
    shop.treated("clean", "2024-01-01")
    shop.treated("wipe", "2022-01-01")
    shop.study(*((f"{year}-06-01T09:00", "as found", 5.0) for year in (2021, 2022, 2024)))
    found = [(one.told["treatment"], one.course[1]) for one in shop.visits()]
    assert found == [("not treated", 0), ("wipe", 1), ("clean", 2)]


def test_what_was_read_after_the_second_treatment_of_a_day_was_read_after_the_first_too(shop: Shop) -> None:
    shop.treated("exercise", "2024-01-01", "exercised")
    shop.treated("clean", "2024-01-01", "cleaned")
    shop.study(
        ("2024-01-01T09:00", "as found", 9.0),
        ("2024-01-01T10:00", "exercised", 6.0),
        ("2024-01-01T11:00", "cleaned", 3.0),
        ("2025-01-01T09:00", "in use", 3.5),
    )
    assert [(one.told["treatment"], one.course) for one in shop.visits()] == [
        ("not treated", ("as found", 0)),
        ("exercise", ("exercised", 1)),
        ("clean", ("in use", 2)),
        ("clean", ("in use", 2)),
    ]
