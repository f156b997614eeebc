"""What is planted in contact, interface or handling is told by its code."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.journeys.takes_made import CONTACT, INTERFACE, PLAN, begin, quiet, record

import ohmsworth as ow
from ohmsworth.adapters.simulated.sound import Interface, TrueContact
from ohmsworth.report.takes_answer import TakesAnswer
from ohmsworth.report.takes_pages import takes_report


def louder(interface: Interface, factor: float) -> Interface:
    """With the second input's gain turned up."""
    first, second = interface.inputs
    return replace(interface, inputs=(first, replace(second, gain=factor * second.gain)))


def codes(answer: TakesAnswer) -> set[str]:
    return {warning.code for warning in answer.warnings}


def pictures(answer: TakesAnswer) -> set[str]:
    return {
        str(block.name)
        for section in takes_report(answer).sections
        for block in section.blocks
        if hasattr(block, "name")
    }


def test_a_contact_that_drifts_is_not_at_rest(tmp_path: Path) -> None:
    record(begin(tmp_path), ("straight",), replace(CONTACT, drift=0.01))
    found = ow.takes(tmp_path)
    assert "NOT_AT_REST" in codes(found)
    assert found.rest is not None
    assert found.rest.verdict != "at rest"
    # 1 % over what is analysed, and the groups' middles span all of it but two ends of a group.
    seconds = PLAN.periods * PLAN.period / PLAN.rate
    assert found.rest.drift * seconds == pytest.approx(0.01, rel=0.1)
    assert "rest" in pictures(found)
    assert any("drifted by 0.83 % over 2.5 s" in warning.words for warning in found.warnings)


def test_a_contact_that_rests_is_said_to(tmp_path: Path) -> None:
    record(begin(tmp_path), ("straight",))
    found = ow.takes(tmp_path)
    assert found.rest is not None
    assert found.rest.verdict == "at rest"
    assert found.rest.fluctuation_high < 1e-3
    assert "rest" not in pictures(found)
    # Without a bridge an open contact sees the whole of the output.
    assert found.dry.exceeded[-1] == "open circuit"
    assert "NOT_A_DRY_CIRCUIT" in codes(found)


def test_a_gain_that_was_touched_is_doubted(tmp_path: Path) -> None:
    begin(tmp_path)
    record(tmp_path, ("straight",), interface=INTERFACE)
    record(tmp_path, ("swapped",), interface=louder(INTERFACE, 0.5))
    assert "GAINS_APART" in codes(ow.takes(tmp_path))


def test_a_contact_that_bends_is_told_with_its_film(tmp_path: Path) -> None:
    bent = TrueContact(8e-3, 10e-9, scale=0.8e-3)
    record(begin(tmp_path), ("straight", "swapped"), bent, interface=quiet())
    found = ow.takes(tmp_path)
    assert found.nonohmic is not None
    third = found.nonohmic.third
    assert third.verdict == "contact"
    # i = (v/R)(1 + (v/V0)²/6) makes v = u − u³/(6 V0²).
    assert third.coefficient == pytest.approx(-1 / (6 * 0.8e-3**2), abs=3 * third.standard_uncertainty)
    assert third.standard_uncertainty < 0.2 * abs(third.coefficient)
    assert found.nonohmic.second.verdict == "not seen"
    assert found.nonohmic.film_voltage is not None
    assert "harmonics" in pictures(found)


def test_an_ohmic_contact_says_what_would_have_been_seen(tmp_path: Path) -> None:
    record(begin(tmp_path), ("straight", "swapped"), interface=quiet())
    found = ow.takes(tmp_path)
    assert found.nonohmic is not None
    assert found.nonohmic.third.verdict == "not seen"
    # Hum near a sum or a difference of tones looks like a square law: those lines are left out.
    assert found.nonohmic.second.verdict == "not seen"
    assert found.nonohmic.third.index_limit < -60
    assert found.nonohmic.film_voltage is None
