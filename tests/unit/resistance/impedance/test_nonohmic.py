"""Harmonics and products that a contact makes of its own."""

import math
from functools import cache

import numpy as np
import pytest
from tests.unit.resistance.impedance.takes import circuit, lines, sampled, take, tone_plan

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import third_harmonic
from ohmsworth.resistance.impedance.detection import (
    chance_of,
    critical_factor,
    limit_factor,
    signed_limit_factor,
)
from ohmsworth.resistance.impedance.nonohmic import NonOhmic, film_voltage, is_usual_film, nonohmic
from ohmsworth.resistance.impedance.phasors import Take
from ohmsworth.resistance.impedance.powers import products_of
from ohmsworth.resistance.impedance.tone_plan import TonePlan

PLAN = tone_plan([97, 311, 1009])
IN_TURN = tone_plan([97, 311, 1009], "in turn")
HARMONICS = np.array(sorted([2 * 97, 3 * 97, 2 * 311, 3 * 311, 2 * 1009, 3 * 1009]))
LINES = np.array(
    sorted([*HARMONICS, 97 + 311, 311 - 97, 2 * 311 - 97, 2 * 97 + 311, 1009 - 97 - 311, 1009 + 97])
)
OHM, AMPERE = 0.2, 0.03


def made(
    plan: TonePlan = PLAN,
    cube: float = 0.0,
    square: float = 0.0,
    noise: float = 1e-9,
    seed: int | None = 1,
    dirt: float = 1e-4,
    turned: bool = False,
    wanted: np.ndarray = LINES,
    bent: float = 0.0,
) -> Take:
    """A contact v = u + square u² + cube u³, u = Z i, whose current has products of its own.

    `dirt` is the current's own cube; `bent` that of the contact's input, for a volt at it.
    """
    out = clean(plan, cube, square, dirt, bent)
    inputs = circuit().inputs
    assert inputs is not None
    out = (out[::-1] if turned else out) / np.array(inputs)[:, None]
    tones = lines(plan.cycles, out[:, plan.cycles], noise, seed=seed)
    return take(tones, lines(wanted, out[:, wanted], noise, seed=None if seed is None else seed + 10**6))


@cache
def clean(plan: TonePlan, cube: float, square: float, dirt: float, bent: float) -> np.ndarray:
    """Spectra of contact and shunt in volt, shape (2, bins)."""
    phasors = AMPERE * np.exp(1j * plan.phases)
    f = np.arange(24001.0)
    z = OHM + 2j * np.pi * f * 2e-8
    out = np.zeros((2, 24001), complex)
    for k in range(len(plan.cycles)) if plan.way == "in turn" else [slice(None)]:
        only = np.zeros_like(phasors)
        only[k] = phasors[k]
        current = sampled(plan, lambda i: i + dirt * i**3 / AMPERE**2, only)
        wave = np.fft.irfft(z * current * 24000, 48000)
        v = z * current + np.fft.rfft(square * wave**2 + cube * wave**3) / 24000
        v += np.fft.rfft(bent * np.fft.irfft(v * 24000, 48000) ** 3) / 24000
        out += np.array([v, current * circuit().shunt.impedance(f)])
    return out


def found(**planted: object) -> NonOhmic:
    return nonohmic(made(**planted), PLAN, circuit())  # type: ignore[arg-type]


def test_lines_of_one_tone_by_hand() -> None:
    u = 0.3 * np.exp(0.7j)
    for way in ("together", "in turn"):
        got = products_of(np.array([u]), np.array([50]), np.array([100, 150, 60]), way)  # type: ignore[arg-type]
        assert got.square == pytest.approx([u**2 / 2, 0, 0], abs=1e-15)
        assert got.cube == pytest.approx([0, u**3 / 4, 0], abs=1e-15)
        assert got.harmonic.tolist() == [0, 0, -1]


