"""Slips and moving matings are left out of a specimen's cards as they are left out of its study's answer."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from tests.unit.work.cards.shops import BY, new_shop, take, volts
from tests.unit.work.service.served import ServedShop

from ohmsworth.readings.entry import Entry
from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.specimen_history import InStudy, specimen_history
from ohmsworth.work.care.form import CareForm
from ohmsworth.work.care.kept_care import outcomes_kept
from ohmsworth.work.records import NewLine
from ohmsworth.work.results import find_results
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import open_study, study_face
from ohmsworth.work.study_counts import MOVED, counted_in, left_out_of, left_out_words
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_lines import reading_at
from ohmsworth.work.study_log import KEPT, SET_ASIDE
from ohmsworth.work.visits.figures import visits_in

ASKED = 'question = "How is it?"\nreference = "new"\n\n[check_standard]\nname = "shunt"\n'


def pair(specimen: str, milliohms: float, condition: str = "new", mating: str = "1") -> list[Entry]:
    """Forward and back at 100 mA."""
    return [
        volts(specimen, f"{sign}{milliohms / 10:.5f}", sign or "+", condition, mating) for sign in ("", "-")
    ]


def slip(entry: Entry, times: float = 10) -> Entry:
    """The same with its decimal mark moved."""
    assert entry.voltage is not None
    return volts(
        entry.specimen,
        f"{float(entry.voltage.text) * times:.5f}",
        entry.polarity,
        entry.condition,
        entry.mating,
    )


class Counted:
    """A study of eight specimens as new and used, two matings each; the first has one reading with a slip, on line 3."""

    def __init__(self, toml: str = ASKED, specimens: int = 8) -> None:
        self.shop: Shop = new_shop()
        self.desk = Desk(self.shop)
        self.study = open_study(self.shop, toml, (), BY, "q")
        self.card = name_specimen(self.shop, self.study, "N0", "SN 7", BY, "n")
        rng = np.random.default_rng(7)
        entries: list[Entry] = []
        for condition, middle in (("new", 2.16), ("used", 3.2)):
            for number in range(specimens):
                for mating in "12":
                    value = middle * float(np.exp(0.01 * rng.standard_normal()))
                    for again in value * np.exp(0.002 * rng.standard_normal(2)):
                        entries += pair(f"N{number}", again, condition, mating)
        if entries:
            entries[1] = slip(entries[1])
        self.numbers = take(self.shop, self.study, *entries)

    def history(self) -> InStudy:
        (one,) = specimen_history(self.shop.records, self.card, self.desk.state)
        return one

    def left_out(self) -> dict[int, str]:
        return dict(left_out_of(self.desk.state(self.study)))

    def answer_leaves_out(self) -> set[int]:
        state = self.desk.state(self.study)
        numbers = reading_at(state)
        return {numbers[line] for line in find_results(self.desk.loaded(self.study, state)).left_out}


@pytest.fixture
def counted() -> Counted:
    return Counted()


def test_a_slip_is_left_out_of_the_specimens_page_with_a_word_why(counted: Counted) -> None:
    assert max(point.resistance for point in counted.history().points) < 4e-3
    assert (
        counted.history().left_out == "1 reading left out, which looks like a slip of a unit or decimal mark"
    )
    assert counted.left_out() == {counted.numbers[1]: "UNIT_SLIP"}


def test_the_answer_leaves_out_the_same(counted: Counted) -> None:
    """Beside a check standard whose rows are no condition, a moving mating, and a reading that its owner left out."""
    took = take(
        counted.shop,
        counted.study,
        *(volts("N3", f"{0.21 * times:.4f}", mating="9") for times in (1.8, 1.5, 1.3, 1.15)),
        *(volts("N9", f"{text}", condition="shunt") for text in ("1.0", "1.0", "100", "1.0")),
        volts("N4", "21", mating="3"),
    )
    counted.shop.records.add(
        counted.study, BY, [NewLine("s", SET_ASIDE, about=took[-1], reason="wrong plug")]
    )
    found = counted.left_out()
    assert found == {counted.numbers[1]: "UNIT_SLIP", **dict.fromkeys(took[:4], MOVED)}
    check = set(took[4:8])  # to the answer these stand apart
    assert set(found) | {took[-1]} == counted.answer_leaves_out() - check
    numbers = [one.number for one in counted_in(counted.desk.state(counted.study))]
    assert not {*found, took[-1]} & set(numbers)
    assert len(numbers) + 6 == len(counted.numbers) + len(took)


def test_what_its_owner_keeps_counts(counted: Counted) -> None:
    line = NewLine("k", KEPT, about=counted.numbers[1], reason="read twice")
    counted.shop.records.add(counted.study, BY, [line])
    assert counted.left_out() == {}
    assert counted.history().left_out == ""
    assert max(point.resistance for point in counted.history().points) > 10e-3


def test_the_readings_around_it_decide() -> None:
    """The slip is one reading of four here, and one of the two of its mating: too few would call it the rule."""
    counted = Counted()
    one = counted.desk.state(counted.study)
    own = [reading for reading in one.counted if reading.entry.specimen == "N0"][:3]
    assert left_out_of(replace(one, readings=tuple(own))) == {}
    assert counted.left_out() != {}


def test_factors_make_conditions() -> None:
    """What is usual with grease is no slip of what was read without."""
    toml = 'question = "?"\nfactors = ["condition", "grease"]\nreference = ["new", "none"]\n'
    counted = Counted(toml, specimens=0)
    entries = []
    for number in range(6):
        dry, wet = (pair(f"N{number}", ohm, mating=m) for m, ohm in (("1", 2.1), ("2", 21.0)))
        entries += [replace(one, others={"grease": "none"}) for one in [*dry, *dry]]
        entries += [replace(one, others={"grease": "some"}) for one in [*wet, *wet]]
    entries[5] = replace(slip(entries[5], 0.1), others={"grease": "some"})
    numbers = take(counted.shop, counted.study, *entries)
    assert counted.left_out() == {numbers[5]: "UNIT_SLIP"}
    assert counted.answer_leaves_out() == {numbers[5]}


def test_a_question_that_cannot_be_read_hides_no_reading() -> None:
    counted = Counted('question = "unfinished')
    assert counted.left_out() == {counted.numbers[1]: "UNIT_SLIP"}


def test_visits_for_ageing_are_without_it(counted: Counted) -> None:
    """A study's face keeps them: the mean of ln R of the two matings as new."""
    counted.shop.records.renew_face(counted.study, study_face)
    (figures,) = [one for one in counted.shop.records.figures_of("study") if one.card == counted.study]
    visits = visits_in(figures.figures, figures.lines)
    assert visits is not None
    new = next(one for one in visits if one.condition == "new")
    assert np.exp(new.logarithm) == pytest.approx(2.16e-3, rel=0.03)


