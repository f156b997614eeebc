"""Takes of a minute at 96 kHz with 31 tones: seconds to the impedance; memory of a minute and an hour; how true it is at 3 mΩ.

The peer is what somebody would otherwise write: a single least-squares fit of all tones to the samples by numpy. It is
given one second of one take, and its time is scaled to both.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
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


def memory(seconds: float) -> float:
    """Megabytes at most (VmHWM) of a process that reads a take of so many seconds at 48 kHz from a file of two inputs."""
    script = (
        "from pathlib import Path; from ohmsworth import wiring; from bench_takes import plan_of; "
        f"from ohmsworth.resistance.impedance.take import read_take; plan = plan_of(48_000, 11, {seconds}); "
        "read_take(plan, wiring.open_recording([Path(__import__('sys').argv[1])])); "
        "print([int(line.split()[1]) / 1024 for line in open('/proc/self/status') if line.startswith('VmHWM')][0])"
    )
    paths = os.pathsep.join([str(Path(__file__).parent), *filter(None, [os.environ.get("PYTHONPATH")])])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "take.wav"
        with wiring.staged_drive(path, plan_of(48_000, 11, seconds), 2):
            pass
        told = subprocess.run(
            [sys.executable, "-c", script, str(path)],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONPATH": paths},
        )
    return float(told.stdout)


@dataclass(frozen=True, slots=True)
class Truthful:
    """How true R is: by tone, shape (tones,).

    Parameters
    ----------
    bias
        Mean less truth over the truth; `known` is its standard deviation by chance.
    scatter, stated
        Standard deviation found, and the root mean square of those told, over the Cramér-Rao bound.
    held
        Share of the 95 % intervals that hold the truth.
    """

    bias: np.ndarray
    known: np.ndarray
    scatter: np.ndarray
    stated: np.ndarray
    held: np.ndarray


def accuracy(takes: int, seed: int) -> Truthful:
    """Two takes of a contact, recorded again and again with new noise."""
    plan = plan_of(48_000, 11, 10.0)
    quiet = Interface((Input(SCALE), Input(SCALE)), bits=None)
    clean = [simulate(plan, CIRCUIT, TRUTH, quiet, 1, k).whole(0, 10**9) for k in ("straight", "swapped")]
    rng, found = np.random.default_rng(seed), []
    for _ in range(takes):
        both = [read_take(plan, _disturbed(plan, waves, rng)) for waves in clean]
        found.append(impedance(plan, CIRCUIT, Takes(*both)).curve)
    truth = TRUTH.contact.impedance(plan.frequencies).real
    values = np.array([curve.value.real for curve in found])
    random = np.array([curve.random[:, 0, 0] for curve in found])
    half = np.array([stats.t.ppf(0.975, c.degrees) for c in found]) * np.sqrt(random)
    # Kay 1993, example 3.14: σ √(2/M) for an amplitude; two takes, both inputs.
    shunt_volts = [
        np.abs(read_take(plan, recorded("take", plan.rate, w)).tones.mean[i]) for i, w in enumerate(clean)
    ]
    current = np.mean(shunt_volts, axis=0) * SCALE / 0.1
    deviation = np.hypot(NOISE, SCALE * 2**-23 / np.sqrt(12))
    least = deviation * np.sqrt(2 / (plan.periods * plan.period)) / current * np.sqrt((1 + 0.03**2) / 2)
    return Truthful(
        (values.mean(axis=0) - truth) / truth,
        values.std(axis=0, ddof=1) / np.sqrt(takes) / truth,
        values.std(axis=0, ddof=1) / least,
        np.sqrt(random.mean(axis=0)) / least,
        (np.abs(values - truth) <= half).mean(axis=0),
    )


def _disturbed(plan: TonePlan, waves: np.ndarray, rng: np.random.Generator) -> Recording:
    """The same with noise, hum of any phase near 50 Hz, and 24 bits."""
    at = np.arange(len(waves)) / plan.rate
    hum = HUM / SCALE * np.cos(2 * np.pi * rng.uniform(49.95, 50.05) * at + rng.uniform(0, 2 * np.pi))
    noisy = waves + rng.normal(0, NOISE / SCALE, waves.shape) + hum[:, None]
    return recorded("take", plan.rate, np.round(noisy * 2**23) / 2**23, 24)


def main() -> None:
    """Print a line each for speed, memory and accuracy, or for one of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", choices=("speed", "memory", "accuracy"))
    parser.add_argument("--takes", type=int, default=TAKES, help="of the accuracy")
    parser.add_argument("--seed", type=int, default=7)
    asked = parser.parse_args()
    if asked.only in (None, "speed"):
        one, two, plain = speed(True), speed(False), peer()
        print(
            f"takes: two of 60 s at 96 kHz with 31 tones in {one:.2f} s by one clock ({plain / one:.0f} x a plain fit), "
            f"{two:.2f} s by two ({plain / two:.0f} x); load {os.getloadavg()[0]:.1f}"
        )
    if asked.only in (None, "memory"):
        minute, hour = memory(60.0), memory(3600.0)
        print(
            f"takes: a minute at 48 kHz from a file needs {minute:.0f} MB, an hour {hour:.0f} MB: {hour - minute:+.0f} MB"
        )
    if asked.only in (None, "accuracy"):
        found = accuracy(asked.takes, asked.seed)
        held = 100 * found.held
        print(
            f"takes: 3 mΩ, 20 mA, 0.5 µV, 10 s, {asked.takes} times: bias at most {100 * np.abs(found.bias).max():.4f} % "
            f"(known to {100 * found.known.max():.4f} %), scatter {found.scatter.min():.2f} to {found.scatter.max():.2f}, stated "
            f"{found.stated.min():.2f} to {found.stated.max():.2f} x the Cramér-Rao bound, 95 % intervals hold "
            f"{held.mean():.1f} % ({held.min():.1f} to {held.max():.1f} by tone)"
        )


if __name__ == "__main__":
    main()
