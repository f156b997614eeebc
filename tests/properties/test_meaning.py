"""What is said of a resistance agrees with what it does, in every use and at every size."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.consequence import USE_KINDS, Use, effects, make_use, smallest_threshold, thresholds
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.report.meaning import MeaningAnswer
from ohmsworth.units import show_stated
from ohmsworth.work.meaning import explain

#: Ohm from a tenth of a microohm to an open contact.
SIZES = st.floats(-7, 9).map(lambda power: float(f"{10**power:.3g}"))
FEW = settings(max_examples=25, deadline=None)
MADE = {kind: make_use(kind) for kind in USE_KINDS}
#: Settings with which a circuit is past a threshold with ideal contacts already.
WEAK = make_use("phantom microphone", "weak", {"phantom": "P12", "current": 0.015})


def past(use: Use, ohm: float) -> set[tuple[str, str]]:
    """Effect and position of the thresholds that contacts of `ohm` are past, but for those that ideal ones are past too."""
    found = set()
    for effect in effects(use, ohm):
        if effect.threshold is not None:
            sign = 1 if effect.worse == "higher" else -1
            beyond = [sign * (float(value) - effect.threshold) >= 0 for value in (effect.value, effect.ideal)]
            if beyond == [True, False]:
                found.add((effect.key, effect.position))
    return found


def claimed(answer: MeaningAnswer) -> set[tuple[str, str]]:
    (asked,) = answer.asked
    return {(one.effect, one.position) for one in asked.reached if not one.by_itself}


@pytest.mark.parametrize("kind", USE_KINDS)
@FEW
@given(ohm=SIZES)
def test_a_use_that_is_said_to_suffer_does_and_no_other(kind: str, ohm: float) -> None:
    use = MADE[kind]
    answer, truth = explain([use], (ohm,)), past(use, ohm)
    assert claimed(answer) == truth
    name = show_stated(ohm, "Ω")
    if kind_of(kind).proviso:
        assert (f"; {name} is past it." in answer.sentence) == bool(truth)
        assert "reaches no" not in answer.sentence
    else:
        assert (f": {name} is past where " in answer.sentence) == bool(truth)
        assert (f": {name} reaches no threshold." in answer.sentence) == (not truth)
        words = {t.words for t in thresholds(use) if (t.effect, t.position) in truth}
        told = answer.sentence.partition(" is past where ")[2]
        assert (sum(one.partition(": ")[0] in told for one in words) >= min(3, len(words))) or not words


@FEW
@given(ohm=SIZES)
def test_so_many_uses_are_said_to_suffer_as_do(ohm: float) -> None:
    answer = explain(tuple(MADE.values()), (ohm,))
    free = [kind for kind in USE_KINDS if not kind_of(kind).proviso]
    suffering = [kind for kind in free if past(MADE[kind], ohm)]
    among = f"{len(free)} uses"
    if not suffering:
        assert f" reaches no threshold in {among}." in answer.sentence
    elif len(suffering) == len(free):
        assert f" matters in all {among}." in answer.sentence
    else:
        assert f" matters in {len(suffering)} of {among} (" in answer.sentence
    for kind in set(USE_KINDS) - set(free):
        assert ("is past it." in answer.sentence) == bool(past(MADE[kind], ohm))


@FEW
@given(ohm=SIZES)
def test_what_a_circuit_does_not_meet_by_itself_is_put_on_no_contact(ohm: float) -> None:
    answer = explain([WEAK], (ohm,))
    assert claimed(answer) == past(WEAK, ohm)
    assert answer.sentence.startswith("Weak: the circuit itself does not meet")
    by_itself = [one for one in answer.asked[0].reached if one.by_itself]
    assert {one.effect for one in by_itself} == {"phantom_volts"}
    assert all(one.resistance is None for one in by_itself)


@FEW
@given(sizes=st.lists(SIZES, min_size=1, max_size=6, unique_by=lambda ohm: show_stated(ohm, "Ω")))
def test_every_resistance_stands_in_the_sentence_once(sizes: list[float]) -> None:
    answer = explain(["headphone"], sizes)
    names = [show_stated(ohm, "Ω") for ohm in sizes]
    assert [one.name for one in answer.asked] == names
    body = answer.sentence.removeprefix("Headphone: ").removesuffix(".")
    subjects = []
    for part in body.split("; "):
        head = part.partition(" reach")[0].partition(" is past")[0].partition(" are past")[0]
        subjects += head.replace(" and ", ", ").split(", ")
    assert sorted(subjects) == sorted(names)
    # In whatever order they are asked, the same is said of each.
    turned = explain(["headphone"], sizes[::-1])
    assert {one.name: one.reached for one in turned.asked} == {one.name: one.reached for one in answer.asked}


@pytest.mark.parametrize("kind", USE_KINDS)
def test_just_below_the_first_threshold_nothing_suffers_and_at_it_something_does(kind: str) -> None:
    use = MADE[kind]
    first = min(t.resistance for t in thresholds(use) if t.resistance is not None)
    assert not claimed(explain([use], (first * 0.999,)))
    assert claimed(explain([use], (first * 1.001,)))
    if not kind_of(kind).proviso:
        found = smallest_threshold([use])
        assert found is not None
        assert found.resistance == first


@pytest.mark.parametrize("kind", ["balanced line", "video", "loudspeaker"])
@settings(max_examples=8, deadline=None)
@given(ohm=st.floats(1e-3, 10), spread=st.floats(0.01, 1.0))
def test_bands_hold_what_contacts_all_alike_would_do_where_they_scatter_little(
    kind: str, ohm: float, spread: float
) -> None:
    found = explain([MADE[kind]], (ohm,), spread).uses[0]
    for curve in found.curves:
        (band,) = curve.bands
        assert band.low is not None
        assert band.high is not None
        assert np.all(np.array(band.low) <= np.array(band.value))
        assert np.all(np.array(band.value) <= np.array(band.high))
    narrow = explain([MADE[kind]], (ohm,), spread / 50).uses[0]
    for wide_curve, narrow_curve in zip(found.curves, narrow.curves, strict=True):
        wide, thin = (
            float(np.mean(np.array(c.bands[0].high) - np.array(c.bands[0].low)))
            for c in (wide_curve, narrow_curve)
        )
        assert thin < wide
