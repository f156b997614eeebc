"""What to do with a contact: the chance that it matters, forbidden remedies, plating, what would change the advice, words."""

from dataclasses import replace

import pytest
from scipy import stats
from tests.unit.advice.remedy import remedy

from ohmsworth.advice.care import FAILURE, LEAVE, MATTERS, Care, Found, advise_care, for_care
from ohmsworth.advice.cautions import ALCOHOL, CLEANER, SILVER_DIP, SOLDERING, UNPOWERED
from ohmsworth.advice.courses import MEASURE, Prices, best_courses
from ohmsworth.advice.remedies import USUAL_NAMES, PlatingLost, times_left, usual_remedies
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.outcomes import Outcomes
from ohmsworth.materials.span import Span
from ohmsworth.sources import SOURCES

PRICES = Prices(labour=60.0, failure=90.0, retest_minutes=2.0)
MATERIALS = dict.fromkeys(USUAL_NAMES, 0.5) | {"replace": 8.0}
LIKELY = Found(12e-3, 2e-3, 5)


def usual(found: Found = LIKELY, margin: float = 10e-3, prices: Prices = PRICES) -> Care:
    return advise_care(found, margin, usual_remedies(MATERIALS), prices)


def test_the_chance_that_it_matters_is_that_of_being_above_the_margin() -> None:
    """Source: JCGM106 7.3, with Student's t."""
    assert usual().chance_matters == pytest.approx(float(stats.t.sf(-1.0, 5)))


def test_options_are_ranked_and_add_up() -> None:
    found = usual()
    totals = [option.course.costs.total for option in found.options]
    assert totals == sorted(totals)
    assert {option.name for option in found.options} == {LEAVE, MEASURE, *USUAL_NAMES}
    assert found.best.name == "exercise"
    assert found.best.course.names[0] == "exercise"


def test_a_good_contact_is_left_and_a_bad_one_is_not() -> None:
    assert usual(Found(1e-3, 1e-4)).best.name == LEAVE
    assert usual(Found(50e-3, 1e-3)).best.name != LEAVE


def test_what_the_maker_forbids_is_in_no_course_and_it_is_said_who_prevails() -> None:
    forbidden = {"exercise": "the connector maker's", "clean": "the connector maker's"}
    found = advise_care(LIKELY, 10e-3, usual_remedies(MATERIALS, forbidden), PRICES)
    used = {name for option in found.options for name in (option.name, *option.course.names)}
    assert not used & set(forbidden)
    assert [gone.name for gone in found.left_out] == ["exercise", "clean"]
    said = " ".join(action.words + action.why for action in for_care(found))
    assert "The connector maker's instructions forbid it, and they prevail." in said


def test_a_doubtful_contact_is_measured_before_it_is_treated() -> None:
    found = usual(Found(9e-3, 2e-3, 5))
    assert found.best.name == MEASURE
    actions = for_care(found)
    assert actions[0].words == "Measure it again before anything is done to it, on several matings."
    assert "if it is, go on with exercising, then" in actions[1].words.lower()


def test_own_records_change_the_advice() -> None:
    seen = {"exercise": Outcomes(0, 30), "wipe": Outcomes(29, 30)}
    found = advise_care(LIKELY, 10e-3, usual_remedies(MATERIALS, seen=seen), PRICES)
    assert found.best.name == "wipe"
    assert usual_remedies(MATERIALS, seen=seen)[1].chance.mean == pytest.approx(30 / 32)


def test_a_plating_that_is_gone_forbids_and_a_thin_one_warns() -> None:
    dip = replace(remedy("dip", 1, 0, 0.9), lost=PlatingLost(Span(0.1e-6, 0.5e-6), "practice"))
    left = times_left(Span(2e-6, 2e-6), dip, 0)
    assert left is not None
    assert (left.low, left.high) == pytest.approx((4, 20))
    assert times_left(Span(2e-6, 2e-6), remedy("wipe", 1, 0, 0.9), 0) is None
    thin = advise_care(LIKELY, 10e-3, [dip], PRICES, Span(2e-6, 2e-6), {"dip": 4})
    assert thin.best.name == "dip"
    assert any("through the plating" in caution for action in for_care(thin) for caution in action.cautions)
    gone = advise_care(LIKELY, 10e-3, [dip], PRICES, Span(2e-6, 2e-6), {"dip": 20})
    assert [one.name for one in gone.left_out] == ["dip"]
    assert gone.best.name == LEAVE


def test_a_switch_is_where_the_best_changes() -> None:
    found = usual(Found(9e-3, 2e-3, 5))
    remedies = usual_remedies(MATERIALS)
    at_matters = [switch for switch in found.switches if switch.what == MATTERS]
    assert [switch.instead for switch in at_matters] == [LEAVE, "exercise"]
    for switch in at_matters:
        beyond = switch.at + 1e-6 * (1 if switch.at > switch.value else -1)
        short = switch.at - 1e-6 * (1 if switch.at > switch.value else -1)
        for p, name in ((beyond, switch.instead), (short, found.best.name)):
            names = best_courses(p, remedies, PRICES)[0].names
            assert (names[0] if names else LEAVE) == name
    assert at_matters[0].at == pytest.approx(found.best.pays_above)


def test_a_price_near_its_break_even_is_a_switch() -> None:
    one = remedy("clean", 6, 0.0, 0.8)
    found = advise_care(Found(10e-3, 1e-3), 10e-3, [one], Prices(60.0, 25.0, 2.0))
    failure = next(switch for switch in found.switches if switch.what == FAILURE)
    # To measure first costs 2 + 0.5 (8 + 0.2 F), to leave it 0.5 F.
    assert failure.at == pytest.approx(6 / 0.4)
    assert (found.best.name, failure.instead) == (MEASURE, LEAVE)
    helps = next(switch for switch in found.switches if switch.what == "clean")
    assert helps.at == pytest.approx(6 / (0.5 * 25))


def test_words_say_what_pays_and_close_the_job_with_a_test() -> None:
    found = usual()
    actions = for_care(found)
    assert "pays when the chance that the contact matters is above" in actions[0].why
    assert any(action.words.startswith("Read it again") for action in actions)
    assert any(UNPOWERED in action.cautions for action in actions)
    left = for_care(usual(Found(1e-3, 1e-4)))
    assert left[0].words == "Leave this contact as it is."
    assert "would pay above" in left[0].why
    costly = for_care(usual(prices=Prices(60.0, 0.0, 2.0)))
    assert "nothing that may be done to it would pay" in costly[0].why


def test_every_usual_remedy_has_its_cautions_beside_its_steps() -> None:
    needed = {"clean": {CLEANER, ALCOHOL, SILVER_DIP}, "re-terminate": {SOLDERING}, "replace": {SOLDERING}}
    for one in usual_remedies(MATERIALS):
        beside = {caution for step in one.steps for caution in step.cautions}
        assert UNPOWERED in beside
        assert needed.get(one.name, set()) <= beside
        assert one.source in SOURCES
        assert one.minutes > 0


def test_wrong_arguments_are_refused() -> None:
    with pytest.raises(ArgumentFault):
        usual_remedies({"clean": 1.0})
    with pytest.raises(ArgumentFault):
        usual_remedies(MATERIALS | {"polish": 1.0})
    with pytest.raises(ArgumentFault):
        usual(margin=0.0)
    with pytest.raises(ArgumentFault):
        Found(float("nan"), 1e-3)
