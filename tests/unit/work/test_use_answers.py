"""From a use and contacts to its answer: effects, curves, and bands of sets of fresh contacts by a plain reckoning."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import pytest
from scipy import stats

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import Circuit, Contact
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.rule import Curve
from ohmsworth.consequence.uses.balanced import back_transfer, hum_transfer, signal_transfer
from ohmsworth.work.use_answers import BAND, POINTS, Case, use_answer

Array = npt.NDArray[np.float64]
SETS = 64


def line(**values: float | str) -> Use:
    return make_use("balanced line", "stage", {"length": 30.0, **values})


def drawn(contacts: int) -> Array:
    """Sets that are easy to follow: no two alike."""
    return np.asarray(2.0 * np.exp(np.random.default_rng(4).standard_normal((SETS, contacts))))


def case(**changes: object) -> Case:
    return replace(Case("dark", 2.0), **changes)


# ------------------------------------------------------------ effects and thresholds


def test_effects_are_those_of_the_stage_with_the_interval_in_order() -> None:
    found = use_answer(line(), [case(low=1.0, high=4.0)])
    by_stage = effects(line(), [2.0, 1.0, 4.0])
    for one, stage in zip(found.effects, by_stage, strict=True):
        ends = sorted((float(stage.value[1]), float(stage.value[2])))
        assert (one.value, one.low, one.high) == pytest.approx((float(stage.value[0]), *ends), rel=1e-12)
        assert (one.condition, one.effect, one.position) == ("dark", stage.key, stage.position)
        assert one.low is not None
        assert one.high is not None
        assert one.low <= one.value <= one.high


def test_without_an_interval_there_are_no_ends() -> None:
    assert {(e.low, e.high) for e in use_answer(line(), [case()]).effects} == {(None, None)}
    assert {(e.low, e.high) for e in use_answer(line(), [case(low=1.0)]).effects} == {(None, None)}


@pytest.mark.parametrize(("low", "high"), [(-1.0, 4.0), (1.0, 1e12)])
def test_no_contact_is_better_than_a_short_or_worse_than_an_open_one(low: float, high: float) -> None:
    found = use_answer(line(), [case(low=low, high=high)])
    clipped = use_answer(line(), [case(low=max(low, 0.0), high=min(high, 1e9))])
    assert found.effects == clipped.effects


def test_thresholds_cautions_and_values_come_along() -> None:
    found = use_answer(make_use("mains feed", "feed"), [])
    kind = kind_of("mains feed")
    assert (found.cautions, found.proviso, found.effects, found.curves) == (
        kind.cautions,
        kind.proviso,
        (),
        (),
    )
    assert [t.resistance for t in found.thresholds] == [
        t.resistance for t in thresholds(make_use("mains feed"))
    ]
    assert found.settings["length"] == 10.0


# ------------------------------------------------------------ curves


def test_without_a_scatter_the_contacts_of_a_position_have_the_resistance() -> None:
    for curve in use_answer(line(), [case()]).curves:
        (band,) = curve.bands
        by_stage = response(line(), [0.0, 2.0], curve.frequency)[curve.curve]
        np.testing.assert_allclose(curve.ideal, by_stage[0], rtol=1e-12, atol=1e-12)
        np.testing.assert_allclose(band.value, by_stage[1], rtol=1e-12, atol=1e-12)
        assert (band.low, band.high) == (None, None)
        assert band.contacts.startswith("every contact of ")
        assert len(curve.frequency) == POINTS
        steps = np.diff(np.log(curve.frequency))
        assert steps == pytest.approx(np.full(POINTS - 1, steps[0]))


def plainly(curve: Curve, ohm: Array, frequency: Array) -> Array:
    """The curve with each contact of each set as a resistor of its own: solved anew set by set, shape (sets, m)."""
    rows = []
    for one in ohm:
        given = dict(zip(curve.circuit.contacts(), one, strict=True))
        parts = tuple(
            replace(e, ohm=e.ohm + given[e.name]) if isinstance(e, Contact) else e
            for e in curve.circuit.elements
        )
        solved = replace_circuit(curve, Circuit(parts)).solve(frequency)
        rows.append(curve.show(solved.ideal, curve.solve(frequency).ideal))
    return np.array(rows)


def replace_circuit(curve: Curve, circuit: Circuit) -> Curve:
    """The same curve of another circuit, by what its use does with one."""
    solve = {"level_change": signal_transfer, "rejection": hum_transfer, "noise_density": back_transfer}[
        curve.key
    ]
    return replace(curve, circuit=circuit, solve=lambda frequency: solve(circuit, frequency))


def quantiles(values: Array) -> list[Array]:
    """By sorting, linear between neighbours."""
    ordered, found = np.sort(values, axis=0), []
    for share in BAND:
        place = share * (len(values) - 1)
        below = int(place)
        part = place - below
        found.append(ordered[below] * (1 - part) + ordered[min(below + 1, len(values) - 1)] * part)
    return found


@pytest.mark.parametrize(("near", "far"), [(1, 1), (3, 2)])
def test_bands_are_quantiles_over_sets_and_contacts_in_a_row_add_up(near: int, far: int) -> None:
    use = line(contacts_near=float(near), contacts_far=float(far))
    asked: list[int] = []

    def listening(contacts: int) -> Array:
        asked.append(contacts)
        return drawn(contacts)

    found = use_answer(use, [case(drawn=listening)])
    assert set(asked) == {3 * (near + far)}  # two legs and a screen
    single = drawn(3 * (near + far))
    # By hand: the first columns are those of the first place, and so on.
    widths = [near] * 3 + [far] * 3
    edges = np.concatenate(([0], np.cumsum(widths)))
    summed = np.array([single[:, a:b].sum(1) for a, b in pairwise(edges)]).T
    for curve, answer in zip(kind_of(use.kind).curves(use), found.curves, strict=True):
        assert list(curve.circuit.counts()) == widths
        few = slice(None, None, 12)
        values = plainly(curve, summed, np.array(answer.frequency)[few])
        (band,) = answer.bands
        assert band.contacts == "all contacts, each drawn afresh"
        for told, expected in zip((band.low, band.value, band.high), quantiles(values), strict=True):
            assert told is not None
            np.testing.assert_allclose(told[few], expected, rtol=1e-7, atol=1e-9 * np.abs(expected).max())


def test_contacts_all_alike_have_a_band_without_width() -> None:
    found = use_answer(line(), [case(drawn=lambda n: np.full((SETS, n), 2.0))])
    for curve in found.curves:
        (band,) = curve.bands
        assert band.low is not None
        assert band.high is not None
        np.testing.assert_allclose(band.low, band.high, atol=1e-9)


def test_draws_beyond_what_is_believed_are_an_open_contact() -> None:
    found, capped = (
        use_answer(line(), [case(drawn=lambda n, top=top: np.full((SETS, n), top))]) for top in (1e15, 1e9)
    )
    assert found.curves == capped.curves


def test_each_case_has_its_own_line_in_its_order() -> None:
    found = use_answer(line(), [Case("a", 1.0), Case("b", 2.0), Case("c", 3.0, drawn=drawn)])
    assert [band.condition for band in found.curves[0].bands] == ["a", "b", "c"]
    assert [e.condition for e in found.effects] == [
        name for name in "abc" for _ in range(len(found.effects) // 3)
    ]


def test_contacts_that_are_all_the_worse_give_the_quantiles_of_a_lognormal() -> None:
    """Level falls with every ohm, so that its quantiles are those of the resistance, known in closed form."""
    use = make_use("loudspeaker")
    many = 4096
    scores = stats.norm.ppf((np.arange(many) + 0.5) / many)
    # All contacts of a set alike, so that a set is one lognormal quantity.
    found = use_answer(use, [case(drawn=lambda n: np.tile(0.2 * np.exp(0.5 * scores)[:, None], (1, n)))])
    curve = next(c for c in found.curves if c.curve == "level_change")
    (band,) = curve.bands
    at = [
        response(use, [0.2 * np.exp(0.5 * z)], curve.frequency)["level_change"][0]
        for z in stats.norm.ppf(BAND)
    ]
    for told, expected in zip((band.high, band.value, band.low), at, strict=True):
        np.testing.assert_allclose(told, expected, rtol=2e-3)