def test_lines_of_two_tones_by_hand() -> None:
    a, b = 0.3 * np.exp(0.7j), 0.2 * np.exp(-1.1j)
    wanted = np.array([50 + 70, 70 - 50, 2 * 50 + 70, 2 * 70 - 50, 9999])
    got = products_of(np.array([a, b]), np.array([50, 70]), wanted, "together")
    assert got.square[:2] == pytest.approx([a * b, b * np.conj(a)])
    assert got.cube[2:] == pytest.approx([0.75 * a**2 * b, 0.75 * b**2 * np.conj(a), 0])


def test_in_turn_a_line_of_two_tones_is_left_out() -> None:
    got = products_of(np.array([1.0, 1.0]), np.array([20, 30]), np.array([40, 60, 90, 50]), "in turn")
    assert got.clear.tolist() == [True, False, True, False]  # 60 = 3 × 20 = 2 × 30; 50 is no harmonic


@pytest.mark.parametrize("plan", [PLAN, IN_TURN], ids=["together", "in turn"])
def test_planted_law_comes_back_without_noise(plan: TonePlan) -> None:
    wanted = LINES if plan is PLAN else HARMONICS
    got = nonohmic(made(plan, cube=-20.0, square=0.01, seed=None, wanted=wanted), plan, circuit())
    # Lines of fifth order are in the same places: a few parts in a thousand.
    assert got.third.coefficient.value == pytest.approx(-20, rel=0.01)
    assert got.second.coefficient.value == pytest.approx(0.01, rel=0.01)
    assert (got.third.verdict, got.second.verdict) == ("contact", "contact")
    assert got.largest == pytest.approx(OHM * AMPERE, rel=5e-3)
    assert got.third.index == pytest.approx(20 * math.log10(20 * (OHM * AMPERE) ** 2 / 4), abs=0.1)


def test_index_of_a_line_is_that_of_the_law() -> None:
    got = nonohmic(made(IN_TURN, cube=-20.0, seed=None, wanted=HARMONICS), IN_TURN, circuit())
    third = got.lines.order == 3
    assert got.lines.index[third] == pytest.approx(np.full(3, got.third.index), abs=0.1)
    assert got.lines.tone[third] == pytest.approx(PLAN.frequencies)
    assert got.lines.frequency[third] == pytest.approx(3 * PLAN.frequencies)


def test_the_currents_own_products_are_not_the_contacts() -> None:
    got = found(dirt=0.01, seed=None)
    line = np.abs(sampled(PLAN, lambda i: 0.01 * i**3 / AMPERE**2, AMPERE * np.exp(1j * PLAN.phases)))
    assert np.abs(got.lines.excess).max() < 1e-4 * OHM * line[LINES].max()


def test_the_film_that_it_would_be() -> None:
    v0 = film_voltage(-20.0)
    assert v0 == pytest.approx(1 / math.sqrt(20))
    own = third_harmonic(0.006, v0)
    assert own.high == pytest.approx(20 * 0.006**2 / 4, rel=1e-12)
    assert film_voltage(-20.0, 0.25) == pytest.approx(v0 / 8)
    assert film_voltage(3.0) == math.inf
    assert is_usual_film(-20.0)
    assert not is_usual_film(-2000.0)
    assert not is_usual_film(20.0)


def test_false_alarms_are_one_in_twenty() -> None:
    """600 draws without any law: each of four tests alarms in 5 % ± four standard errors (0.9 %)."""
    draws = [found(noise=1e-6, seed=seed) for seed in range(600)]
    each = {
        "third": [d.third.p_value < 0.05 for d in draws],
        "second": [d.second.verdict != "not seen" for d in draws],
        "energy": [d.third.any_p < 0.05 for d in draws],
        "fit": [(d.fit.p_value or 0) < 0.05 for d in draws],
        "a line": [bool(np.abs(d.lines.excess[0]) > d.lines.critical[0]) for d in draws],
    }
    rates = {name: np.mean(alarms) for name, alarms in each.items()}
    assert all(0.014 < rate < 0.086 for rate in rates.values()), rates


