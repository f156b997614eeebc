"""From the drive to the file, through output, row, inputs, clock, converter and whatever is wrong."""

from __future__ import annotations

import numpy as np
import scipy.fft
from numpy.typing import NDArray

from ohmsworth.adapters.simulated.sound.clock import at_instants
from ohmsworth.adapters.simulated.sound.flaws import (
    Flaws,
    after_converter,
    before_converter,
    spoiled_row,
    taken_apart,
)
from ohmsworth.adapters.simulated.sound.interface import AGAINST_RETURN, TAKES, Input, Interface, Take
from ohmsworth.adapters.simulated.sound.row import at_twice, from_twice, voltages
from ohmsworth.adapters.simulated.sound.truth import Truth
from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit
from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.resistance.impedance.recording import Recording, recorded
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Seconds of silence between the end of the signal and its return as a periodic one, for all filters to settle.
_REST = 0.5
#: Harmonics of the mains, as shares of the fundamental: rectifiers make odd ones.
_HARMONICS = (1.0, 0.2, 0.5, 0.1, 0.3, 0.05, 0.2, 0.03, 0.1, 0.02)


def simulate(
    plan: TonePlan,
    circuit: Circuit,
    truth: Truth,
    interface: Interface,
    seed: int,
    take: Take = "straight",
    flaws: Flaws | None = None,
) -> Recording:
    """The recording of a take; the same arguments give the same samples.

    Input a, beside b, at the volts V of its pair and V′ common to both legs of it:

        U_a = H_a (V_a + x_a V_b + c_a V′_a),    H the transfer, x the crosstalk, c the leak of common volts

    then its own third harmonic, the band limit at half the rate, the recorder's instants ``(m − start)/(1 + clock)``,
    noise and hum, clipping and rounding. The contact stands at the output's return: V′ is half of its volts, and
    at the shunt those of the contact and half of the shunt's.

    Parameters
    ----------
    seed
        Of noise, hum and flicker; each take has its own of each.
    take
        How the leads are connected.
    flaws
        What is wrong; nothing unless given.

    Raises
    ------
    ArgumentFault
        When `take` is none of `TAKES` and `AGAINST_RETURN`.
    """
    ways = (*TAKES, *AGAINST_RETURN)
    if take not in ways:
        raise ArgumentFault("take", take, f"one of {', '.join(ways)}")
    flaws = flaws or Flaws()
    if flaws.same_again:
        take = "straight"
    rng = np.random.default_rng([seed, ways.index(take)])
    frames = round(interface.start + (1 + interface.clock) * plan.length + interface.after * plan.rate)
    samples = _padded(plan, interface, frames)
    padded = np.zeros(samples)
    padded[: plan.length] = drive(plan, 0, plan.length)
    volts = voltages(
        scipy.fft.rfft(padded), samples, plan, circuit, spoiled_row(truth, flaws), rng.spawn(1)[0]
    )
    read = _inputs(volts, samples, plan, interface, take)
    instants = (np.arange(frames, dtype=np.float64) - interface.start) / (1 + interface.clock)
    if interface.jitter:
        instants += rng.normal(0, interface.jitter * plan.rate, frames)
    waves = np.column_stack([at_instants(spectrum, samples, instants) for spectrum in read])
    waves += _disturbed(frames, plan.rate, interface, flaws.hum, rng)
    waves = _converted(before_converter(waves, flaws), interface.bits)
    waves = _rounded(after_converter(waves, plan.rate, flaws), interface.bits)
    waves = taken_apart(waves, plan.rate, flaws)
    return recorded(f"{take} take", flaws.header_rate or plan.rate, waves, interface.bits)


def _padded(plan: TonePlan, interface: Interface, frames: int) -> int:
    """An even number of samples, quickly transformed, with rest enough before the signal returns."""
    span = max(plan.length, round(frames / (1 + interface.clock))) + round(
        max(-interface.start, 0) + _REST * plan.rate
    )
    return 2 * int(scipy.fft.next_fast_len((span + 1) // 2, real=True))


def _inputs(
    volts: tuple[Complex, Complex], samples: int, plan: TonePlan, interface: Interface, take: Take
) -> list[Complex]:
    """Spectra of what each input reads, full scale being 1, up to half the recorder's rate."""
    shunt, contact = volts
    common = [contact + shunt / 2, contact / 2]
    pairs = [shunt, -contact if "turned" in take else contact]
    if "swapped" in take:
        common, pairs = common[::-1], pairs[::-1]
    elif take in AGAINST_RETURN:
        # Minus is at the return: half of the volts are common to both legs.
        pairs = [shunt + contact, contact if take == "along" else shunt + contact]
        common = [volts / 2 for volts in pairs]
    frequency = np.arange(len(shunt), dtype=np.float64) * (plan.rate / samples)
    above = frequency >= plan.rate / 2 * min(1 + interface.clock, 1)
    read = []
    for number, one in enumerate(interface.inputs):
        met = pairs[number] + one.leak(frequency) * pairs[1 - number] + one.common * common[number]
        spectrum = _distorted(one.transfer(frequency) * met, samples, one)
        spectrum[above] = 0
        read.append(spectrum)
    return read


def _distorted(spectrum: Complex, samples: int, one: Input) -> Complex:
    """With the input's own third harmonic: a cube of which a sine at full scale has a quarter at three times its pitch."""
    if not one.third:
        return spectrum
    return spectrum + from_twice(4 * one.third * at_twice(spectrum, samples) ** 3, samples)


def _disturbed(frames: int, rate: int, interface: Interface, loop: float, rng: np.random.Generator) -> Array:
    """Noise, hum and constant volts at both inputs, full scale being 1; `loop` is hum that both have alike."""
    turn = 2 * np.pi * interface.mains * (1 + 2e-4 * rng.uniform(-1, 1)) / rate
    phases = rng.uniform(0, 2 * np.pi, (3, len(_HARMONICS)))
    added = np.empty((frames, 2))
    for number, one in enumerate(interface.inputs):
        added[:, number] = one.noise * rng.standard_normal(frames) + one.offset
        for peak, course in ((one.hum, phases[number]), (loop, phases[2])):
            if peak:
                added[:, number] += peak * _hum(frames, turn, course)
        added[:, number] *= one.gain / one.full_scale
    return added


def _hum(frames: int, turn: float, phases: Array) -> Array:
    """Mains and its harmonics, the fundamental's peak being 1."""
    found = np.zeros(frames)
    at = np.arange(frames) * turn
    for number, share in enumerate(_HARMONICS):
        found += share * np.cos((number + 1) * at + phases[number])
    return found


def _converted(waves: Array, bits: int | None) -> Array:
    """Clipped at full scale and rounded to steps of it."""
    return _rounded(np.clip(waves, -1, 1), bits)


def _rounded(waves: Array, bits: int | None) -> Array:
    if bits is None:
        return waves
    steps = 2.0 ** (bits - 1)
    return np.clip(np.round(waves * steps), -steps, steps - 1) / steps
