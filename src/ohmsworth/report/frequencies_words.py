"""What a study's takes say over frequency, in sentences."""

from __future__ import annotations

from ohmsworth.report.frequencies_answer import ComparisonCurveAnswer
from ohmsworth.report.words import listed
from ohmsworth.units import show

#: Fewer degrees of freedom than this make intervals of many tones at once far wider than those of one.
_FEW = 6

_Ends = tuple[float | None, ...]


def apart_sentence(frequency: tuple[float, ...], one: ComparisonCurveAnswer, freedom: float) -> str:
    """At which tones two conditions differ, and what it means where each tone by itself says otherwise than all together.

    Parameters
    ----------
    frequency
        Of the tones, in hertz.
    freedom
        Degrees of freedom of the comparison, the fewest of any tone.
    """
    together = _apart(frequency, one.quantity, one.low_together, one.high_together)
    alone = _apart(frequency, one.quantity, one.low, one.high)
    pair, tones = f"'{one.of}' and '{one.against}'", len(frequency)
    if together or not alone:
        return (
            f"{pair} differ {_at_tones(together, tones)}, having looked at all tones at once (they count as "
            f"{one.independent_tones:.1f} independent ones)."
        )
    tell = "so few specimens tell" if freedom < _FEW else "these takes tell"
    return (
        f"{pair}: taken all together, {tell} of no single tone; each tone by itself stands in the table (looked at one by one, "
        f"the two differ {_at_tones(alone, tones)})."
    )


def _apart(frequency: tuple[float, ...], quantity: str, lows: _Ends, highs: _Ends) -> list[str]:
    """The tones whose interval leaves out that there is no difference."""
    same = 1.0 if quantity == "ratio" else 0.0
    return [
        show(hertz, "Hz")
        for hertz, low, high in zip(frequency, lows, highs, strict=True)
        if low is not None and high is not None and not low <= same <= high
    ]


def _at_tones(named: list[str], tones: int) -> str:
    if not named:
        return "at no tone"
    return "at every tone" if len(named) == tones else f"at {listed(named)}"
