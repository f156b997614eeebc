"""From a study folder to what it means: published examples put to the whole path, not to a formula alone."""

from __future__ import annotations

import pytest
from tests.journeys.kinds import Row, asking, told
from tests.published.printed import assert_printed, printed_value
from tests.published.test_conductors import AWG_TABLE, THOUSAND_FEET

from ohmsworth.report.answer import Answer, SpecimenAnswer


def reading(ohm: float) -> list[Row]:
    return [{"specimen": "N1", "resistance [mΩ]": f"{1e3 * ohm:.6f}"}]


def only(answer: Answer) -> SpecimenAnswer:
    (found,) = answer.specimens
    return found


# ------------------------------------------------------------------------- as a length of wire


@pytest.mark.parametrize("gauge", [18, 20, 22, 24, 26, 28])
def test_three_milliohm_as_a_length_of_wire(gauge: int) -> None:
    """Copper wire tables (the table of test_conductors, published): ohm per 1000 ft at 20 °C."""
    answer = told(asking("", f'wires = ["{gauge} AWG"]'), reading(3e-3)).answer
    ohms, half = printed_value(AWG_TABLE[gauge])
    (length,) = answer.equivalent_length
    assert length.conductor == f"{gauge} AWG"
    assert length.length.value == pytest.approx(3e-3 / ohms * THOUSAND_FEET, rel=half / ohms)


def test_three_milliohm_of_24_gauge_in_words() -> None:
    """25.67 ohm per 1000 ft is 84.2 ohm per km: 3 mΩ is 35.6 mm."""
    found = told(asking("", 'wires = ["24 AWG"]'), reading(3e-3))
    assert_printed("35.6", 1e3 * (found.answer.equivalent_length[0].length.value or 0))
    texts = [getattr(block, "text", "") for block in found.summary.sections[0].blocks]
    assert "As lengths of 24 AWG wire: the contact 36 mm." in texts


def test_warm_wire_is_shorter() -> None:
    """IACS (published): 0.00393 per kelvin from 20 °C."""
    lengths = [
        told(asking("", 'wires = ["24 AWG"]', f'temperature = "{celsius} °C"'), reading(3e-3))
        .answer.equivalent_length[0].length.value or 0
        for celsius in (20, 30)
    ]  # fmt: skip
    assert lengths[0] / lengths[1] == pytest.approx(1.0393, abs=5e-5)


# ------------------------------------------------------------------------------ against a limit

#: Of the value stated for the meter, 0.05 mΩ; the limit is an upper one, 3 mΩ.
KNOWN = '[limit]\nresistance = "3 mΩ"\nsource = "the datasheet"\n[bench.ohmmeter]\nstandard_uncertainty = "50 µΩ"\n'


def test_an_upper_limit_missed_by_1_40_uncertainties() -> None:
    """JCGM 106:2012, 7.3.2 example 1: z = 1.40, probability of conformity 92 %; 95 % is asked for here."""
    found = only(told(asking("", 'scale = "linear"') + KNOWN, reading(3e-3 - 1.40 * 50e-6)).answer)
    assert_printed("0.05e-3", found.standard_uncertainty or 0)
    assert_printed("0.92", found.probability_within or 0)
    assert found.verdict == "too close to call"


@pytest.mark.parametrize(
    ("z", "verdict"),
    [
        (1.646, "within"),
        (1.644, "too close to call"),
        (-1.644, "too close to call"),
        (-1.646, "over"),
    ],
)
def test_the_guard_band_of_95_percent(z: float, verdict: str) -> None:
    """JCGM 106:2012, Table 1: a probability of 0.95 at z = 1.64 (1.645 of the normal distribution)."""
    answer = told(asking("", 'scale = "linear"') + KNOWN, reading(3e-3 - z * 50e-6)).answer
    assert only(answer).verdict == verdict
    assert answer.conditions[0].verdict == verdict


@pytest.mark.parametrize(
    ("printed", "z"), [("0.80", 0.84), ("0.90", 1.28), ("0.95", 1.64), ("0.99", 2.33), ("0.999", 3.09)]
)
def test_probabilities_of_conformity(printed: str, z: float) -> None:
    """JCGM 106:2012, 7.3.3, Table 1, published (z to two decimals, so within what that moves)."""
    found = only(told(asking("", 'scale = "linear"') + KNOWN, reading(3e-3 - z * 50e-6)).answer)
    assert found.probability_within == pytest.approx(float(printed), abs=0.002)


def test_a_verdict_goes_by_the_confidence_asked_for() -> None:
    """92 % is enough where 90 % is asked for."""
    study = asking("", 'scale = "linear"', "coverage = 0.9") + KNOWN
    assert only(told(study, reading(3e-3 - 1.40 * 50e-6)).answer).verdict == "within"


# ---------------------------------------------------------------------------- from the meter on


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_a_meters_accuracy_becomes_the_specimens_uncertainty(scale: str) -> None:
    """GUM 4.3.7, example 2, memory: 14e-6 of reading and 2e-6 of the 1 V range at 0.928 571 V: u = 8.7 µV.

    Read at one ampere the volts are ohms; the EMF is allowed next to nothing.
    """
    bench = (
        '[bench]\nemf_allowance = "1 nV"\n'
        '[bench.voltmeter]\npercent_of_reading = 0.0014\ncounts = 2\nresolution = "1 µV"\n'
    )
    row: Row = {"specimen": "R1", "voltage [V]": "0.928571", "current [A]": "1"}
    answer = told(asking("", f'scale = "{scale}"') + bench, [row]).answer
    found = only(answer)
    assert_printed("0.928571", found.resistance)
    assert_printed("8.7e-6", found.standard_uncertainty or 0)
    assert_printed("75e-12", (found.standard_uncertainty or 0) ** 2)
    # Not less than 95 % of the 15 µV on either side that the maker states.
    assert (found.high or 0) - found.resistance >= 0.95 * 15e-6
    parts = {line.source: line.contribution for line in answer.budget}
    assert parts["voltmeter gain"] == pytest.approx(14e-6 * 0.928571 / 3**0.5, rel=1e-4)
    assert sum(part**2 for part in parts.values()) == pytest.approx(
        (found.standard_uncertainty or 0) ** 2, rel=1e-3
    )
