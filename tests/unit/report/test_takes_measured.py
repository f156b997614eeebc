"""How the takes of a study were measured, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import answer, specimen

from ohmsworth.report.answer import Answer, FrequenciesAnswer
from ohmsworth.report.frequencies_answer import (
    DryLimitAnswer,
    StandardAnswer,
    TakeMeasuredAnswer,
    TakesMeasuredAnswer,
)
from ohmsworth.report.heading import heading
from ohmsworth.report.sentences import findings, leading_sentence
from ohmsworth.report.takes_measured import dry_words, measured_method, measured_table, wet_sentences
from ohmsworth.work.next_steps import next_steps


def volts(over: int = 0, largest: float | None = 0.31e-3, known: int = 16) -> DryLimitAnswer:
    verdict = "over" if over else "within"
    return DryLimitAnswer("voltage across the contact", "V", 0.02, 16, over, verdict, known, largest)


def amperes(over: int = 0, largest: float | None = 0.0203, known: int = 16) -> DryLimitAnswer:
    verdict = "over" if over else "within"
    return DryLimitAnswer("current", "A", 0.1, 16, over, verdict, known, largest)


OPEN = DryLimitAnswer("open-circuit voltage", "V", 0.02, 16, 0, "within", 16, 0.0179)
TAKES = tuple(
    TakeMeasuredAnswer(2 + i, ("straight", "swapped"), 0.3e-3, 0.0198 + 5e-4 * (i % 2), 0.0179)
    for i in range(16)
)
FOUND = TakesMeasuredAnswer(
    12, 21.0, 2517.0, "together", 0.1, 0.005, 0.1 * 0.005 / 3**0.5, 0.01, 0.01, 4e-7, 1000.0, 16, 0,
    (StandardAnswer("short", 1, ("2026-03-02",)), StandardAnswer("load", 1, ()), StandardAnswer("check", 4, ("2026-03-02",))),
    None, False, (volts(), amperes(), OPEN), TAKES,
)  # fmt: skip


def taken(*dry: DryLimitAnswer, answered_at: float | None = 1000.0, verdict: str = "within") -> Answer:
    measured = replace(FOUND, dry=dry)
    found = FrequenciesAnswer(16, answered_at, (1000.0,), (), (), (), (), (), measured)
    current = next(one.largest for one in dry if one.quantity == "current")
    return replace(answer([specimen("A", verdict)], current=current), frequencies=found)


def test_the_table_says_how_they_were_measured() -> None:
    told = dict(measured_table(FOUND).rows)
    assert told["tones"] == "12 tones from 21.0 Hz to 2.52 kHz, played together"
    # Half the width of a rectangle of ± 0.5 % of 100 mΩ over √3 (JCGM 100:2008, 4.3.7): 289 µΩ.
    assert told["shunt"] == "100 mΩ ± 0.5 %, standard uncertainty 290 µΩ"
    assert told["connections"] == (
        "inputs exchanged (swapped) in all 16 takes, sense leads exchanged (turned) in none"
    )
    assert told["current through the contact"] == "19.8 mA to 20.3 mA peak in all 16 takes"
    assert told["resolution"].startswith("noise leaves R of one take ± 800 nΩ at 1.00 kHz")
    assert told["standards"] == (
        "short (2026-03-02); load of 10 mΩ ± 1 % (day not kept); check standard, 4 takes (2026-03-02)"
    )
    assert told["dry circuit: voltage across the contact"] == "within 20 mV in all 16 takes, 310 µV at most"
    assert told["dry circuit: open-circuit voltage"] == "within 20 mV in all 16 takes, 17.9 mV at most"


def test_what_is_not_kept_is_said() -> None:
    assert dry_words(amperes(known=0, largest=None)) == (
        "within 100 mA in all 16 takes; how much it was is not kept"
    )
    assert dry_words(amperes(known=12)) == (
        "within 100 mA in all 16 takes, 20.3 mA at most; how much it was is not kept of 4 of them"
    )
    bare = tuple(replace(one, current=None) for one in TAKES)
    told = dict(measured_table(replace(FOUND, takes=bare, standards=(), by_drive=True)).rows)
    assert told["current through the contact"] == "not kept"
    assert told["standards"].startswith("no takes of a short")
    assert "should give" in measured_table(replace(FOUND, by_drive=True)).note
    stated = dict(measured_table(replace(FOUND, calibrated="2026-02-28")).rows)
    assert stated["standards"].endswith("; stated day of calibration: 2026-02-28")


def test_the_method_says_it_too() -> None:
    first, second = measured_method(FOUND)
    assert "over a shunt of 100 mΩ ± 0.5 %" in first
    assert "current within 100 mA in all 16 takes, 20.3 mA at most" in second
    assert measured_method(None) == ()


def test_takes_within_the_limits_find_nothing() -> None:
    assert wet_sentences(FOUND) == []
    assert wet_sentences(None) == []
    dry = taken(volts(), amperes(), OPEN)
    assert heading(dry) == ("within", "good")
    assert "Within is meant" not in leading_sentence(dry)
    assert next_steps(dry)[0].words == "Nothing: this contact may be passed."


@pytest.mark.parametrize(
    ("over", "word", "sentence", "step"),
    [
        (
            (volts(2, 0.034), amperes()),
            "within at the voltage used",
            "Within is meant at the voltage used, up to 34 mV; a small signal may meet another resistance.",
            "repeat at 20 mV or less across the contact",
        ),
        (
            (volts(), amperes(16, 0.2)),
            "within at the current used",
            "Within is meant at the current used, up to 200 mA; a small signal may meet another resistance.",
            "repeat at 100 mA or less",
        ),
        (
            (volts(2, 0.034), amperes(16, 0.2)),
            "within at the current and voltage used",
            "Within is meant at the current used, up to 200 mA, and at the voltage used, up to 34 mV;",
            "repeat at 100 mA or less and 20 mV or less across the contact",
        ),
    ],
)
def test_takes_over_the_limits_are_told_as_readings_are(
    over: tuple[DryLimitAnswer, ...], word: str, sentence: str, step: str
) -> None:
    wet = taken(*over, OPEN)
    assert heading(wet) == (word, "good")
    assert sentence in leading_sentence(wet)
    assert step in next_steps(wet)[0].words
    (found,) = [one for one in findings(wet) if "dry circuit" in one]
    assert found.startswith("Not all takes are those of a dry circuit: ")
    assert "Within is meant" not in leading_sentence(taken(*over, OPEN, verdict="over"))


def test_takes_beside_direct_current_bind_no_verdict() -> None:
    beside = replace(taken(volts(2, 0.034), amperes(), OPEN, answered_at=None), largest_current=0.05)
    assert heading(beside) == ("within", "good")
    assert any("2 of 16 takes, up to 34.0 mV" in one for one in findings(beside))
