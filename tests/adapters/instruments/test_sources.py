"""The current source on a real socket: limits, lease, faults, and what its end sees."""

import time

import pytest
from tests.adapters.instruments.benches import meter, opened_source, practice

from ohmsworth.adapters.simulated import Contact
from ohmsworth.work.instruments import (
    Complaint,
    InstrumentFault,
    MayStillBeOn,
    NoAnswer,
    SourceOff,
    SourceRefused,
)
from ohmsworth.work.source_limits import DRY_LIMITS, SourceLimits

BY_HAND = "The current may still be on: switch the source off by hand."


def wait_until(true) -> bool:
    for _ in range(200):
        if true():
            return True
        time.sleep(0.02)
    return False


def test_it_is_off_when_opened_however_it_was_left() -> None:
    with practice() as (bench, _):
        bench.bench.output = True
        with opened_source(bench) as source:
            assert not bench.bench.output
            assert source.state().output == "off"


def test_without_limits_nothing_is_opened() -> None:
    with practice() as (bench, _):
        with pytest.raises(SourceRefused, match="stated by a person"), opened_source(bench, limits=None):
            pass
        assert not bench.heard


def test_the_current_is_ramped_within_its_limits_and_read() -> None:
    with practice(Contact(emf=0.0, noise=0.0)) as (bench, _), opened_source(bench) as source:
        source.switch_on(0.1)
        levels = [float(text.split()[1]) for _, text in bench.heard if text.startswith("SOURce:CURRent ")]
        assert levels == pytest.approx([0.0, 0.02, 0.04, 0.06, 0.08, 0.1])
        assert bench.bench.compliance == DRY_LIMITS.compliance
        heard = [text for _, text in bench.heard]
        assert heard.index("SOURce:VOLTage:LIMit 0.02") < heard.index("OUTPut ON")
        assert meter(bench).read().value == pytest.approx(2.35e-4)
        state = source.state()
        assert (state.output, state.current) == ("on", 0.1)
        assert state.since is not None
        assert 0 < state.lease_left <= 30
        source.close()
        assert not bench.bench.output


def test_more_than_the_limit_is_refused_and_nothing_switched() -> None:
    with practice() as (bench, _), opened_source(bench) as source:
        for current in (0.1001, -0.1001, float("nan")):
            with pytest.raises(SourceRefused):
                source.switch_on(current)
        assert ("source", "OUTPut ON") not in bench.heard
        source.switch_on(0.05)
        with pytest.raises(SourceRefused):
            source.set_current(0.2)
        assert bench.bench.level == 0.05  # as it was


def test_an_expired_lease_switches_it_off() -> None:
    with practice() as (bench, _), opened_source(bench, lease_seconds=0.6) as source:
        source.switch_on(0.1)
        for _ in range(4):
            time.sleep(0.2)
            assert source.renew()
        assert bench.bench.output
        assert wait_until(lambda: source.state().output == "off")
        assert not bench.bench.output
        assert "nobody renewed it" in source.state().why
        assert not source.renew()
        with pytest.raises(SourceOff, match="nobody renewed"):
            source.set_current(0.05)
        assert not bench.bench.output


@pytest.mark.parametrize("fault", ["silent", "garbage", "drop", "late"])
def test_any_fault_while_it_is_set_switches_it_off(fault: str) -> None:
    with practice() as (bench, _), opened_source(bench) as source:
        source.switch_on(0.05)
        bench.fault("source", fault, fault)  # the order and the question
        with pytest.raises(InstrumentFault):
            source.set_current(0.1)
        assert source.state().output == "off"
        assert not bench.bench.output


def test_a_source_that_sets_something_else_is_switched_off() -> None:
    with practice() as (bench, _), opened_source(bench, ask_current="SOURce:VOLTage:LIMit?") as source:
        with pytest.raises(Complaint, match="after setting it"):
            source.switch_on(0.1)
        assert not bench.bench.output


