"""What the next reading may show, and what one that stands off is explained by."""

import math

import numpy as np
import pytest
from scipy import stats
from tests.judged import LIMIT, reading, study_of

from ohmsworth.readings.entries import table_as_asked
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.expected import Expected, expected_current, expected_resistance
from ohmsworth.readings.explained import EXCHANGED, VOLTAGE, exchanged, explain, moved

STUDY = study_of()


def expected(*entries: Entry, limit: bool = True) -> Expected:
    study = STUDY if limit else study_of(limit=None)
    return expected_resistance(table_as_asked(study, entries), study)


def test_the_density_is_students() -> None:
    one = Expected(-2.6, 0.1, 5.0, "mating", 1)
    for value in (-2.6, -2.4, -1.6, 3.0):
        assert one.log_density(value) == pytest.approx(stats.t.logpdf(value, 5.0, -2.6, 0.1))
    assert one.log_density(math.nan) == -math.inf


def test_the_nearest_readings_are_what_it_rests_on() -> None:
    other = reading("9.000", specimen="S9", condition="dark")
    fellow = reading("0.3000", specimen="N2")
    mated = reading("0.2600", mating="1")
    same = reading("0.2500", mating="2")
    last = reading("0.2510", mating="2")
    found = [
        expected(other, fellow, mated, same, last),
        expected(other, fellow, mated, last),
        expected(other, fellow, last),
        expected(other, last),
        expected(other, last, limit=False),
        expected(last, limit=False),
    ]
    assert [one.level for one in found] == ["mating", "contact", "condition", "limit", "study", "nothing"]
    wanted = [2.5e-3, 2.6e-3, 3e-3, LIMIT.resistance / 2, 9e-2, 5e-3]
    assert [10**one.middle for one in found] == pytest.approx(wanted)
    scales = [one.scale for one in found]
    assert scales == sorted(scales[:4]) + scales[4:]


def test_how_far_contacts_stray_is_learnt_from_the_study() -> None:
    volts = ("0.2000", "0.3000", "0.1500", "0.4200", "0.2600")
    fellows = [reading(v, specimen=f"N{i}") for i, v in enumerate(volts)]
    found = expected(*fellows, reading("0.2500", specimen="N9"))
    logs = np.log10([float(v) / 100 for v in volts])
    squares = float(((logs - logs.mean()) ** 2).sum())
    assert found.middle == pytest.approx(np.median(logs))
    assert found.freedom == 5 + 4
    assert found.scale == pytest.approx(math.sqrt((5 * 0.09**2 + squares) / 9 * (1 + 1 / 5)))


def test_the_current_is_that_of_the_last_readings() -> None:
    entries = [reading("0.2500", current) for current in ("10.00", "100.00", "100.00", "5.00")]
    found = expected_current(table_as_asked(STUDY, entries))
    assert 10**found.middle == pytest.approx(0.1)
    assert expected_current(table_as_asked(STUDY, entries[:1])).level == "nothing"


def test_a_slip_is_the_likelier_explanation_only_where_it_is() -> None:
    before = [reading("0.2500"), reading("0.2498"), reading("0.2503")]
    for text, kind, power in (("2.501", VOLTAGE, 1), ("0.02501", VOLTAGE, -1), ("250.1", VOLTAGE, 3)):
        found = explain(table_as_asked(STUDY, [*before, reading(text)]), reading(text), STUDY)
        assert found is not None
        assert (found.slip.kind, found.slip.power, found.doubted) == (kind, power, True)
        assert found.probability > 0.95
    honest = explain(table_as_asked(STUDY, [*before, reading("0.2600")]), reading("0.2600"), STUDY)
    assert honest is not None
    assert not honest.doubted
    assert honest.probability < 0.01
    turned = reading("100.00", "0.2500")
    found = explain(table_as_asked(STUDY, [*before, turned]), turned, STUDY)
    assert found is not None
    assert (found.slip.kind, found.doubted) == (EXCHANGED, True)


def test_numbers_are_exchanged_and_units_stay() -> None:
    turned = exchanged(reading("0.1000", "0.2500", volts="mV", amperes="A"))
    assert turned is not None
    assert [(one.text, one.unit) for one in turned] == [("0.2500", "mV"), ("0.1000", "A")]
    assert exchanged(reading("1.0", "1.0")) is None
    assert exchanged(reading("0.0", "1.0")) is None


def test_a_mark_moves_and_keeps_the_digits() -> None:
    assert moved(Typed("2.510", "mV", "voltage"), 1).text == "0.2510"
    assert moved(Typed("-0.2510", "mV", "voltage"), -3).text == "-251.0"
