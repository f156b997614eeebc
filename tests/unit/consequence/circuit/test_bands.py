"""Quantiles by bounds against numpy's of all draws: smooth and wild forms, ties, resonances, draws that change places."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Inductor,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    bands,
    cable_of,
    magnitude_bands,
    magnitudes,
    plain_resistance,
    respond,
    transfers,
)
from ohmsworth.consequence.circuit.forms import forms_of, monomials
from ohmsworth.errors import ArgumentFault

WANTED = [0.0, 0.025, 0.5, 0.975, 1.0]


def drawn_transfer(
    rng: np.random.Generator, contacts: int, count: int, turns: float, size: float
) -> Transfer:
    """Complex coefficients that wander over `count` frequencies, turning about `turns` times."""
    phase = np.linspace(0, 2 * np.pi * turns, count)

    def coefficients(*shape: int) -> np.ndarray:
        first, second, third = rng.standard_normal((3, *shape)) + 1j * rng.standard_normal((3, *shape))
        way = np.exp(1j * phase).reshape(-1, *(1 for _ in shape))
        return first + second * way + third * way.conj() ** 2

    return Transfer(
        tuple(f"c{k}" for k in range(contacts)),
        coefficients(),
        size * coefficients(contacts),
        coefficients(contacts),
        size * coefficients(contacts, contacts),
    )


def wanted_of(transfer: Transfer, ohm: np.ndarray) -> np.ndarray:
    squares = np.concatenate([block for _, block in magnitudes(transfer, ohm)])
    return np.quantile(np.sqrt(squares), WANTED, axis=1)


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10**6),
    contacts=st.integers(1, 4),
    count=st.integers(1, 200),
    turns=st.floats(0, 100),
    size=st.floats(1e-4, 1e2),
    digits=st.sampled_from([0, 1, 15]),
    idle=st.booleans(),
)
def test_bands_are_the_quantiles_of_all_draws(
    seed: int, contacts: int, count: int, turns: float, size: float, digits: int, idle: bool
) -> None:
    """Few digits make ties, few turns let bounds hold over many frequencies, and many turns over none."""
    rng = np.random.default_rng(seed)
    transfer = drawn_transfer(rng, contacts, count, turns, size)
    if idle:  # Contacts that nothing passes: all draws are one but for rounding.
        transfer = Transfer(
            transfer.contacts, transfer.ideal, 0 * transfer.through, transfer.carried, transfer.seen
        )
    ohm = np.round(rng.lognormal(0, 1, (int(rng.integers(250, 400)), contacts)), digits)
    np.testing.assert_allclose(magnitude_bands(transfer, ohm, WANTED), wanted_of(transfer, ohm), rtol=1e-12)


def joined(lengths: tuple[float, ...], load: float, frequency: np.ndarray) -> Transfer:
    """Pieces of coaxial cable with a joint between each two, from 75 Ω to `load`."""
    cable = cable_of(
        (plain_resistance(0.08), plain_resistance(0.02)), (3.8e-7, 0), [[0, 6.7e-11], [6.7e-11, 0]], 4e-4
    )
    parts = [VoltageSource("in", "a"), Resistor("a", "n0", 75.0), Resistor(f"m{len(lengths) - 1}", "0", load)]
    for k, length in enumerate(lengths):
        parts.append(Line((f"n{k}", "0"), (f"m{k}", "0"), cable, length))
        if k + 1 < len(lengths):
            parts.append(Contact(f"joint {k}", f"m{k}", f"n{k + 1}"))
    return transfers(Circuit(tuple(parts)), frequency, {"in": 2.0}, [Volts(f"m{len(lengths) - 1}")])[0]


def widths(monkeypatch: pytest.MonkeyPatch, transfer: Transfer, ohm: np.ndarray) -> dict[str, list[int]]:
    """How many frequencies were ranked at a time, among all draws and among candidates; the numbers are right besides."""
    seen: dict[str, list[int]] = {"_ranked": [], "_ranked_among": []}
    plain, among = bands._ranked, bands._ranked_among

    def ranked(squares: np.ndarray, *rest: object) -> np.ndarray:
        seen["_ranked"].append(len(squares))
        return plain(squares, *rest)

    def ranked_among(squares: object, block: slice, *rest: object) -> object:
        seen["_ranked_among"].append(block.stop - block.start)
        return among(squares, block, *rest)

    monkeypatch.setattr(bands, "_ranked", ranked)
    monkeypatch.setattr(bands, "_ranked_among", ranked_among)
    found = magnitude_bands(transfer, ohm, WANTED)
    np.testing.assert_allclose(found, wanted_of(transfer, ohm), rtol=1e-12)
    np.testing.assert_allclose(found, np.quantile(np.abs(respond(transfer, ohm)), WANTED, axis=0), rtol=1e-11)
    return seen


def test_matched_cable_is_ranked_among_candidates_over_all_frequencies(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    ohm = np.random.default_rng(2).lognormal(-1, 1, (600, 2))
    seen = widths(monkeypatch, joined((0.7, 12.0, 3.0), 75.0, np.geomspace(1e6, 1e9, 500)), ohm)
    assert seen == {"_ranked": [], "_ranked_among": [500]}


def test_mismatched_cable_makes_blocks_narrower_and_wider_again(monkeypatch: pytest.MonkeyPatch) -> None:
    frequency = np.concatenate((np.linspace(1e3, 2e5, 600), np.full(2000, 2e5)))
    ohm = np.random.default_rng(3).lognormal(1, 1, (600, 2))
    seen = widths(monkeypatch, joined((7.0, 12.0, 3.0), 2000.0, frequency), ohm)
    assert seen["_ranked"] == []
    assert set(seen["_ranked_among"][:-1]) == {256, 1024}


def test_where_neighbours_have_nothing_in_common_all_draws_are_ranked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    frequency = np.concatenate((np.linspace(1e6, 1e9, 512), np.full(200, 1e9)))
    ohm = np.random.default_rng(4).lognormal(3, 1, (600, 2))
    seen = widths(monkeypatch, joined((70.0, 120.0, 31.0), 2000.0, frequency), ohm)
    assert sum(seen["_ranked"]) == 512
    assert seen["_ranked_among"] == [64, 136]


def test_a_resonance_that_the_contact_damps() -> None:
    circuit = Circuit(
        (
            VoltageSource("in", "a"),
            Contact("r", "a", "b"),
            Inductor("b", "c", 1e-3),
            Capacitor("c", "0", 1e-6),
            Resistor("c", "0", 1e5),
        )
    )
    frequency = np.geomspace(4.9e3, 5.2e3, 300)
    (volts,) = transfers(circuit, frequency, {"in": 1.0}, [Volts("c")])
    ohm = np.random.default_rng(5).lognormal(-9, 2, (400, 1))
    ohm[:7] = 0.0
    found = magnitude_bands(volts, ohm, WANTED)
    np.testing.assert_allclose(found, wanted_of(volts, ohm), rtol=1e-12)
    assert found.max() > 1e3


def test_a_bridge_in_balance_has_nothing_to_be_scaled_by() -> None:
    """Ideal contacts give exactly 0, and the numerator is told in another of its terms."""
    circuit = Circuit(
        (
            VoltageSource("in", "a"),
            Contact("left", "a", "b"),
            Contact("right", "a", "c"),
            Resistor("b", "d", 100.0),
            Resistor("c", "e", 100.0),
            Capacitor("d", "0", 1e-6),
            Capacitor("e", "0", 1e-6),
        )
    )
    (volts,) = transfers(circuit, np.geomspace(10, 1e5, 120), {"in": 1.0}, [Volts("d", "e")])
    ohm = np.random.default_rng(6).lognormal(0, 1, (500, 2))
    ohm[:20, 1] = ohm[:20, 0]
    np.testing.assert_allclose(
        magnitude_bands(volts, ohm, [0.0, 0.3, 0.9]),
        np.quantile(np.abs(respond(volts, ohm)), [0.0, 0.3, 0.9], axis=0),
        rtol=1e-9,
        atol=1e-15,
    )


def test_contacts_side_by_side() -> None:
    circuit = Circuit(
        (
            VoltageSource("in", "a"),
            Contact("one", "a", "b"),
            Contact("other", "a", "b"),
            Resistor("b", "0", 50.0),
            Capacitor("b", "0", 1e-9),
        )
    )
    (volts,) = transfers(circuit, np.geomspace(1e4, 1e9, 120), {"in": 1.0}, [Volts("b")])
    ohm = np.random.default_rng(8).lognormal(0, 2, (300, 2))
    np.testing.assert_allclose(
        magnitude_bands(volts, ohm, WANTED),
        np.quantile(np.abs(respond(volts, ohm)), WANTED, axis=0),
        rtol=1e-12,
    )


def test_from_direct_current_on_which_nothing_passes() -> None:
    circuit = Circuit(
        (
            VoltageSource("in", "a"),
            Contact("r", "a", "b"),
            Capacitor("b", "c", 1e-6),
            Resistor("c", "0", 50.0),
        )
    )
    (volts,) = transfers(circuit, np.linspace(0, 1e4, 100), {"in": 1.0}, [Volts("c")])
    ohm = np.random.default_rng(7).lognormal(2, 1, (300, 1))
    found = magnitude_bands(volts, ohm, WANTED)
    np.testing.assert_allclose(found, wanted_of(volts, ohm), rtol=1e-12)
    np.testing.assert_array_equal(found[:, 0], 0)


@settings(deadline=None)
@given(seed=st.integers(0, 10**6), turns=st.floats(0, 3))
def test_no_draw_leaves_its_reach(seed: int, turns: float) -> None:
    rng = np.random.default_rng(seed)
    form = forms_of(drawn_transfer(rng, 3, 20, turns, 1.0)).denominator
    terms = monomials(rng.lognormal(0, 2, (50, 3))).T
    least, most = bands._reach(form, terms)
    size = np.abs(form @ terms)
    assert np.all(least <= size)
    assert np.all(size <= most)
    assert np.all(least >= 0)


def test_one_draw_is_its_own_quantile_and_none_is_refused() -> None:
    transfer = joined((1.0, 1.0), 75.0, np.array([1e6, 1e7]))
    one = np.abs(respond(transfer, [[2.0]]))[0]
    np.testing.assert_allclose(magnitude_bands(transfer, [[2.0]], [0.0, 0.7]), [one, one], rtol=1e-14)
    with pytest.raises(ArgumentFault, match="at least one"):
        magnitude_bands(transfer, np.empty((0, 1)), [0.5])


@pytest.mark.parametrize("draws", [3, 300])
def test_no_quantile_is_no_row(draws: int) -> None:
    transfer = joined((1.0, 1.0), 75.0, np.array([1e6, 1e7]))
    assert magnitude_bands(transfer, np.ones((draws, 1)), []).shape == (0, 2)
