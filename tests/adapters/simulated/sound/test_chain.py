"""A simulated take holds what the equations of its chain say, reckoned here in another way."""

from dataclasses import replace

import numpy as np
import pytest
from tests.tone_takes import a_plan

from ohmsworth.adapters.simulated.sound import (
    AGAINST_RETURN,
    TAKES,
    Input,
    Interface,
    TrueContact,
    TrueShunt,
    Truth,
    any_chain,
    simulate,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan

PLAN = a_plan()
CIRCUIT = Circuit(Shunt(0.1), series=20.0, output=2.0, bridge=10.0)
TRUTH = Truth(TrueContact(0.009, 30e-9, 0.02, 40e-9), TrueShunt(0.1004, 15e-9))
PLAIN = Interface((Input(0.02), Input(0.02)), bits=None)


def phasors(
    take: Recording, plan: TonePlan, interface: Interface, frequencies: np.ndarray | None = None
) -> np.ndarray:
    """Least squares fit of the main part at known frequencies and times, shape (2, tones)."""
    frequencies = plan.frequencies if frequencies is None else frequencies
    main = plan.main[0]
    first, last = (
        int(interface.start + (1 + interface.clock) * at) for at in (main.start + 1, main.start + 4801)
    )
    time = ((np.arange(first, last) - interface.start) / (1 + interface.clock) - main.start) / plan.rate
    angle = 2 * np.pi * time[:, None] * frequencies
    columns = np.hstack([np.cos(angle), -np.sin(angle)])
    found = np.linalg.lstsq(columns, take.whole(first, last), rcond=None)[0]
    return (found[: len(frequencies)] + 1j * found[len(frequencies) :]).T


def row_current(plan: TonePlan, circuit: Circuit, truth: Truth) -> np.ndarray:
    """Phasors of the current at each tone, by the divider."""
    f = plan.frequencies
    row = truth.shunt.impedance(f) + truth.contact.impedance(f)
    across = row if circuit.bridge is None else 1 / (1 / row + 1 / circuit.bridge)
    played = circuit.output * plan.amplitudes * np.exp(1j * plan.phases)
    return played * across / (across + circuit.series) / row


@pytest.mark.parametrize("bridge", [None, 10.0])
@pytest.mark.parametrize(("start", "clock"), [(4800.0, 0.0), (777.31, 63e-6), (12000.77, -4e-5)])
def test_the_inputs_read_the_volts_of_the_row(bridge: float | None, start: float, clock: float) -> None:
    circuit = replace(CIRCUIT, bridge=bridge)
    interface = replace(PLAIN, start=start, clock=clock)
    found = phasors(simulate(PLAN, circuit, TRUTH, interface, 1), PLAN, interface)
    current = row_current(PLAN, circuit, TRUTH)
    assert found[0] == pytest.approx(current * TRUTH.shunt.impedance(PLAN.frequencies) / 0.02, rel=1e-9)
    assert found[1] == pytest.approx(current * TRUTH.contact.impedance(PLAN.frequencies) / 0.02, rel=1e-9)


@pytest.mark.parametrize("take", [*TAKES, *AGAINST_RETURN])
def test_leads_and_imperfect_inputs(take: str) -> None:
    first = Input(0.02, 1.02, 9e4, 2.0, 3e-8, 2e-2, 5e3, 0.03)
    second = Input(0.03, 0.99, 7e4, 1.0, -2e-8, 4e-2, 8e3, -0.05)
    interface = replace(PLAIN, inputs=(first, second))
    found = phasors(simulate(PLAN, CIRCUIT, TRUTH, interface, 1, take), PLAN, interface)
    f, current = PLAN.frequencies, row_current(PLAN, CIRCUIT, TRUTH)
    shunt, contact = current * TRUTH.shunt.impedance(f), current * TRUTH.contact.impedance(f)
    pairs = [(shunt, contact + shunt / 2), (contact * (-1 if "turned" in take else 1), contact / 2)]
    if "swapped" in take:
        pairs.reverse()
    if take in AGAINST_RETURN:
        whole = shunt + contact
        pairs = [(volts, volts / 2) for volts in (whole, whole if take == "both before" else contact)]
    for number, one in enumerate(interface.inputs):
        (own, common), (other, _) = pairs[number], pairs[1 - number]
        met = own + one.crosstalk * (1 + 1j * f / one.rises) * other + one.common * common
        s = 2j * np.pi * f
        transfer = (
            one.gain
            / one.full_scale
            / (1 + s / (2 * np.pi * one.pole))
            * (s / (s + 2 * np.pi * one.coupling))
            * np.exp(-s * one.delay)
        )
        # The high-pass still settles from the swelling of the tones.
        assert found[number] == pytest.approx(met * transfer, rel=2e-3 if one.coupling else 1e-9)


def test_the_sound_before_and_after_the_tones_passes_the_row_too() -> None:
    take = simulate(PLAN, CIRCUIT, TRUTH, PLAIN, 1)
    mark = PLAN.first_mark
    swept = take.whole(4800 + mark.start, 4800 + mark.stop)
    assert np.abs(swept).max(axis=0) == pytest.approx(
        np.abs(take.whole(4800 + PLAN.main[0].start, 4800 + PLAN.main[0].stop)).max(axis=0), rel=0.3
    )
    assert np.abs(take.whole(0, 4800 + PLAN.silence // 2)).max() < 1e-9


def test_a_bent_metal_has_harmonics_of_the_series() -> None:
    plan = a_plan(tones=1)
    one = TonePlan(
        **{name: getattr(plan, name) for name in plan.__dataclass_fields__}
        | {"cycles": np.array([100]), "amplitudes": np.array([0.8]), "phases": np.array([0.0])}
    )
    contact = TrueContact(0.05, scale=0.1, lean=0.3)
    truth = Truth(contact, TrueShunt(1e-4))
    circuit = Circuit(Shunt(1e-4), series=1000.0, output=100.0)
    peak = 0.05 * abs(row_current(one, circuit, truth)[0])
    found = phasors(
        simulate(one, circuit, truth, PLAIN, 1), one, PLAIN, one.frequencies * np.array([1, 2, 3])
    )
    volts = np.abs(found[1]) * 0.02
    # i = v/R (1 + lean v/V0 + (v/V0)²/6), turned round: v = u − lean u²/V0 − u³/(6 V0²), to first order
    assert volts[1] == pytest.approx(0.3 * peak**2 / 2 / 0.1, rel=1e-3)
    assert volts[2] == pytest.approx(peak**3 / 4 / 6 / 0.1**2, rel=1e-3)
    assert peak - volts[0] == pytest.approx(3 * peak**3 / 4 / 6 / 0.1**2, rel=1e-3)


def test_an_input_has_its_own_third_harmonic() -> None:
    plan = a_plan(tones=1)
    one = TonePlan(
        **{name: getattr(plan, name) for name in plan.__dataclass_fields__}
        | {"cycles": np.array([300]), "amplitudes": np.array([0.5]), "phases": np.array([0.2])}
    )
    interface = replace(PLAIN, inputs=(Input(0.02, third=1e-4), Input(0.02)))
    found = phasors(
        simulate(one, CIRCUIT, TRUTH, interface, 1), one, interface, one.frequencies * np.array([1, 3])
    )
    assert abs(found[0, 1]) == pytest.approx(1e-4 * abs(found[0, 0]) ** 3, rel=1e-3)
    assert abs(found[1, 1]) < 1e-12


def test_noise_and_hum_are_as_strong_as_said() -> None:
    interface = replace(PLAIN, inputs=(Input(0.02, noise=2e-6), Input(0.02, hum=1e-4, offset=1e-5)))
    silent = simulate(PLAN, CIRCUIT, TRUTH, replace(interface, start=96000.0), 3).whole(0, 96000)
    assert silent[:, 0].std() == pytest.approx(2e-6 / 0.02, rel=0.01)
    assert silent[:, 1].mean() == pytest.approx(1e-5 / 0.02, rel=0.02)
    spectrum = np.abs(np.fft.rfft(silent[:, 1] * np.hanning(96000))) / 24000
    assert spectrum[97:104].max() == pytest.approx(1e-4 / 0.02, rel=0.02)


def course_of(contact: TrueContact, shunt: TrueShunt, periods: int = 40) -> np.ndarray:
    """Real part of the ratio of both inputs, mean over the tones, in each period."""
    plan = a_plan(periods=periods)
    take = simulate(plan, CIRCUIT, Truth(contact, shunt), PLAIN, 5)
    main = plan.main[0]
    waves = take.whole(4800 + main.start, 4800 + main.stop).reshape(periods, plan.period, 2)
    lines = np.fft.rfft(waves, axis=1)[:, plan.cycles]
    return (lines[:, :, 1] / lines[:, :, 0]).real.mean(axis=1)


def test_a_drift_leaves_the_mean_resistance() -> None:
    course = course_of(TrueContact(0.01, drift=0.01), TrueShunt(0.1, drift=-0.002))
    assert course.mean() == pytest.approx(0.1, rel=1e-5)
    assert np.polyfit(np.arange(40) / 40, course / 0.1, 1)[0] == pytest.approx(0.012, rel=0.02)


def test_a_flicker_leaves_the_mean_resistance() -> None:
    course = course_of(TrueContact(0.01, flicker=0.02), TrueShunt(0.1))
    assert course.mean() == pytest.approx(0.1, rel=1e-3)
    # Density 0.02²/f in means over 0.1 s of a stretch of 4 s: 0.02² ln(4 s/0.1 s) or so.
    assert (course / 0.1).std() == pytest.approx(0.02 * np.sqrt(np.log(40)), rel=0.4)


@pytest.mark.parametrize(("bits", "steps"), [(16, 2**15), (24, 2**23), (32, 2**31)])
def test_samples_lie_on_steps_of_their_bits(bits: int, steps: int) -> None:
    take = simulate(PLAN, CIRCUIT, TRUTH, replace(PLAIN, bits=bits), 1)
    waves = take.whole(0, take.frames) * steps
    assert (waves == np.round(waves)).all()
    assert np.abs(waves).max() > 0.1 * steps


def test_the_seed_and_the_take_decide_the_noise() -> None:
    circuit, truth, interface = any_chain(4)
    same = [simulate(PLAN, circuit, truth, interface, 9).whole(0, 5000) for _ in range(2)]
    other = simulate(PLAN, circuit, truth, interface, 10).whole(0, 5000)
    turned = simulate(PLAN, circuit, truth, interface, 9, "turned").whole(0, 5000)
    assert (same[0] == same[1]).all()
    assert (same[0] != other).any()
    assert (same[0] != turned).any()


def test_jitter_is_noise_that_grows_with_frequency() -> None:
    jittery = replace(PLAIN, jitter=1e-9)
    noise = simulate(PLAN, CIRCUIT, TRUTH, jittery, 1).whole(0, 240000) - simulate(
        PLAN, CIRCUIT, TRUTH, PLAIN, 1
    ).whole(0, 240000)
    main = slice(4800 + PLAN.main[0].start, 4800 + PLAN.main[0].stop)
    current = row_current(PLAN, CIRCUIT, TRUTH) * TRUTH.shunt.impedance(PLAN.frequencies) / 0.02
    slope = np.sqrt(0.5 * (np.abs(2 * np.pi * PLAN.frequencies * current) ** 2).sum())
    assert noise[main, 0].std() == pytest.approx(1e-9 * slope, rel=0.02)


def test_a_take_that_there_is_not_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="take"):
        simulate(PLAN, CIRCUIT, TRUTH, PLAIN, 1, "upside down")  # type: ignore[arg-type]
