"""Lighting control against dividers, chain matrices and the bounce diagram by hand, and every byte sent one by one."""

import math

import numpy as np
import pytest
from scipy.special import ndtr

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import PulseTrain, harmonics, respond, wave_constants, waveform
from ohmsworth.consequence.circuit.pulse import RISE_OVER_SIGMA
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.uses.cables import core_resistance, pair_alone
from ohmsworth.consequence.uses.lighting_circuit import last_transfer, lighting_circuit
from ohmsworth.consequence.uses.lighting_settings import driver_emf, unit_loads
from ohmsworth.errors import ArgumentFault
from ohmsworth.sources import SOURCES

BOTH = "every joint of both data conductors"
ONE = "every joint of one data conductor, the other ideal"
SINGLE = "one joint of one data conductor, all others ideal"
TERMINATOR = "both contacts of the terminator"
SCREEN = "every joint of the screen"


def by_key(use: Use, ohm: float) -> dict[tuple[str, str], float]:
    return {(e.key, e.position): float(e.value) for e in effects(use, np.asarray(ohm))}


def steady(use: Use, added: float) -> float:
    """A driver, the loop of cable and contacts, receivers and terminator side by side."""
    load = 1 / (1 / 120 + 16 / 12e3)
    loop = 2 * core_resistance(use) * 150.0 + added
    return 1.5 * (54 + 40) / 54 * load / (40 + loop + load)


def test_steady_level_by_hand() -> None:
    use = make_use("lighting control")
    for ohm in (0.0, 0.05, 4.0, 1e3):
        found = by_key(use, ohm)
        assert found["steady_level", BOTH] == pytest.approx(steady(use, 64 * ohm), rel=1e-9)
        assert found["steady_level", ONE] == pytest.approx(steady(use, 32 * ohm), rel=1e-9)
        assert found["steady_level", SINGLE] == pytest.approx(steady(use, ohm), rel=1e-9)


def test_steady_threshold_by_hand() -> None:
    use = make_use("lighting control")
    load = 1 / (1 / 120 + 16 / 12e3)
    loop = driver_emf(use) * load / 0.4 - 40 - load - 2 * core_resistance(use) * 150.0
    found = {(t.effect, t.position): t.resistance for t in thresholds(use)}
    assert found["steady_level", BOTH] == pytest.approx(loop / 64, rel=1e-9)
    assert found["steady_level", SINGLE] == pytest.approx(loop, rel=1e-9)
    # Edges and echoes cost a little more.
    worst = found["worst_level", BOTH]
    assert worst is not None
    assert 0.7 * loop / 64 < worst < loop / 64
    # Without its terminator this line is not at its worst: a driver of 40 Ω takes up what comes back.
    assert found["worst_level", TERMINATOR] is None


def test_receivers_in_the_middle_and_both_ends_terminated() -> None:
    """By hand: half of them behind half of the cable."""
    values: dict[str, float | str] = {
        "receivers": 8, "receivers_stand": "along", "terminated": "both ends", "unit_load": "1/4"
    }  # fmt: skip
    use = make_use("lighting control", values=values)
    assert unit_loads(use) == 2
    half, some = core_resistance(use) * 150.0, 12e3
    far = 1 / (1 / 120 + 1 / some)
    middle = 1 / (1 / some + 1 / (half + far))
    desk = 1 / (1 / 120 + 1 / (half + middle))
    expected = driver_emf(use) * desk / (40 + desk) * middle / (half + middle) * far / (half + far)
    assert by_key(use, 0.0)["steady_level", BOTH] == pytest.approx(expected, rel=1e-9)


