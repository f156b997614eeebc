"""Sentences of a study's takes over frequency."""

from ohmsworth.report.frequencies_answer import ComparisonCurveAnswer
from ohmsworth.report.frequencies_words import apart_sentence

TONES = (20.0, 1000.0)


def compared(
    low: tuple[float, float], low_together: tuple[float, float], quantity: str = "ratio"
) -> ComparisonCurveAnswer:
    return ComparisonCurveAnswer(
        "dark", "clean", quantity, (2.3, 2.3), low, (3.2, 3.2), low_together, (9.0, 9.0), 2.0
    )


def test_few_specimens_do_not_make_two_conditions_alike() -> None:
    """Three pairs have two degrees of freedom: each tone tells, all of them together do not."""
    said = apart_sentence(TONES, compared((1.7, 1.7), (0.6, 0.6)), 2.0)
    assert "taken all together, so few specimens tell of no single tone" in said
    assert "each tone by itself stands in the table" in said
    assert "one by one, the two differ at every tone" in said
    assert "at no tone" not in said


def test_few_specimens_are_blamed_only_where_they_are_few() -> None:
    said = apart_sentence(TONES, compared((1.7, 0.9), (0.6, 0.6)), 30.0)
    assert "few specimens" not in said
    assert "these takes tell of no single tone" in said
    assert "differ at 20.0 Hz)" in said


def test_what_differs_and_what_does_not_is_told_as_it_is() -> None:
    assert " differ at every tone, " in apart_sentence(TONES, compared((1.7, 1.7), (1.2, 1.2)), 2.0)
    assert " differ at 1.00 kHz, " in apart_sentence(TONES, compared((1.7, 1.7), (0.9, 1.2)), 2.0)
    assert " differ at no tone, " in apart_sentence(TONES, compared((0.9, 0.9), (0.5, 0.5)), 2.0)
    # Of a difference it is nought that means none.
    assert " differ at every tone, " in apart_sentence(
        TONES, compared((0.9, 0.9), (0.5, 0.5), "difference"), 2.0
    )
