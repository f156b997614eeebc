"""Published values are kept as the string that was printed; half its last digit is the tolerance."""

from __future__ import annotations

from decimal import Decimal


def printed_value(printed: str) -> tuple[float, float]:
    """Return the number and half a unit of its last printed digit.

    A value so coarse that zero or the wrong sign would pass as it proves nothing, and is refused.
    """
    number = Decimal(printed.replace("−", "-"))
    half = Decimal(5).scaleb(int(number.as_tuple().exponent) - 1)
    if abs(number) <= half:
        raise ValueError(f"{printed!r} would be met by zero: print more digits")
    return float(number), float(half)


def assert_printed(printed: str, value: float) -> None:
    """Hold `value` to the published `printed`, within half of its last digit."""
    number, half = printed_value(printed)
    # The last factor lets through a value that lies exactly on the half digit.
    assert abs(float(value) - number) <= half * (1 + 1e-9), (
        f"published {printed}, computed {float(value):.8g}"
    )