def chain(use: Use, frequency: float, ohm: float) -> complex:
    """Volts at the last receiver per volt of EMF, by chain matrices of two-ports."""
    gamma, z0 = wave_constants(pair_alone(use), frequency)
    length, omega = float(use.settings["length"]), 2 * math.pi * frequency
    receivers = 16 / 12e3 + 1j * omega * 16 * 50e-12

    def series(z: complex) -> np.ndarray:
        return np.array([[1, z], [0, 1]])

    turn = gamma[0] * length
    line = np.array([[np.cosh(turn), z0[0] * np.sinh(turn)], [np.sinh(turn) / z0[0], np.cosh(turn)]])
    shunt = np.array([[1, 0], [receivers + 1 / 120, 1]])
    whole = series(40.0) @ series(32 * ohm) @ line @ series(32 * ohm) @ shunt
    return complex(1 / whole[0, 0])


def test_level_over_frequency_by_chain_matrices() -> None:
    use = make_use("lighting control")
    frequency = [1e3, 125e3, 1e6, 7e6, 40e6]
    for ohm in (0.0, 0.5, 20.0):
        found = response(use, [ohm], frequency)["level"][0]
        expected = [driver_emf(use) * abs(chain(use, f, ohm)) for f in frequency]
        np.testing.assert_allclose(found, expected, rtol=1e-8)


def test_a_lost_terminator_against_the_bounce_diagram() -> None:
    """A thick cable, a driver of 40 Ω, one light receiver: the step at the open end from echo to echo.

    What little the cable loses is taken at the frequency at which it rings, a wave of four times its length.
    """
    values: dict[str, float | str] = {
        "length": 150.0, "conductor": "50 mm²", "loss_tangent": 0.0, "driver_resistance": 40.0, "receivers": 1,
        "unit_load": "1/8", "receiver_capacitance": 0.0, "window": 0.4,
    }  # fmt: skip
    use = make_use("lighting control", values=values)
    ringing = 1 / (4 * math.sqrt(0.57e-6 * 42e-12) * 150.0)
    gamma, z0 = wave_constants(pair_alone(use), ringing)
    impedance, delay = abs(z0[0]), gamma[0].imag * 150.0 / (2 * math.pi * ringing)
    once = math.exp(-gamma[0].real * 150.0)
    at_source, at_load = (40 - impedance) / (40 + impedance), (96e3 - impedance) / (96e3 + impedance)
    sigma = 250e-9 / RISE_OVER_SIGMA

    def step(t: np.ndarray) -> np.ndarray:
        n = np.arange(100)[:, None]
        whole = once * (at_source * at_load * once**2) ** n * ndtr((t - 2 * n * delay) / sigma)
        return (1 + at_load) * impedance / (impedance + 40) * whole.sum(0)

    levels = []
    for part in np.linspace(0.3, 0.7, 9):
        # What a bit leaves k bits later: its rise less its fall.
        t = (part + np.arange(60)) * 4e-6
        left = step(t) - step(t - 4e-6)
        levels.append(left[0] - np.abs(left[1:]).sum())
    expected = driver_emf(use) * min(levels)
    found = by_key(use, 0.0)["worst_level_unterminated", BOTH]
    assert found == pytest.approx(expected, abs=0.015)
    assert 1 < found < 0.5 * driver_emf(use)


def test_no_byte_is_worse_than_the_worst_pattern() -> None:
    """Every byte with its start and stop bits, for ever: at the middle of the bits none is below what is told."""
    values: dict[str, float | str] = {
        "length": 400.0, "window": 0.0, "terminated": "none", "driver_resistance": 15.0
    }  # fmt: skip
    use, ohm = make_use("lighting control", values=values), 0.3
    circuit = lighting_circuit(use)
    told = by_key(use, ohm)["worst_level", BOTH]
    delay = math.sqrt(0.57e-6 * 42e-12) * 400.0
    shares = np.array([circuit.counts() * ohm])
    frequency = np.arange(1, 900) / (11 * 4e-6)
    gain = dict(zip(range(1, 900), respond(last_transfer(circuit, frequency), shares)[0], strict=True))
    gain[0] = complex(respond(last_transfer(circuit, np.zeros(1)), shares)[0, 0])
    lowest = math.inf
    for byte in range(256):
        bits = [-1.0, *(1.0 if byte >> k & 1 else -1.0 for k in range(8)), 1.0, 1.0]
        signal = harmonics(PulseTrain(np.array(bits), 4e-6, 250e-9))
        found = waveform(signal, np.array([gain[k] for k in signal.order.tolist()]), 11, delay + 2e-6)
        lowest = min(lowest, float((found * bits).min()) * driver_emf(use))
    assert told <= lowest + 1e-3
    # And the worst pattern is not far from what bytes can make.
    assert told > lowest - 0.3


