"""Voltage, current and spot temperature against what a film and a plating stand."""

import pytest
from tests.tables import reading_table

from ohmsworth.readings import Bench, Study
from ohmsworth.readings.dry_circuit import find_wet


def codes(volts: float, amperes: float, **study: object) -> dict[str, tuple[int, ...]]:
    table = reading_table("+-", voltage=[1e-4, volts], current=[0.01, amperes])
    return {doubt.code: doubt.rows for doubt in find_wet(table, Study("q", **study))}


def test_a_dry_reading_raises_nothing() -> None:
    assert codes(-0.0003, -0.1, plating="gold") == {}


def test_a_reading_just_at_the_limits_raises_nothing() -> None:
    assert codes(0.02, 0.1) == {}


def test_over_voltage_names_its_row_only() -> None:
    assert codes(-0.03, -0.1)["OVER_DRY_VOLTAGE"] == (3,)


def test_over_current_names_its_row_only() -> None:
    assert codes(-0.003, -1.0) == {"OVER_DRY_CURRENT": (3,)}


def test_softening_depends_on_the_plating() -> None:
    # Holm, table: gold 0.08 V, tin 0.07 V.
    assert "SOFTENING" in codes(0.075, 0.1, plating="tin")
    assert "SOFTENING" not in codes(0.075, 0.1, plating="gold")
    assert "SOFTENING" not in codes(0.075, 0.1)


def test_a_warm_spot_is_told_even_where_everything_has_melted() -> None:
    assert "SPOT_WARM" in codes(0.1, 0.1)
    assert "SPOT_WARM" in codes(50.0, 0.1)


@pytest.mark.parametrize(
    ("volts", "plating", "words"),
    [
        (0.1, None, "the contact spots run about"),
        (0.2, None, "spots of tin melt, others run about 411 K above the bench"),
        (0.38, None, "spots of tin and silver melt, others run"),
        (0.646, None, "the contact spots melt."),
        (50.0, None, "the contact spots melt."),
        (0.2, "gold", "the contact spots run about"),
        (0.2, "tin", "the contact spots of tin melt."),
        (0.5, "gold", "the contact spots of gold melt."),
    ],
)
def test_no_spot_is_hotter_than_its_melting_point(volts: float, plating: str | None, words: str) -> None:
    table = reading_table("+-", voltage=[1e-4, volts], current=[0.01, 0.1])
    (doubt,) = [d for d in find_wet(table, Study("q", plating=plating)) if d.code == "SPOT_WARM"]
    assert words in doubt.words
    assert ("weld" in doubt.mend) is ("melt" in doubt.words)


@pytest.mark.parametrize(("volts", "doubted"), [(None, False), (0.02, False), (5.0, True)])
def test_the_source_itself_may_break_a_film(volts: float | None, doubted: bool) -> None:
    found = codes(0.0003, 0.1, bench=Bench(open_circuit_voltage=volts))
    assert ("OPEN_CIRCUIT" in found) is doubted


def test_readings_in_ohm_say_nothing_about_voltage() -> None:
    assert find_wet(reading_table("+", resistance=[0.003]), Study("q")) == []
