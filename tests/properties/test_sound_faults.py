"""Faults planted in simulated takes are found by name, and 40 takes without any raise none."""

from dataclasses import replace

import pytest
from tests.tone_takes import a_plan

from ohmsworth.adapters.simulated.sound import TAKES, Flaws, any_chain, simulate
from ohmsworth.resistance.impedance.sound_faults.all_faults import sound_faults
from ohmsworth.resistance.impedance.sound_faults.connections import leads_as_said, same_again
from ohmsworth.resistance.impedance.sound_faults.heard import heard
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake

SEEDS = (0, 5)
pytestmark = pytest.mark.slow


def found(seed: int, flaws: Flaws, ratio: float | None = None) -> list[str]:
    """Codes of the doubts about a take with something wrong."""
    plan = a_plan(periods=10, seed=seed)
    circuit, truth, interface = any_chain(seed)
    circuit = replace(circuit, inputs=(interface.inputs[0].full_scale, interface.inputs[1].full_scale))
    take = simulate(plan, circuit, truth, interface, seed, "straight", flaws)
    lost = flaws.missing[1] if flaws.missing else 0
    clock = interface.clock - lost / (plan.last_mark.start - plan.first_mark.start)
    return [
        doubt.code
        for doubt in sound_faults(PlacedTake(take, plan, interface.start, clock), circuit, 0, ratio)
    ]


def middle(seed: int) -> float:
    """Seconds from the beginning of the file to the middle of the tones."""
    plan = a_plan(periods=10, seed=seed)
    return (any_chain(seed)[2].start + (plan.main[0].start + plan.main[0].stop) / 2) / plan.rate


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize(
    ("flaws", "codes"),
    [
        (Flaws(louder=14), {"CLIPPED"}),
        (Flaws(flat=0.15), {"CLIPPED"}),
        (Flaws(leveller=12), {"PROCESSED"}),
        (Flaws(gate=0.01), {"PROCESSED"}),
        (Flaws(exchanged=True), {"INPUTS_EXCHANGED"}),
        (Flaws(shunt="open"), {"CLIPPED", "DEAD_INPUT"}),
        (Flaws(shunt="shorted"), {"DEAD_INPUT"}),
        (Flaws(contact="open"), {"CLIPPED", "DEAD_INPUT"}),
        (Flaws(header_rate=44100), {"OTHER_RATE"}),
        (Flaws(lossy=True), {"LOSSY"}),
        (Flaws(louder=-28), {"LEVEL_LOW"}),
        (Flaws(cut=1.6), {"CUT_OFF"}),
    ],
    ids=lambda value: "+".join(sorted(value)) if isinstance(value, set) else "",
)
def test_a_planted_fault_is_named_and_nothing_else(seed: int, flaws: Flaws, codes: set[str]) -> None:
    assert set(found(seed, flaws)) == codes


@pytest.mark.parametrize("seed", SEEDS)
def test_lost_samples_are_named(seed: int) -> None:
    at = middle(seed)
    for flaws in (
        Flaws(missing=(at, 37)),
        Flaws(missing=(at, 2)),
        Flaws(emptied=(at, 100)),
        Flaws(repeated=(at, 256)),
    ):
        assert found(seed, flaws) == ["DROPPED_OUT"]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_loop_that_hums_is_named(seed: int) -> None:
    _, _, interface = any_chain(seed)
    assert set(found(seed, Flaws(hum=0.15 * interface.inputs[0].full_scale))) == {"HUM"}


@pytest.mark.parametrize("seed", SEEDS)
def test_a_recorder_at_another_rate_is_named(seed: int) -> None:
    plan = a_plan(periods=10, seed=seed)
    circuit, truth, interface = any_chain(seed)
    interface = replace(interface, clock=44100 / 48000 - 1)
    take = PlacedTake(simulate(plan, circuit, truth, interface, seed), plan, interface.start, interface.clock)
    (doubt,) = sound_faults(take, circuit, 0)
    assert doubt.code == "OTHER_RATE"
    assert "as if recorded at 44100 Hz" in doubt.words


@pytest.mark.parametrize("seed", SEEDS)
def test_a_take_once_more_is_no_other_take(seed: int) -> None:
    plan = a_plan(periods=4, seed=seed)
    circuit, truth, interface = any_chain(seed)

    def placed(take: str, flaws: Flaws | None = None) -> PlacedTake:
        recording = simulate(plan, circuit, truth, interface, seed, take, flaws)  # type: ignore[arg-type]
        return PlacedTake(recording, plan, interface.start, interface.clock)

    straight, again = placed("straight"), placed("swapped", Flaws(same_again=True))
    assert [doubt.code for doubt in same_again(straight, again)] == ["SAME_TAKE"]
    sounds = {take: heard(placed(take)) for take in TAKES}
    for take, sound in sounds.items():
        assert same_again(straight, placed(take)) == (
            [] if take != "straight" else same_again(straight, straight)
        )
        assert leads_as_said(sounds["straight"], sound, "swapped" in take, "turned" in take) == []
        (doubt,) = leads_as_said(sounds["straight"], sound, "swapped" in take, "turned" not in take)
        assert doubt.code == "LEADS_NOT_AS_SAID"


@pytest.mark.parametrize("seed", range(40))
def test_a_take_without_a_fault_raises_none(seed: int) -> None:
    way = "in turn" if seed % 4 == 3 else "together"
    plan = a_plan(
        rate=(48000, 44100, 96000)[seed % 3],
        periods=6 + seed % 7,
        way=way,  # type: ignore[arg-type]
        tones=3 if way == "in turn" else (12, 5, 20, 1, 2)[seed % 5],
        seed=seed,
    )
    circuit, truth, interface = any_chain(seed)
    if seed % 2:
        circuit = replace(circuit, inputs=(interface.inputs[0].full_scale, interface.inputs[1].full_scale))
    take = TAKES[seed // 3 % 4]
    recording = simulate(plan, circuit, truth, interface, seed, take)
    placed = PlacedTake(recording, plan, interface.start, interface.clock)
    assert sound_faults(placed, circuit, int("swapped" in take)) == ()
