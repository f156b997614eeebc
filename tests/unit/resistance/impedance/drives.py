"""Small plans, and recordings of them made sample by sample from their formula."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.resistance.impedance.recording import Recording, recorded
from ohmsworth.resistance.impedance.tone_plan import TonePlan, Way

RATE = 8000
CYCLES = (21, 79, 317, 631, 1263, 2517)


def plan(periods: int = 4, way: Way = "together", cycles: tuple[int, ...] = CYCLES) -> TonePlan:
    """Tones with a period of a second at 8 kHz."""
    count = len(cycles)
    phases = -np.pi * np.arange(count) ** 2 / count
    return TonePlan(
        RATE, RATE, np.array(cycles), np.full(count, 0.06), phases, periods, 1, way, 4000, 4000, 2000, 2000
    )


def tones_at(of: TonePlan, time: NDArray[np.float64], tone: int | None = None) -> NDArray[np.float64]:
    """Main part at any moment, in samples from its beginning."""
    chosen = range(len(of.cycles)) if tone is None else (tone,)
    turn = 2 * np.pi / of.period
    return np.sum(
        [of.amplitudes[k] * np.cos(turn * of.cycles[k] * time + of.phases[k]) for k in chosen], axis=0
    )


def played(
    of: TonePlan, shares: tuple[complex, complex] = (1.0, 0.03), start: float = 3000, clock: float = 0.0
) -> Recording:
    """Both inputs hear the drive, each its share; by another clock the main part is exact and the marks are interpolated."""
    moments = (np.arange(int(of.length * (1 + clock) + start) + 6000) - start) / (1 + clock)
    wave = np.interp(moments, np.arange(of.length), drive(of, 0, of.length), 0.0, 0.0)
    for turn, stretch in enumerate(of.main):
        inside = (moments >= stretch.start - of.period / 2) & (moments < stretch.stop + 100)
        wave[inside] = tones_at(of, moments[inside] - stretch.start, turn if of.way == "in turn" else None)
    return recorded("take", of.rate, np.column_stack([wave * share for share in np.real(shares)]))


def noisy(quiet: Recording, deviation: float, seed: int) -> Recording:
    """The same with white noise on both inputs."""
    waves = quiet.whole(0, quiet.frames)
    rng = np.random.default_rng(seed)
    return recorded(quiet.name, quiet.rate, waves + rng.normal(0, deviation, waves.shape))
