"""The signs of readings: what a polarity says of numbers that were written without them."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.table import OFF, REVERSED, UNSTATED, Array

#: A voltage of the wrong sign below this may be thermal EMF; above it is a swapped lead.
EMF_AT_MOST = 50e-6


def opposite_signs(voltage: Array, current: Array, polarity: np.ndarray) -> np.ndarray:
    """Whether voltage and current, as written, contradict each other, row by row."""
    opposite = (voltage * current < 0) & (np.abs(voltage) > EMF_AT_MOST) & (polarity != OFF)
    # "−" with a positive current: the supply was turned round and its display shows no sign.
    return np.asarray(opposite & ~((polarity == REVERSED) & (current > 0) & (voltage < 0)))


def stated_polarities(polarity: np.ndarray, current: Array | None) -> np.ndarray:
    """Polarity codes; a negative current says "reversed" by itself where nothing is stated."""
    if current is None:
        return polarity
    return np.where((polarity == UNSTATED) & (current < 0), REVERSED, polarity).astype(np.int8)


def signed_readings(
    voltage: Array | None, current: Array | None, polarity: np.ndarray
) -> tuple[Array | None, Array | None]:
    """Give reversed readings written without signs (both positive) the signs that the reversal means."""
    if voltage is None or current is None:
        return voltage, current
    current = np.where((polarity == OFF) & np.isnan(current), 0.0, current)
    turned = (polarity == REVERSED) & (current > 0)
    return np.where(turned & (voltage > 0), -voltage, voltage), np.where(turned, -current, current)