def test_common_shift_by_hand() -> None:
    """115 V behind 115 V/50 mA, on 150 m of 20 mΩ/m and 32 joints; never more than those volts."""
    use, inner = make_use("lighting control"), 115 / 0.05
    ohm = 150 * 0.02 + 64
    assert by_key(use, 2.0)["common_shift", SCREEN] == pytest.approx(115 * ohm / (ohm + inner), rel=1e-12)
    assert by_key(use, 1e9)["common_shift", SCREEN] == pytest.approx(115, rel=1e-6)
    found = {t.effect: t.resistance for t in thresholds(use)}["common_shift"]
    assert found == pytest.approx((inner * 9.5 / (115 - 9.5) - 3) / 32, rel=1e-9)
    lower = make_use("lighting control", values={"driver_common": -5.0})
    found = {t.effect: t.resistance for t in thresholds(lower)}["common_shift"]
    assert found == pytest.approx((inner * 2.0 / (115 - 2.0) - 3) / 32, rel=1e-9)


def test_a_stiff_driver_needs_its_terminator() -> None:
    """10 Ω into 150 m: with it more than a volt in every pattern, without it the receiver's threshold is reached."""
    use = make_use("lighting control", values={"driver_resistance": 10.0, "receivers": 4})
    found = by_key(use, 0.0)
    assert found["worst_level", BOTH] > 1.2
    assert found["worst_level_unterminated", BOTH] < 0.3
    lost = next(t for t in thresholds(use) if t.position == TERMINATOR)
    assert lost.resistance is not None
    assert 50 < lost.resistance < 1e4


def test_without_a_terminator_there_is_none_to_lose() -> None:
    use = make_use("lighting control", values={"terminated": "none"})
    keys = {(e.key, e.position) for e in effects(use, 0.0)}
    assert ("worst_level", TERMINATOR) not in keys
    assert not any(key == "worst_level_unterminated" for key, _ in keys)
    whole = by_key(make_use("lighting control"), 0.0)
    assert by_key(use, 0.0)["worst_level", BOTH] == pytest.approx(
        whole["worst_level_unterminated", BOTH], abs=1e-6
    )


def test_a_long_line_gets_more_bits() -> None:
    """What runs to and fro 1500 m has died out all the same: the level is that of more than eight bits."""
    use = make_use("lighting control", values={"length": 1500.0, "conductor": "2.5 mm²"})
    found = by_key(use, 0.0)
    assert 0 < found["worst_level", BOTH] < found["steady_level", BOTH]


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("receivers", {"receivers": 33}),
        ("receivers", {"receivers": 129, "unit_load": "1/4"}),
        ("rise_time", {"rise_time": 3e-6}),
        ("driver_common", {"driver_common": 13.0}),
        ("conductor", {"conductor": "thick"}),
        ("core_core", {"core_core": 0.0, "core_screen": 0.0}),
        ("joints", {"joints": 0}),
        ("length", {"length": 2000.0, "loss_tangent": 0.9}),
        ("terminated", {"terminated": "here"}),
    ],
)
def test_settings_that_do_not_go_together_are_refused(key: str, values: dict[str, float | str]) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("lighting control", values=values)


def test_what_is_told() -> None:
    kind = kind_of("lighting control")
    assert len(kind.cautions) == 2
    assert all(rule.source in SOURCES for rule in kind.rules(make_use("lighting control")))
    assert unit_loads(make_use("lighting control", values={"receivers": 256, "unit_load": "1/8"})) == 32