def test_outcomes_for_care_are_without_it(counted: Counted) -> None:
    form = CareForm(before="new", after={"clean": "used"})
    rows = outcomes_kept(counted.desk, counted.shop, form)
    assert len(rows) == 8
    assert max(row.before for row in rows) < 2.5e-3


def test_a_visit_on_the_service_card_is_without_it() -> None:
    """Read under one condition on two days, so that the card answers by the readings of each day alone."""
    served = ServedShop()
    study = served.study(("2026-03-02", "as found", 4.0))
    served.treat("2026-03-03")
    served.study(("2026-05-01", "as found", 4.0), study=study)
    at = datetime(2026, 5, 1, 10, tzinfo=UTC)
    take(
        served.shop,
        study,
        volts("P1", "4.0", "+", "as found", "2605010", time=at, operator="Zoe"),
        specimen=served.card,
    )
    assert len(left_out_of(served.desk.state(study))) == 1
    now = served.service().now
    assert now is not None
    assert now.resistance == pytest.approx(4e-3, rel=0.01)
    assert "Zoe" not in now.people


def test_words_count_each_kind() -> None:
    assert left_out_words([]) == ""
    assert (
        left_out_words([MOVED] * 2)
        == "2 readings left out, which come from matings that had not come to rest"
    )
    assert left_out_words(["SWAPPED", MOVED, MOVED]) == (
        "3 readings left out: 1 seems to have voltage and current exchanged and "
        "2 come from matings that had not come to rest"
    )
