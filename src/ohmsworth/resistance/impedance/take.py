"""A recording to its phasors."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.clock import read_clock
from ohmsworth.resistance.impedance.locate import locate
from ohmsworth.resistance.impedance.lockin import Timing, demodulate, fold, leaking
from ohmsworth.resistance.impedance.noise import bins_beside, noise_beside, quiet_bins
from ohmsworth.resistance.impedance.phasors import Lines, Take
from ohmsworth.resistance.impedance.products import product_cycles
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import Windows, windows_for

Complex = NDArray[np.complex128]
Codes = NDArray[np.int64]


class OtherRate(InputRefused):
    """The recording was made at another rate than the drive."""

    def __init__(self, where: str, found: int, expected: int) -> None:
        mend = (
            f"Set interface and recorder to {expected} and record again; a file that was converted afterwards has lost what is "
            "measured here."
        )
        told = (f"{rate} samples a second" for rate in (found, expected))
        super().__init__((Fault(where, next(told), f"{next(told)}, as the drive is played", mend),))


def read_take(plan: TonePlan, recording: Recording) -> Take:
    """Find the take in a recording and lock in to its tones and their products.

    Where player and recorder share a clock, whole periods are laid on each other; else every line is fitted at its own
    frequency by windowed least squares.

    Raises
    ------
    TakeNotFound
        When its marks are not there.
    OtherRate
        When the recording says another rate than the plan.
    """
    if recording.rate != plan.rate:
        raise OtherRate(recording.name, recording.rate, plan.rate)
    place = locate(plan, recording)
    clock = read_clock(plan, recording, place)
    windows = windows_for(plan.periods)
    read = _fold_stretch if clock.shared else _fit_stretch
    tones, products = [], []
    for turn, extra in enumerate(product_cycles(plan)):
        played = plan.cycles[turn : turn + 1] if plan.way == "in turn" else plan.cycles
        start = place.start + plan.main[turn].start * (1 + clock.difference)
        found = read(
            plan, recording, Timing(start, 1 + clock.difference, plan.period), windows, played, extra
        )
        tones.append(found[0])
        products.append(found[1])
    return Take(
        _joined(tones), _joined(products), clock.difference, clock.uncertainty, place.start, clock.shared
    )


def _fold_stretch(
    plan: TonePlan, recording: Recording, timing: Timing, windows: Windows, tones: Codes, products: Codes
) -> tuple[Lines, Lines]:
    spectra = fold(recording, round(timing.start), plan.period, windows)
    mean = spectra.mean(axis=0)
    lines = np.concatenate([tones, products])
    quiet = quiet_bins(plan, lines, np.zeros(len(lines)))
    noise = [noise_beside(mean[:, bins_beside(quiet, line)]) for line in lines]
    return (
        _lines(tones, spectra[:, :, tones], noise[: len(tones)]),
        _lines(products, mean[None, :, products], noise[len(tones) :]),
    )


def _fit_stretch(
    plan: TonePlan, recording: Recording, timing: Timing, windows: Windows, tones: Codes, products: Codes
) -> tuple[Lines, Lines]:
    strong, weak = demodulate(recording, timing, windows, tones.astype(float), products.astype(float))
    # The noise is looked for in whole cycles of the recorder's period, what the tones leave there taken away.
    begun = round(timing.start)
    mean = fold(recording, begun, plan.period, windows).mean(axis=0)
    phasors = strong.mean(axis=0) * np.exp(1j * timing.turn(tones.astype(float)) * (begun - timing.start))
    lines = np.concatenate([tones, products])
    seen = lines / timing.scale
    quiet = quiet_bins(plan, lines, np.abs(seen - lines) + 1)
    noise = []
    for line in seen:
        beside = bins_beside(quiet, line)
        left = leaking(phasors, seen[: len(tones)], beside.astype(float), windows)
        noise.append(noise_beside(mean[:, beside] - left))
    return _lines(tones, strong, noise[: len(tones)]), _lines(products, weak[None], noise[len(tones) :])


def _lines(cycles: Codes, groups: Complex, noise: list[tuple[Complex, float]]) -> Lines:
    covariance = np.array([part for part, _ in noise]).reshape(len(cycles), 2, 2)
    return Lines(cycles, groups, covariance, np.array([degrees for _, degrees in noise]))


def _joined(parts: list[Lines]) -> Lines:
    return Lines(
        np.concatenate([part.cycles for part in parts]),
        np.concatenate([part.groups for part in parts], axis=2),
        np.concatenate([part.noise for part in parts]),
        np.concatenate([part.degrees for part in parts]),
    )
