"""Takes as the lock-in leaves them, with planted voltages, currents and noise."""

import math
from collections.abc import Callable

import numpy as np

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.phasors import Lines, Take
from ohmsworth.resistance.impedance.tone_plan import TonePlan, Way

RATE, PERIOD = 48000, 48000


def tone_plan(cycles: list[int], way: Way = "together", amplitude: float = 0.05) -> TonePlan:
    tones = len(cycles)
    phases = np.random.default_rng(tones).uniform(0, 2 * np.pi, tones)
    return TonePlan(
        RATE, PERIOD, np.array(cycles), np.full(tones, amplitude), phases, 20, 2, way, 4800, 4800, 4800, 4800
    )


def circuit(inputs: tuple[float, float] | None = (2.0, 0.5)) -> Circuit:
    return Circuit(Shunt(0.1, inductance=1e-8), series=100.0, output=2.0, bridge=1.0, inputs=inputs)


def lines(
    cycles: np.ndarray, mean: np.ndarray, noise: float, groups: int = 20, seed: int | None = 1
) -> Lines:
    """Lines about `mean`, shape (2, lines), full scale 1; E|n|² of the mean of an input is `noise`².

    The noise told is that of the scatter of the groups, pooled over all lines; without a seed there is none.
    """
    shape = (groups, 2, len(cycles))
    n = np.zeros(shape, complex)
    if seed is not None:
        random = np.random.default_rng(seed)
        n = (random.normal(size=shape) + 1j * random.normal(size=shape)) * noise * math.sqrt(groups / 2)
    found = mean + n
    left = found - found.mean(axis=0)
    square = np.einsum("gil,gjl->ij", left, left.conj()) / ((groups - 1) * groups * len(cycles))
    if seed is None:
        square = noise**2 * np.eye(2, dtype=complex)
    told = np.tile(square, (len(cycles), 1, 1))
    return Lines(cycles, found, told, np.full(len(cycles), 2.0 * (groups - 1) * len(cycles)))


def take(tones: Lines, products: Lines | None = None) -> Take:
    return Take(tones, tones if products is None else products, 0.0, 0.0, 0.0)


def sampled(plan: TonePlan, voltage: Callable[[np.ndarray], np.ndarray], current: np.ndarray) -> np.ndarray:
    """Spectrum (peak phasors by cycles) of `voltage` of a current with tone phasors `current`, over one period."""
    spectrum = np.zeros(PERIOD // 2 + 1, complex)
    spectrum[plan.cycles] = current * PERIOD / 2
    return np.fft.rfft(voltage(np.fft.irfft(spectrum, PERIOD))) * 2 / PERIOD
