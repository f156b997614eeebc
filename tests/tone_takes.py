"""Plans of tones for tests: short, with every part in it."""

import numpy as np

from ohmsworth.resistance.impedance.drive import peak as peak_of
from ohmsworth.resistance.impedance.tone_plan import TonePlan, Way


def a_plan(
    rate: int = 48000,
    periods: int = 20,
    way: Way = "together",
    tones: int = 12,
    peak: float = 0.8,
    seed: int = 0,
) -> TonePlan:
    """Tones from 20 Hz to 20 kHz in periods of a tenth of a second, their sum with the peak `peak`."""
    period = rate // 10
    cycles = np.unique(np.round(np.geomspace(2, 2000, tones)).astype(np.int64))
    phases = np.random.default_rng(seed).uniform(0, 2 * np.pi, len(cycles))

    def made(each: float) -> TonePlan:
        return TonePlan(
            rate=rate,
            period=period,
            cycles=cycles,
            amplitudes=np.full(len(cycles), each),
            phases=phases,
            periods=periods,
            run_in=2,
            way=way,
            silence=rate // 2,
            level=rate // 4,
            gap=rate // 10,
            mark=rate // 4,
        )

    if way == "in turn":
        return made(peak)
    return made(peak / peak_of(made(1.0)))