def test_coarse_steps_of_the_source_are_allowed_where_the_profile_says_so_and_never_a_higher_voltage() -> (
    None
):
    with practice() as (bench, _), opened_source(bench, current_step=1e-3, compliance_step=5e-3) as source:
        bench.bench.step = 1e-3
        source.switch_on(0.0333)
        assert bench.bench.level == pytest.approx(0.033)
        source.switch_off()
        bench.bench.step = 0.015  # 20 mV become 15 mV: that is within a step
        source.switch_on(0.0)
        source.switch_off()
        bench.bench.step = 0.021
        with pytest.raises(Complaint, match=r"0\.021 V after setting it"):
            source.switch_on(0.0)
    with practice() as (bench, _), opened_source(bench) as source:
        bench.bench.step = 1e-3
        with pytest.raises(Complaint, match="after setting it"):
            source.switch_on(0.0333)
        assert not bench.bench.output


def test_one_that_vanishes_may_still_be_on_and_says_so_until_it_is_off() -> None:
    said: list[str] = []
    with practice() as (bench, _), opened_source(bench, say=said.append) as source:
        source.switch_on(0.1)
        bench.vanish("source")
        with pytest.raises(MayStillBeOn, match=BY_HAND):
            source.switch_off()
        state = source.state()
        assert state.output == "may be on"
        assert BY_HAND in state.why
        with pytest.raises(SourceRefused, match="may still be on"):
            source.switch_on(0.1)
        assert wait_until(lambda: any(BY_HAND in text for text in said))
        assert bench.bench.output
        bench.return_to("source")
        assert wait_until(lambda: source.state().output == "off")  # the watcher went on trying
        assert not bench.bench.output


def test_one_that_stays_on_is_not_believed() -> None:
    with practice() as (bench, _), opened_source(bench) as source:
        source.switch_on(0.1)
        bench.fault("source", *["refuse off"] * 8)
        with pytest.raises(MayStillBeOn, match=BY_HAND):
            source.switch_off()


def test_it_is_switched_off_while_it_is_ramped_by_another_thread() -> None:
    import threading

    with practice() as (bench, _), opened_source(bench) as source:
        source._step_wait = 0.2
        raised: list[Exception] = []

        def ramp() -> None:
            try:
                source.switch_on(0.1)
            except SourceOff as error:
                raised.append(error)

        thread = threading.Thread(target=ramp)
        thread.start()
        assert wait_until(lambda: bench.bench.output)
        source.switch_off("the person pressed off")
        thread.join(timeout=10)
        assert raised
        assert not bench.bench.output
        assert source.state().why == "the person pressed off"


def test_a_second_change_beside_one_is_refused() -> None:
    with practice() as (bench, _), opened_source(bench) as source:
        with source._one_at_a_time(), pytest.raises(SourceRefused, match="one change at a time"):
            source.switch_on(0.1)
        source.switch_on(0.1)
        with pytest.raises(SourceRefused, match="is on"):
            source.switch_on(0.05)
        assert bench.bench.output


def test_a_limit_that_the_source_cannot_keep_is_refused_before_it_is_opened() -> None:
    with practice() as (bench, _):
        for changes in (
            {"open_circuit_voltage": 5.0, "set_compliance": ""},
            {"least_compliance": 0.1},
            {"most_current": 0.05},
        ):
            with pytest.raises(SourceRefused), opened_source(bench, **changes):
                pass
        assert not bench.heard


def test_a_fixed_open_circuit_voltage_is_allowed_with_a_reason() -> None:
    limits = SourceLimits(0.1, 5.0, "power contact, no film in question")
    with (
        practice() as (bench, _),
        opened_source(bench, limits, open_circuit_voltage=5.0, set_compliance="") as source,
    ):
        source.switch_on(0.1)
        assert not any("LIMit" in text for _, text in bench.heard)
        source.close()


def test_a_closed_source_is_gone() -> None:
    with practice() as (bench, _), opened_source(bench) as source:
        source.close()
        with pytest.raises((SourceOff, MayStillBeOn, NoAnswer, InstrumentFault)):
            source.switch_on(0.1)
        assert not bench.bench.output
