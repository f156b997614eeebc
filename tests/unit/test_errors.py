"""Errors are what a programmer expects, and words that a person can act on."""

import pytest

from ohmsworth.errors import (
    ArgumentFault,
    Fault,
    InputRefused,
    OhmsworthError,
    OutputFault,
    QuantityFault,
    UnknownName,
    nearest_name,
    shorten,
)


@pytest.mark.parametrize(
    ("error", "builtin"),
    [
        (InputRefused((Fault("a.csv, line 2", "x", "y", "Do z."),)), ValueError),
        (QuantityFault("x", "y", "Do z."), ValueError),
        (ArgumentFault("gain", -1, "zero or more"), ValueError),
        (UnknownName("plating", "gild", ("gold", "silver")), LookupError),
        (OutputFault("disk full"), OSError),
    ],
)
def test_each_error_is_ours_and_the_builtin(error: Exception, builtin: type[Exception]) -> None:
    assert isinstance(error, OhmsworthError)
    assert isinstance(error, builtin)
    assert str(error)


def test_every_fault_is_listed_and_says_where_what_and_how_to_mend() -> None:
    faults = (
        Fault("r.csv, line 2", "'x'", "a number", "Type it."),
        Fault("r.csv, line 9", "'y'", "a date", "Ask."),
    )
    refused = InputRefused(faults)
    assert refused.faults == faults
    assert str(refused).splitlines() == [
        "r.csv, line 2: found 'x'; expected a number. Type it.",
        "r.csv, line 9: found 'y'; expected a date. Ask.",
    ]


def test_an_unknown_name_offers_the_nearest_in_its_own_spelling() -> None:
    error = UnknownName("plating", "GOLT", ("Gold", "silver"))
    assert error.nearest == "Gold"
    assert "Did you mean 'Gold'?" in str(error)
    assert "Did you mean" not in str(UnknownName("plating", "xyz", ("Gold", "silver")))
    assert nearest_name("gold", ()) is None


def test_a_long_or_wild_text_is_shown_short_and_harmless() -> None:
    assert shorten("a" * 1000) == repr("a" * 40 + "…")
    assert shorten("a" * 40) == repr("a" * 40)
    assert "\n" not in shorten("one\ntwo")
    assert "\x1b" not in shorten("\x1b[31mred")
