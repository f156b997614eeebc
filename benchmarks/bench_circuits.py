"""Speed and memory of the circuit engine, against a cascade of networks of scikit-rf in the same run; run by ``make bench``.

A coaxial cable with two joints: a piece of line, a joint, a piece, a joint, a piece, between 75 Ω. Each joint is a resistance
that is drawn. The other side is the loop that one would write: the lines are made once, and each draw is a cascade.
Both sides must give the same numbers to 1e-12, or there is no result.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from typing import Any

import numpy as np
import skrf
from skrf.media import DefinedGammaZ0, DistributedCircuit

from ohmsworth.consequence import make_use, thresholds
from ohmsworth.consequence.circuit import (
    Circuit,
    Contact,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    cable_of,
    magnitude_bands,
    magnitudes,
    respond,
    transfers,
)
from ohmsworth.consequence.kinds import USE_KINDS, kind_of
from ohmsworth.consequence.thresholds import _crossing
from ohmsworth.materials import screen_impedance, wire_impedance
from ohmsworth.work.meaning import explain

REFERENCE, LENGTHS = 75.0, (0.7, 12.0, 3.0)
INDUCTANCE, CAPACITANCE, LOSS = 3.8e-7, 67e-12, 4e-4
BAND = (0.025, 0.5, 0.975)
AGREED = 1e-12


def hertz(count: int) -> np.ndarray:
    return np.geomspace(1e5, 1e9, count)


def joints(count: int) -> np.ndarray:
    """Draws of both joints: half an ohm, times or over three at one standard deviation."""
    return np.random.default_rng(8).lognormal(np.log(0.5), np.log(3), (count, 2))


def core(frequency: np.ndarray) -> np.ndarray:
    return wire_impedance(0.065, frequency)


def screen(frequency: np.ndarray) -> np.ndarray:
    return screen_impedance(0.01, 1.85e-3, frequency)


def solved(frequency: np.ndarray) -> Transfer:
    """S21 of the cable as its joints see it, from nothing."""
    cable = cable_of((core, screen), (INDUCTANCE, 0), [[0, CAPACITANCE], [CAPACITANCE, 0]], LOSS)
    circuit = Circuit(
        (
            VoltageSource("wave", "e"),
            Resistor("e", "a", REFERENCE),
            Line(("a", "0"), ("b", "s1"), cable, LENGTHS[0]),
            Contact("joint 1", "b", "c"),
            Line(("c", "s1"), ("d", "s2"), cable, LENGTHS[1]),
            Contact("joint 2", "d", "f"),
            Line(("f", "s2"), ("g", "s3"), cable, LENGTHS[2]),
            Resistor("g", "s3", REFERENCE),
        )
    )
    return transfers(circuit, frequency, {"wave": 2.0}, [Volts("g", "s3")])[0]


def cascaded(frequency: np.ndarray, ohm: np.ndarray) -> np.ndarray:
    """The same by a loop over the draws."""
    band = skrf.Frequency.from_f(frequency, unit="hz")
    omega, z = 2 * np.pi * frequency, core(frequency) + screen(frequency)
    cable = DistributedCircuit(
        band,
        R=z.real,
        L=INDUCTANCE + z.imag / omega,
        C=CAPACITANCE,
        G=omega * CAPACITANCE * LOSS,
        z0_port=REFERENCE,
    )
    media = DefinedGammaZ0(band, z0=REFERENCE)
    first, second, third = (cable.line(length, "m") for length in LENGTHS)
    found = np.empty((len(ohm), len(frequency)), dtype=complex)
    for k, (r1, r2) in enumerate(ohm):
        network = first ** media.resistor(r1) ** second ** media.resistor(r2) ** third
        found[k] = network.s[:, 1, 0]
    return found


def timed(work: Callable[[], Any], repeats: int) -> tuple[float, Any]:
    """The least processor time of `repeats` runs, in which other work on the machine does not count, and the last result."""
    best = np.inf
    for _ in range(repeats):
        start = time.process_time()
        result = work()
        best = min(best, time.process_time() - start)
    return best, result


def held(work: Callable[[], object]) -> float:
    """Megabytes of arrays and objects that `work` holds at most."""
    tracemalloc.start()
    work()
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return most / 1e6


def peak() -> float:
    """Megabytes of memory that this process has taken at most."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def against_a_loop() -> None:
    frequency, ohm = hertz(1000), joints(1000)
    loop, peer = timed(lambda: cascaded(frequency, ohm), 3)
    ranked, peer_bands = timed(lambda: np.quantile(np.abs(peer), BAND, axis=0), 5)
    alone, _ = timed(lambda: solved(frequency), 100)
    fast, response = timed(lambda: respond(solved(frequency), ohm), 100)
    fast_bands, bands = timed(lambda: magnitude_bands(solved(frequency), ohm, BAND), 100)
    apart = max(np.abs(response - peer).max(), np.abs(bands - peer_bands).max())
    if apart > AGREED:
        raise SystemExit(f"circuits: both sides differ by {apart:.1e}: no result")
    print(
        f"circuits: S21 of a cable with two joints, 1 000 draws at 1 000 frequencies, in {1e3 * fast:.1f} ms of processor, "
        f"{loop / fast:.0f} x faster than a loop of scikit-rf cascades in {loop:.2f} s (target 100 x); agree to {apart:.0e}; "
        f"at most {held(lambda: respond(solved(frequency), ohm)):.0f} MB, 16 MB of them the result"
    )
    print(
        f"circuits: 2.5, 50 and 97.5 % of |S21| of them in {1e3 * fast_bands:.1f} ms of processor, {1e3 * alone:.1f} ms of them "
        f"for the circuit, {(loop + ranked) / fast_bands:.0f} x faster than the loop and numpy.quantile (target 300 x); "
        f"at most {held(lambda: magnitude_bands(solved(frequency), ohm, BAND)):.0f} MB"
    )


def large(what: str) -> None:
    """10 000 draws at 10 000 frequencies, whose complex values would fill 1 600 MB."""
    frequency, ohm = hertz(10_000), joints(10_000)

    def work() -> None:
        if what == "bands":
            magnitude_bands(solved(frequency), ohm, BAND)
        else:
            sum(float(squares.sum()) for _, squares in magnitudes(solved(frequency), ohm))

    took, _ = timed(work, 3)
    print(
        f"circuits: {what} of 10 000 draws at 10 000 frequencies in {took:.2f} s of processor, at most {held(work):.0f} MB of "
        f"arrays; the whole process {peak():.0f} MB"
    )


def ladder() -> None:
    uses = [make_use(kind) for kind in USE_KINDS]
    whole, _ = timed(explain, 5)
    inverse, found = timed(lambda: [thresholds(use) for use in uses], 5)
    rules = [rule for use in uses for rule in kind_of(use.kind).rules(use) if rule.threshold is not None]
    each = [timed(lambda rule=rule: _crossing(rule), 5)[0] for rule in rules]  # type: ignore[misc]
    print(
        f"ladder: all {len(uses)} uses with their curves in {1e3 * whole:.0f} ms, their {sum(map(len, found))} thresholds "
        f"alone in {1e3 * inverse:.0f} ms (target 500 ms); from a threshold to its resistance "
        f"{1e3 * float(np.median(each)):.2f} ms, {1e3 * max(each):.2f} ms at most (target 5 ms)"
    )


if __name__ == "__main__":
    if sys.argv[1:]:
        large(sys.argv[1])
    else:
        against_a_loop()
        for what in ("bands", "magnitudes"):
            # Each in a process of its own, so that its memory can be told.
            subprocess.run([sys.executable, __file__, what], check=True)
        ladder()
