"""Curves with planted parts and noise."""

import numpy as np

from ohmsworth.resistance.impedance.curve import Curve

F = np.geomspace(20.0, 20000.0, 16)


def curve(
    value: np.ndarray,
    noise: float = 1e-6,
    degrees: float = np.inf,
    seed: int | None = 1,
    frequency: np.ndarray = F,
    **shared: np.ndarray,
) -> Curve:
    """Noise of `noise` ohm in R and X, its variance estimated from `degrees`; no noise without a seed."""
    tones = len(frequency)
    scale = np.ones(tones)
    if seed is not None:
        random = np.random.default_rng(seed)
        n = random.normal(0, noise, (2, tones))
        value = value + n[0] + 1j * n[1]
        if np.isfinite(degrees):
            scale = random.chisquare(degrees, tones) / degrees
    covariance = (noise**2 * scale)[:, None, None] * np.eye(2)
    return Curve(frequency, np.asarray(value, complex), covariance, np.full(tones, float(degrees)), shared)


def series(ohm: float, henry: float = 0.0, frequency: np.ndarray = F) -> np.ndarray:
    return ohm + 2j * np.pi * frequency * henry


def film(ohm: float, corner: float, frequency: np.ndarray = F) -> np.ndarray:
    return ohm / (1 + 1j * frequency / corner)
