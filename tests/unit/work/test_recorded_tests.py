"""Tests made with other equipment: told as they were told, beside their caution, and never overruled by what was read here."""

from __future__ import annotations

import pytest
from tests.papers_made import CABLE, RIGHT, issued

from ohmsworth import wiring
from ohmsworth.adapters.files import read_cable_texts
from ohmsworth.advice.cautions import CABLE_VOLTAGE
from ohmsworth.errors import InputRefused
from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.report.cable_pages import cable_report
from ohmsworth.report.papers.certificate import TEST_REPORT
from ohmsworth.work.cable_study import cable_study

TEST = """
[[recorded]]
test = "insulation"
between = "both cores"
voltage = "500 V"
resistance = "{found}"
at_least = "100 MΩ"
instrument = "insulation tester"
by = "A. Tester"
on = 2026-03-02
"""
HELD = '\n[[recorded]]\ntest = "withstand voltage"\nvoltage = "1.5 kV"\nheld = {held}\n'


def told(more: str, rows: str | None = RIGHT) -> CableAnswer:
    return cable_study(read_cable_texts(CABLE + more, rows))


def test_what_was_asked_and_found_is_told_as_recorded() -> None:
    answer = told(TEST.format(found="2000 MΩ"))
    assert answer.verdict == "right"
    (words,) = (one for one in answer.findings if one.startswith("Insulation"))
    assert words == (
        "Insulation at 500 V between both cores: 2 GΩ, where at least 100 MΩ is asked. Recorded by A. Tester with the insulation "
        "tester on 2026-03-02, not measured with this program."
    )
    page = wiring.as_html(cable_report(answer))
    assert page.index("Tests made with other equipment") < page.index(CABLE_VOLTAGE, page.index("Tests made"))


@pytest.mark.parametrize("more", [TEST.format(found="99.9 MΩ"), HELD.format(held="false")])
def test_a_cable_that_did_not_hold_is_wrong_whatever_was_read(more: str) -> None:
    answer = told(more)
    assert answer.verdict == "wrong"
    assert [fault.kind for fault in answer.faults] == ["recorded test"]
    (action,) = answer.actions
    assert action.words.startswith("Keep this cable back")
    assert action.cautions == (CABLE_VOLTAGE,)
    assert issued(CABLE + more).certificate.kind == TEST_REPORT


def test_the_limit_itself_is_as_asked() -> None:
    assert told(TEST.format(found="100 MΩ")).verdict == "right"
    assert told(HELD.format(held="true")).verdict == "right"


def test_it_is_told_before_anything_is_measured() -> None:
    answer = told(HELD.format(held="false"), None)
    assert answer.verdict is None
    assert any("did not hold" in one for one in answer.findings)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ('[[recorded]]\nresistance = "1 MΩ"\n', "test = "),
        ('[[recorded]]\ntest = "insulation"\n', "held = true"),
        ('[[recorded]]\ntest = "insulation"\nheld = true\nat_least = "1 MΩ"\n', "both of them"),
        ('[[recorded]]\ntest = "insulation"\nheld = "yes"\n', "held"),
        ('[[recorded]]\ntest = "insulation"\nheld = true\nvoltage = "500 mV"\n', "voltage"),
        ('[[recorded]]\ntest = "insulation"\nheld = true\nrresult = "1"\n', "rresult"),
    ],
)
def test_what_cannot_be_meant_is_refused(more: str, said: str) -> None:
    with pytest.raises(InputRefused) as caught:
        read_cable_texts(f"{CABLE}\n{more}", None)
    (fault,) = caught.value.faults
    assert said in str(fault), str(fault)
