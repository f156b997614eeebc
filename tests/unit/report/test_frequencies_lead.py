"""At which of the frequencies asked about a headline holds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import answer, comparison, condition, specimen

from ohmsworth.report.answer import Answer, AtFrequencyAnswer, FrequenciesAnswer
from ohmsworth.report.frequencies_lead import lead_words, otherwise_sentences
from ohmsworth.report.heading import heading
from ohmsworth.report.sentences import leading_sentence


def at(hertz: float, verdict: str | None = "within", compared: str | None = None) -> AtFrequencyAnswer:
    found = () if compared is None else (comparison(compared, (1e-3, 0.5e-3, 1.5e-3)),)
    return AtFrequencyAnswer(hertz, hertz, (replace(condition("worn"), verdict=verdict),), found)


def asked(*each: AtFrequencyAnswer, direct: bool = False) -> FrequenciesAnswer:
    tones = tuple(sorted(one.tone for one in each))
    return FrequenciesAnswer(8, None if direct else each[0].tone, tones, each, (), (), (), ())


def whole(found: FrequenciesAnswer) -> Answer:
    return replace(answer([specimen("A", "within")]), frequencies=found)


SEVEN = "all 7 frequencies asked about, from 20.0 Hz to 20.0 kHz"


@pytest.mark.parametrize(
    ("found", "lead"),
    [
        (asked(at(1e3)), "By tones, at 1.00 kHz: "),
        (
            asked(at(1e3), at(79.0), at(2e4)),
            "By tones, at 1.00 kHz, with the same verdicts on conditions at 79.0 Hz and 20.0 kHz: ",
        ),
        (
            asked(at(1e3), *(at(hertz) for hertz in (20.0, 100.0, 300.0, 5e3, 1e4, 2e4))),
            f"By tones, at 1.00 kHz, with the same verdicts on conditions at {SEVEN}: ",
        ),
        (asked(at(1e3, None), at(2e4, None)), "By tones, at 1.00 kHz (asked about too: 20.0 kHz): "),
        (asked(at(1e3), at(2e4, "over")), "By tones, at 1.00 kHz: "),
        (
            asked(at(1e3), at(2e4, "over"), at(79.0)),
            "By tones, at 1.00 kHz, with the same verdicts on conditions at 79.0 Hz: ",
        ),
        (asked(at(1e3), at(2e4), direct=True), ""),
        (None, ""),
    ],
)
def test_each_frequency_asked_about_is_named_or_counted(found: FrequenciesAnswer | None, lead: str) -> None:
    assert lead_words(found) == lead


def test_where_it_is_otherwise_is_said() -> None:
    found = asked(at(1e3, "within", "too small to matter"), at(2e4, "over", "enough to matter"))
    (told,) = otherwise_sentences(found)
    assert told == (
        "At 20.0 kHz it is otherwise: the typical resistance (median) of 'worn': over; 'worn' against 'new': enough to matter."
    )
    sentence = leading_sentence(whole(found))
    assert sentence.startswith("By tones, at 1.00 kHz: ")
    assert sentence.endswith(told)
    assert heading(whole(found)) == ("within; otherwise at other frequencies", "mixed")
    alike = whole(asked(at(1e3), at(2e4)))
    assert heading(alike) == ("within", "good")
    assert "otherwise" not in leading_sentence(alike)


def test_many_that_differ_are_counted_and_what_lacks_is_not_known() -> None:
    found = asked(at(1e3), *(at(hertz, "over") for hertz in (20.0, 100.0, 300.0)), at(2e4))
    assert otherwise_sentences(found) == [
        "At 3 of the 5 frequencies asked about the verdicts are otherwise; the tables over frequency have them."
    ]
    bare = AtFrequencyAnswer(2e4, 2e4, (), ())
    (told,) = otherwise_sentences(asked(at(1e3), bare))
    assert told.endswith("of 'worn': not known.")
    assert otherwise_sentences(asked(at(1e3), bare, direct=True)) == []
