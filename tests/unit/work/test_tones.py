"""From wishes to what the card says."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from ohmsworth.errors import InputRefused
from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.report.answer import as_json
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import largest_sample, peak
from ohmsworth.resistance.impedance.tone_plan import Way
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.tones import plan_tones

CIRCUIT = Circuit(Shunt(0.1), 47.0, 1.4, 0.82)
WISHES = Wishes(CIRCUIT, 0.01, 0.02, tones=5, seconds=20.0)


def loaded(wishes: Wishes, **more: object) -> LoadedTones:
    return replace(LoadedTones(wishes, None, None, ()), **more)  # type: ignore[arg-type]


def fault(wishes: Wishes) -> str:
    with pytest.raises(InputRefused) as refused:
        plan_tones(loaded(wishes))
    assert len(refused.value.faults) == 1
    return str(refused.value.faults[0])


def test_the_answer_is_that_of_the_plan() -> None:
    plan, answer = plan_tones(loaded(WISHES))
    assert [tone.frequency for tone in answer.tones] == plan.frequencies.tolist()
    assert answer.seconds == pytest.approx(20.0)
    assert answer.level.current == pytest.approx(0.02)
    assert answer.level.dry_circuit
    assert answer.level.bridge_for_dry is None
    assert answer.standard_uncertainty == max(tone.standard_uncertainty for tone in answer.tones)
    assert [one.file for one in answer.recordings] == ["straight.wav", "swapped.wav"]
    assert as_json(answer)["format"] == "ohmsworth tones 1"


def test_what_in_turn_would_leave_is_what_it_leaves() -> None:
    together = plan_tones(loaded(WISHES))[1]
    in_turn = plan_tones(loaded(replace(WISHES, way="in turn")))[1]
    assert together.in_turn_uncertainty == pytest.approx(in_turn.standard_uncertainty, rel=1e-6)
    assert in_turn.in_turn_uncertainty is None


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_what_is_said_to_be_enough_is_enough(way: Way) -> None:
    wishes = replace(WISHES, uncertainty=0.4e-6, way=way)
    answer = plan_tones(loaded(wishes))[1]
    assert answer.seconds_enough is not None
    assert answer.current_enough is not None
    longer = plan_tones(loaded(replace(wishes, seconds=answer.seconds_enough)))[1]
    assert longer.standard_uncertainty == pytest.approx(0.4e-6, rel=0.2)  # whole periods only
    strong = replace(CIRCUIT, output=1e3)
    stronger = plan_tones(loaded(replace(wishes, circuit=strong, current=answer.current_enough)))[1]
    assert stronger.standard_uncertainty == pytest.approx(0.4e-6, rel=1e-4)


def test_the_bridge_that_is_advised_makes_it_dry() -> None:
    wet = plan_tones(loaded(replace(WISHES, circuit=replace(CIRCUIT, bridge=None))))[1]
    assert not wet.level.dry_circuit
    assert wet.findings[0].startswith("Not a dry circuit")
    assert wet.level.bridge_for_dry is not None
    assert "0.82" in wet.findings[0] or "820 mΩ" in wet.findings[0]
    dry = plan_tones(loaded(replace(WISHES, circuit=replace(CIRCUIT, bridge=wet.level.bridge_for_dry))))[1]
    assert dry.level.open_circuit_voltage == pytest.approx(DRY_VOLTAGE)


def test_no_bridge_is_advised_where_none_helps() -> None:
    large = Circuit(Shunt(2.0), 47.0, 1.4)
    answer = plan_tones(loaded(replace(WISHES, circuit=large)))[1]
    assert answer.level.bridge_for_dry is None
    assert "smaller shunt" in answer.findings[0]
    much = plan_tones(loaded(replace(WISHES, circuit=Circuit(Shunt(0.01), 8.0, 3.0, 0.1), current=0.15)))[1]
    assert "Less current" in much.findings[0]


def test_a_current_beyond_the_output_is_refused_with_what_could() -> None:
    told = fault(replace(WISHES, circuit=replace(CIRCUIT, bridge=None), current=0.05))
    assert "key 'current'" in told
    assert "26.7 mA" in told  # 0.9 · 1.4 V through 47.11 Ω
    assert "25.1 Ω" in told  # 0.9 · 1.4 V/50 mA less 0.11 Ω
    told = fault(replace(WISHES, current=0.05, rms=True))
    assert "key 'current_rms'" in told
    assert "larger bridge" in told
    assert "series resistor of" not in told  # it would be no load for any output


def test_a_series_resistor_as_told_is_enough_for_an_rms_current() -> None:
    wishes = replace(WISHES, circuit=replace(CIRCUIT, bridge=None), current=0.02, rms=True)
    told = fault(wishes)
    ohm = float(told.split("at most ")[-1].split(" Ω")[0])
    fitting = replace(wishes, circuit=Circuit(Shunt(0.1), 0.99 * ohm, 1.4))
    assert plan_tones(loaded(fitting))[1].level.current_rms == pytest.approx(0.02)
    with pytest.raises(InputRefused):
        plan_tones(loaded(replace(wishes, circuit=Circuit(Shunt(0.1), 1.02 * ohm, 1.4))))


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"tones": 31, "period": 0.5}, "[tones], key 'number'"),
        ({"high": 21_900.0}, "[tones], key 'highest'"),
        ({"low": 500.0, "high": 400.0}, "[tones], key 'lowest'"),
        ({"seconds": 2.0, "way": "in turn"}, "[tones], key 'time'"),
    ],
)
def test_wishes_that_cannot_be_had_are_refused(more: dict[str, object], words: str) -> None:
    assert words in fault(replace(WISHES, **more))  # type: ignore[arg-type]


def test_recordings_keep_a_plan_whose_samples_reach_the_wished_current() -> None:
    plan = plan_tones(loaded(WISHES))[0]
    over = peak(plan) / largest_sample(plan)
    assert over > 1.001
    earlier = replace(plan, amplitudes=(plan.amplitudes * over).round(9))
    kept, answer = plan_tones(loaded(WISHES, plan=earlier, recordings=("straight.wav",)))
    assert kept is earlier
    # What is told of it is the peak that sounds, above what was wished for.
    assert answer.level.current == pytest.approx(0.02 * over, rel=1e-6)
    assert plan_tones(loaded(WISHES, plan=earlier))[0].amplitudes == pytest.approx(plan.amplitudes, abs=0)
    louder = replace(plan, amplitudes=earlier.amplitudes * 1.0001)
    with pytest.raises(InputRefused):
        plan_tones(loaded(WISHES, plan=louder, recordings=("straight.wav",)))


def test_recordings_of_another_plan_are_never_left_beside_a_new_one() -> None:
    plan = plan_for(WISHES)
    again = plan_tones(loaded(WISHES, plan=plan, recordings=("straight.wav",)))[0]
    assert np.array_equal(again.amplitudes, plan.amplitudes)
    for kept in (None, plan_for(replace(WISHES, seconds=21.0))):
        with pytest.raises(InputRefused, match=r"straight\.wav"):
            plan_tones(loaded(WISHES, plan=kept, recordings=("straight.wav",)))
        with pytest.raises(InputRefused, match=r"5\.wav and 3 more\)"):
            plan_tones(loaded(WISHES, plan=kept, contacts=tuple(f"takes/{n}.wav" for n in range(9))))
    assert plan_tones(loaded(WISHES, plan=plan_for(replace(WISHES, tones=4))))


def test_heat_and_full_inputs_are_told() -> None:
    strong = Circuit(Shunt(0.5), 8.0, 12.0, inputs=(0.2, 0.2))
    answer = plan_tones(loaded(replace(WISHES, circuit=strong, current=1.2)))[1]
    told = " ".join(answer.findings)
    assert "series resistor takes" in told
    assert "drifts as it warms" in told
    assert "turn both gains down" in told
    assert len(answer.cautions) == 4
    assert len(plan_tones(loaded(WISHES))[1].cautions) == 3