def test_what_is_as_large_as_the_limit_is_found_in_nineteen_of_twenty() -> None:
    """400 draws: 95 % ± four standard errors (1.1 %)."""
    limit = found(noise=1e-6).third.limit
    draws = [found(cube=-limit, noise=1e-6, seed=seed) for seed in range(400)]
    seen = np.mean([d.third.verdict == "contact" for d in draws])
    assert 0.9 < seen < 0.99
    held = np.mean([low < -limit < high for low, high in (d.third.coefficient.interval() for d in draws)])
    assert 0.9 < held < 0.99


@pytest.mark.parametrize("degrees", [8.0, 40.0, math.inf])
def test_critical_value_and_limit_of_a_magnitude_by_draws(degrees: float) -> None:
    random, draws = np.random.default_rng(6), 100_000
    n = (random.normal(size=draws) + 1j * random.normal(size=draws)) / math.sqrt(2)
    sigma = np.ones(draws) if np.isinf(degrees) else np.sqrt(random.chisquare(degrees, draws) / degrees)
    assert np.mean(np.abs(n) > critical_factor(degrees) * sigma) == pytest.approx(0.05, abs=0.003)
    # The limit is of a signal over the true noise.
    assert np.mean(np.abs(n + limit_factor(degrees)) > critical_factor(degrees) * sigma) == pytest.approx(
        0.95, abs=0.003
    )
    p = chance_of(np.abs(n), sigma**2, np.full(draws, degrees))
    assert np.mean(p < 0.2) == pytest.approx(0.2, abs=0.006)


def test_limit_of_a_coefficient_grows_with_few_degrees() -> None:
    assert signed_limit_factor(5.0) > signed_limit_factor(50.0) > signed_limit_factor(math.inf) > 3.6


def test_what_an_input_may_feign_is_not_told_of_the_contact() -> None:
    distorting = made(bent=-2.0, seed=None)
    assert nonohmic(distorting, PLAN, circuit()).third.verdict == "contact"
    peak = 3 * OHM * AMPERE
    # Of a tone with the whole peak, v³ makes a quarter of its square of third harmonic.
    got = nonohmic(distorting, PLAN, circuit(), input_distortion=2 * peak**2 / 4)
    assert got.third.inputs == pytest.approx(2 * 2.0, rel=1e-2)
    assert got.third.verdict == "inputs may explain it"


def test_inputs_swapped() -> None:
    one, other = made(cube=-20.0, noise=1e-8), made(cube=-20.0, noise=1e-8, turned=True, seed=2)
    got = nonohmic(one, PLAN, circuit(), swapped=other)
    assert got.third.coefficient.value == pytest.approx(-20, rel=0.01)
    assert got.turned_p is not None
    assert got.turned_p > 0.01
    alone = nonohmic(one, PLAN, circuit())
    assert got.third.coefficient.uncertainty < alone.third.coefficient.uncertainty * 2
    # An input that distorts in one take alone: the difference is put down to the inputs.
    spoilt = nonohmic(
        made(bent=-60.0, noise=1e-8), PLAN, circuit(), swapped=made(noise=1e-8, turned=True, seed=2)
    )
    assert spoilt.turned_p is not None
    assert spoilt.turned_p < 1e-6
    assert spoilt.third.verdict == "inputs may explain it"


def test_what_follows_no_law_is_seen_as_energy_and_in_the_fit() -> None:
    humming = made(noise=1e-8)
    groups = humming.products.groups.copy()
    groups[:, 0, LINES.tolist().index(3 * 97)] += 1e-6
    humming.products.groups[...] = groups
    got = nonohmic(humming, PLAN, circuit())
    assert got.third.any_p < 1e-6
    assert got.fit.p_value is not None
    assert got.fit.p_value < 1e-6


def test_refused() -> None:
    with pytest.raises(ArgumentFault, match="input_distortion"):
        nonohmic(made(), PLAN, circuit(), input_distortion=-0.1)
    with pytest.raises(ArgumentFault, match="second order"):
        nonohmic(made(wanted=np.array([3 * 97])), PLAN, circuit())
    with pytest.raises(ArgumentFault, match="third order"):
        nonohmic(made(wanted=np.array([2 * 97])), PLAN, circuit())
    with pytest.raises(ArgumentFault, match="share"):
        film_voltage(-1.0, 0.0)
