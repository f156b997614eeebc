"""The row of shunt and contact: spectra of the voltages across both, with what bends and moves in them.

A signal of N samples at the player's rate is held as the spectrum of a periodic one, ``X = rfft(x)``. What is linear is exact:

    I = Vo Rb/(Rb + Rs) / (Zs + Zc + Rs∥Rb)                  Rs in series, Rb the bridge, Zs the shunt, Zc the contact

What bends and what moves are small voltages in the row, E, to first order: the current beside Ohm's law through
the impedance Zn of the part that bends, and the change of a resistance times the current. Each drives ``−E/(Zs + Zc + Rs∥Rb)``
round the row. Squares and cubes are formed at twice the rate, where their images fall outside the band.
"""

from __future__ import annotations

import numpy as np
import scipy.fft
from numpy.typing import NDArray

from ohmsworth.adapters.simulated.sound.truth import TrueContact, Truth
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


def voltages(
    played: Complex, samples: int, plan: TonePlan, circuit: Circuit, truth: Truth, rng: np.random.Generator
) -> tuple[Complex, Complex]:
    """Spectra of the volts across the shunt and across the contact.

    Parameters
    ----------
    played
        Spectrum of the drive, full scale being 1, shape (samples // 2 + 1,).
    samples
        Of the drive with its padding, an even number.
    """
    frequency = np.arange(len(played), dtype=np.float64) * (plan.rate / samples)
    shunt, contact = truth.shunt.impedance(frequency), truth.contact.impedance(frequency)
    share, source = 1.0, circuit.series
    if circuit.bridge is not None:
        share = circuit.bridge / (circuit.bridge + circuit.series)
        source *= share
    around = shunt + contact + source
    current = circuit.output * share * played / around
    parts: list[Complex] = []
    if truth.contact.scale is not None:
        parts.append(_bent(current, frequency, samples, truth.contact, truth.contact.scale))
    at_contact, at_shunt = _moved(current, samples, plan, truth, rng)
    parts += at_contact
    if parts or at_shunt:
        current = current - sum([*parts, *at_shunt]) / around
    return (
        np.asarray(shunt * current + sum(at_shunt)),
        np.asarray(contact * current + sum(parts)),
    )


def at_twice(spectrum: Complex, samples: int) -> Array:
    """The signal at twice its rate, shape (2 · samples,)."""
    return np.asarray(2 * scipy.fft.irfft(spectrum, 2 * samples))


def from_twice(wave: Array, samples: int) -> Complex:
    """Spectrum at the rate itself of what `wave` has below half of it."""
    spectrum = np.asarray(scipy.fft.rfft(wave)[: samples // 2 + 1]) / 2
    spectrum[-1] = 0
    return spectrum


def _bent(current: Complex, frequency: Array, samples: int, contact: TrueContact, scale: float) -> Complex:
    """Volts from the current beside Ohm's law, which flows back through the part that bends."""
    resistance, part = contact.bent(frequency)
    volts = at_twice(current * part, samples)
    over = volts / scale
    beside = volts * (contact.lean * over + over**2 / 6) / resistance
    return -part * from_twice(beside, samples)


def _moved(
    current: Complex, samples: int, plan: TonePlan, truth: Truth, rng: np.random.Generator
) -> tuple[list[Complex], list[Complex]]:
    """Volts from what moves in the contact and in the shunt; empty where nothing does."""
    contact, shunt = truth.contact, truth.shunt
    analysed = slice(plan.main[0].start, plan.main[-1].stop)
    course = np.zeros(samples)
    if contact.flicker:
        course += contact.flicker * _flicker(samples, plan.rate, rng)
        course -= course[analysed].mean()
    if contact.drift:
        course += contact.drift * _line(samples, analysed)
    flowing = scipy.fft.irfft(current, samples) if course.any() or shunt.drift else course
    at_contact = [scipy.fft.rfft(flowing * course) * contact.resistance] if course.any() else []
    if not shunt.drift:
        return at_contact, []
    warmed = shunt.drift * _line(samples, analysed)
    return at_contact, [scipy.fft.rfft(flowing * warmed) * shunt.resistance]


def _line(samples: int, analysed: slice) -> Array:
    """From −1/2 to 1/2 over what is analysed, and level outside of it."""
    length = analysed.stop - analysed.start
    return np.asarray(np.clip((np.arange(samples) - analysed.start) / length, 0, 1) - 0.5)


def _flicker(samples: int, rate: int, rng: np.random.Generator) -> Array:
    """Noise of density 1/f (one-sided, 1/Hz) below a quarter of the rate."""
    count = samples // 4
    parts = rng.standard_normal((2, count - 1))
    frequency = np.arange(1, count) * (rate / samples)
    spectrum = np.zeros(samples // 2 + 1, complex)
    # White noise of density S has E|X|² = S · rate · N / 2 in each bin.
    spectrum[1:count] = np.sqrt(rate * samples / 4 / frequency) * (parts[0] + 1j * parts[1])
    return np.asarray(scipy.fft.irfft(spectrum, samples))
