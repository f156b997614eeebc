"""A season of cables: counted, followed, told; checked against seasons whose truth is known."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from scipy import stats
from tests.unit.work.builds.built import TOML, BuiltShop
from tests.unit.work.builds.seasons import MONDAY, cable, drifting

from ohmsworth.adapters.render.fragment import to_fragment
from ohmsworth.report.document import Bullets, LineFigure, Table
from ohmsworth.work.builds.face import plain_face
from ohmsworth.work.builds.season import Season, anew, period_of, season_of
from ohmsworth.work.builds.season_csv import HEADER, season_csv
from ohmsworth.work.builds.season_words import season_report, season_sentence
from ohmsworth.work.records import CardFigures


def tables(season: Season) -> list[Table]:
    return [
        block for part in season_report(season).sections for block in part.blocks if isinstance(block, Table)
    ]


@pytest.mark.parametrize(
    ("faults", "sentence"),
    [
        ([["open"], ["open", "over"]], "What was wrong most often: a wire does not reach, in 2 cables."),
        (
            [["open", "crossed"], ["open", "crossed"], ["over"]],
            "What was wrong most often, in 2 cables each: two wires exchanged; a wire does not reach.",
        ),
        (
            [["open"], ["crossed"], ["over"]],
            "What was wrong most often, in 1 cable each: two wires exchanged; a wire does not reach; a wire over its bounds.",
        ),
        (
            [["open", "crossed", "over", "touch"]],
            "What was wrong most often, in 1 cable each: several kinds of fault.",
        ),
    ],
)
def test_all_kinds_that_are_most_often_are_named(faults: list[list[str]], sentence: str) -> None:
    season = season_of([cable(MONDAY, "wrong", faults=kinds) for kinds in faults], "week")
    (said,) = [
        item
        for block in season_report(season).sections[0].blocks
        if isinstance(block, Bullets)
        for item in block.items
        if "most often" in item
    ]
    assert said == sentence


def test_a_day_lies_in_its_week_and_in_its_month() -> None:
    assert period_of("2026-01-11", "week") == MONDAY
    assert period_of("2026-01-12", "week") == date(2026, 1, 12)
    assert period_of("2026-01-01", "week") == date(2025, 12, 29)
    assert period_of("2026-01-31", "month") == date(2026, 1, 1)


def test_each_cable_is_counted_once_by_its_first_complete_test() -> None:
    found = [
        cable(MONDAY),
        cable(MONDAY, "wrong", faults=["open", "over"]),
        cable(MONDAY + timedelta(days=6), "look first"),
        cable(MONDAY + timedelta(days=7), "wrong", faults=["over"]),
        cable(MONDAY, None),
        CardFigures(7, "older", "right", {}),
        CardFigures(8, "new", "not tested", {}),
    ]
    season = season_of(found, "week")
    counts = [(one.start, one.tested, one.right, one.wrong, one.unsure) for one in season.periods]
    assert counts == [(MONDAY, 3, 1, 1, 1), (MONDAY + timedelta(days=7), 1, 0, 1, 0)]
    assert season.faults == (("over", 2), ("open", 1))
    assert (season.tested, season.right, season.begun, season.unread) == (4, 1, 1, 1)
    assert (
        season_sentence(season)
        == "Of 4 cables tested since the week of 2026-01-05, 25 % were right at the first complete test."
    )
    assert [one.tested for one in season_of(found, "month").periods] == [4]


def test_the_interval_of_a_share_is_the_exact_one() -> None:
    season = season_of([cable(MONDAY)] * 9 + [cable(MONDAY, "wrong", faults=["touch"])], "week")
    exact = stats.binomtest(9, 10).proportion_ci(0.95, "exact")
    assert (season.periods[0].low, season.periods[0].high) == pytest.approx((exact.low, exact.high))


def test_a_planted_drift_is_found_and_none_is_made_up() -> None:
    (course,) = season_of(drifting(26, 0.02, 0.002), "week").connectors
    assert course.drift is not None
    assert course.drift.low < 0.02 < course.drift.high
    assert course.drift.low > 0
    report = str(season_report(season_of(drifting(26, 0.02, 0.002), "week")))
    assert "“jack” rises by" in report
    still = season_report(season_of(drifting(26, 0.0, 0.002), "week"))
    assert "Of no connector and no conductor is it shown that it drifts." in str(still)


def test_what_the_cables_of_a_week_share_makes_no_drift() -> None:
    """20 cables of each of 5 weeks, whose weeks differ: held for 100 observations, every second season would drift."""
    wrong = 0
    for seed in range(200):
        (course,) = season_of(drifting(5, 0.0, 0.01, seed), "week").connectors
        assert course.drift is not None
        wrong += course.drift.low * course.drift.high > 0
    # Two lines (the conductor's has none of its own to lose) share 5 %: 2.5 % of 200, and what chance adds to that.
    assert wrong <= stats.binom.ppf(0.999, 200, 0.025)


def test_few_periods_give_no_trend() -> None:
    season = season_of(drifting(2, 0.5, 0.0), "week")
    assert [one.drift for one in season.connectors] == [None]
    assert "fewer than 3 weeks" in str(tables(season)).replace("\\xa0", " ")
    assert "Whether anything drifts is not to be told before 3 weeks have cables." in str(
        season_report(season)
    )
    three = season_of(drifting(3, 0.0, 0.3), "week")
    assert "cannot tell yet" in str(tables(three)).replace("\\xa0", " ")


@pytest.mark.parametrize("by", ["week", "month"])
def test_it_is_drawn_whatever_there_is(by: str) -> None:
    seasons = [
        [],
        [cable(MONDAY, None)],
        [cable(MONDAY)],
        [cable(MONDAY, "wrong", faults=["new kind"])],
        drifting(9, 0.0, 0.01),
    ]
    for found in seasons:
        document = season_report(season_of(found, by))  # type: ignore[arg-type]
        assert to_fragment(document, lambda name: name)
    figures = [b for part in document.sections for b in part.blocks if isinstance(b, LineFigure)]
    assert {one.name for one in figures} == {"season-right", "season-connectors", "season-conductors"}


def test_sentences_for_few() -> None:
    def said(*found: CardFigures) -> str:
        return season_sentence(season_of(found, "month"))

    assert said() == "No cable has been tested completely yet."
    assert (
        said(cable(MONDAY))
        == "One cable was tested since the month of 2026-01-01, and was right at its first complete test."
    )
    assert said(*[cable(MONDAY, "wrong")] * 2).startswith("None of 2 cables tested since")
    assert said(cable(MONDAY), cable(MONDAY)).startswith(
        "All 2 cables tested since the month of 2026-01-01 were right"
    )


def test_the_cables_one_by_one_for_a_spreadsheet() -> None:
    rows = season_csv(
        [cable(MONDAY, "wrong", 1.25, faults=["open"]), CardFigures(3, 'a "b", c', "right", {})]
    ).splitlines()
    assert rows[0].split(",") == list(HEADER)
    assert rows[1] == "1,line,wrong,2026-01-05,wrong,open,9,3,0,0,0,jack: 1.25,0.22 mm²: 1.0"
    assert rows[2] == '3,"a ""b"", c",right,,,,,,,,,,'


def test_figures_that_are_not_known_are_worked_out() -> None:
    built = BuiltShop(TOML)
    built.whole()
    records = built.shop.records
    before = records.figures_of("cable")
    records.renew_face(built.cable, plain_face)
    assert season_of(records.figures_of("cable"), "week").unread == 1
    assert anew(built.desk) == 1
    assert records.figures_of("cable") == before
    assert anew(built.desk) == 0
