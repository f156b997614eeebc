"""Takes of a minute at 96 kHz with 31 tones: seconds to the impedance, memory of an hour, and how true it is at 3 mΩ.

The peer is what somebody would otherwise write: a single least-squares fit of all tones to the samples by numpy. It is
given one second of one take, and its time is scaled to both.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
from scipy import stats

from ohmsworth import wiring
from ohmsworth.adapters.simulated.sound import Input, Interface, TrueContact, TrueShunt, Truth, simulate
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.from_takes import Takes, impedance
from ohmsworth.resistance.impedance.recording import Recording, recorded
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

CIRCUIT = Circuit(Shunt(0.1, tolerance=0.0), series=47.0, output=2.0, bridge=1.0, crosstalk=0.0)
TRUTH = Truth(TrueContact(3e-3, 15e-9), TrueShunt(0.1))
#: Input noise in V rms, full scale and hum in V of the accuracy part.
NOISE, SCALE, HUM = 0.5e-6, 0.1, 20e-6
TAKES = 500


def plan_of(rate: int, tones: int, seconds: float) -> TonePlan:
    """A plan at 20 mA in all."""
    return plan_for(Wishes(CIRCUIT, 3e-3, 0.02, tones=tones, seconds=seconds, rate=rate))


def with_clock(clock: float) -> Interface:
    """Two inputs that differ, and a clock."""
    one = Input(SCALE, 1.01, 80e3, 2.0, noise=NOISE, hum=HUM)
    other = Input(SCALE, 0.99, 90e3, 3.0, noise=NOISE, hum=HUM)
    return Interface((one, other), clock=clock)


def speed(shared: bool) -> float:
    """Seconds of two takes from samples to impedance."""
    plan = plan_of(96_000, 31, 60.0)
    two = [
        simulate(plan, CIRCUIT, TRUTH, with_clock(0.0 if shared else 2e-5), 1, k)
        for k in ("straight", "swapped")
    ]
    best = np.inf
    for _ in range(3):
        begun = time.perf_counter()
        impedance(plan, CIRCUIT, Takes(*[read_take(plan, take) for take in two]))
        best = min(best, time.perf_counter() - begun)
    return best


def peer() -> float:
    """Seconds that a plain fit of 31 tones to the samples of two such takes would need."""
    plan = plan_of(96_000, 31, 60.0)
    samples = plan.rate
    angle = 2 * np.pi * plan.cycles * np.arange(samples)[:, None] / plan.period
    waves = np.random.default_rng(1).normal(size=(samples, 2))
    begun = time.perf_counter()
    np.linalg.lstsq(np.concatenate([np.cos(angle), np.sin(angle)], axis=1), waves, rcond=None)
    return (time.perf_counter() - begun) * 2 * plan.periods * plan.period / samples


def hour() -> tuple[float, float]:
    """Megabytes of a process that reads an hour-long take at 48 kHz from a file, and of one that only starts."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "hour.wav"
        plan = plan_of(48_000, 11, 3600.0)
        with wiring.staged_drive(path, plan, 2):
            pass
        runs = []
        for what in ("read_take(plan, recording)", "None"):
            script = (
                "from pathlib import Path; from ohmsworth import wiring; from bench_takes import plan_of; "
                "from ohmsworth.resistance.impedance.take import read_take; plan = plan_of(48_000, 11, 3600.0); "
                f"recording = wiring.open_recording([Path({str(path)!r})]); {what}; "
                "print([int(line.split()[1]) / 1024 for line in open('/proc/self/status') if line.startswith('VmHWM')][0])"
            )
            environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parent)}
            told = subprocess.run(
                [sys.executable, "-c", script], capture_output=True, text=True, check=True, env=environment
            )
            runs.append(float(told.stdout))
    return runs[0], runs[1]


def accuracy() -> tuple[float, float, float, float]:
    """Largest bias in %, scatter over the Cramér-Rao bound at most, and the least and most share of 95 % intervals that hold."""
    plan = plan_of(48_000, 11, 10.0)
    quiet = Interface((Input(SCALE), Input(SCALE)), bits=None)
    clean = [simulate(plan, CIRCUIT, TRUTH, quiet, 1, k).whole(0, 10**9) for k in ("straight", "swapped")]
    rng, found = np.random.default_rng(7), []
    for _ in range(TAKES):
        takes = [read_take(plan, _disturbed(plan, waves, rng)) for waves in clean]
        found.append(impedance(plan, CIRCUIT, Takes(*takes)).curve)
    truth = TRUTH.contact.impedance(plan.frequencies).real
    values = np.array([curve.value.real for curve in found])
    half = np.array([stats.t.ppf(0.975, c.degrees) * np.sqrt(c.random[:, 0, 0]) for c in found])
    held = (np.abs(values - truth) <= half).mean(axis=0)
    # Kay 1993, example 3.14: σ √(2/M) for an amplitude; two takes, both inputs.
    shunt_volts = [
        np.abs(read_take(plan, recorded("take", plan.rate, w)).tones.mean[i]) for i, w in enumerate(clean)
    ]
    current = np.mean(shunt_volts, axis=0) * SCALE / 0.1
    deviation = np.hypot(NOISE, SCALE * 2**-23 / np.sqrt(12))
    least = deviation * np.sqrt(2 / (plan.periods * plan.period)) / current * np.sqrt((1 + 0.03**2) / 2)
    bias = np.abs(values.mean(axis=0) - truth) / truth
    return (
        100 * float(bias.max()),
        float((values.std(axis=0, ddof=1) / least).max()),
        float(held.min()),
        float(held.max()),
    )


def _disturbed(plan: TonePlan, waves: np.ndarray, rng: np.random.Generator) -> Recording:
    """The same with noise, hum of any phase near 50 Hz, and 24 bits."""
    at = np.arange(len(waves)) / plan.rate
    hum = HUM / SCALE * np.cos(2 * np.pi * rng.uniform(49.95, 50.05) * at + rng.uniform(0, 2 * np.pi))
    noisy = waves + rng.normal(0, NOISE / SCALE, waves.shape) + hum[:, None]
    return recorded("take", plan.rate, np.round(noisy * 2**23) / 2**23, 24)


def main() -> None:
    """Print a line each for speed, memory and accuracy."""
    one, two, plain = speed(True), speed(False), peer()
    print(
        f"takes: two of 60 s at 96 kHz with 31 tones in {one:.2f} s by one clock ({plain / one:.0f} x a plain fit), "
        f"{two:.2f} s by two ({plain / two:.0f} x); load {os.getloadavg()[0]:.1f}"
    )
    most, idle = hour()
    print(
        f"takes: an hour at 48 kHz from a file needs {most:.0f} MB, {most - idle:.0f} MB more than opening it"
    )
    bias, ratio, low, high = accuracy()
    print(
        f"takes: 3 mΩ, 20 mA, 0.5 µV, 10 s, {TAKES} times: bias {bias:.3f} %, scatter at most {ratio:.2f} x the Cramér-Rao "
        f"bound, 95 % intervals hold {100 * low:.1f} to {100 * high:.1f} % by tone"
    )


if __name__ == "__main__":
    main()
