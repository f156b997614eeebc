"""The source held to its limits, with a device of paper and a clock turned by hand."""

import threading
from datetime import UTC, datetime

import pytest

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.current_source import CurrentSource
from ohmsworth.work.instruments import MayStillBeOn, NoAnswer, SourceOff, SourceProfile, SourceRefused
from ohmsworth.work.lease import Lease
from ohmsworth.work.source_limits import CAUTIONS, DRY_LIMITS, SourceLimits, read_limits

FAULT = Fault("source", "nothing", "an answer", "Look.")


class Paper:
    """A device that notes what it is told, and fails where it is asked to."""

    def __init__(self, **profile) -> None:
        self.profile = SourceProfile("source", **profile)
        self.done: list[object] = []
        self.fails: dict[str, BaseException] = {}

    def _do(self, what: str, *value: float) -> None:
        if what in self.fails:
            raise self.fails[what]
        self.done.append((what, *value) if value else what)

    def set_compliance(self, volt: float) -> None:
        self._do("compliance", volt)

    def set_current(self, ampere: float) -> None:
        self._do("current", round(ampere, 9))

    def switch_on(self) -> None:
        self._do("on")

    def switch_off(self) -> None:
        self._do("off")

    def close(self) -> None:
        self._do("close")


class Clock:
    seconds = 0.0

    def __call__(self) -> float:
        return self.seconds

    def sleep(self, seconds: float) -> None:
        self.seconds += seconds


def source(device: Paper, limits=DRY_LIMITS, clock=None, **how) -> CurrentSource:
    clock = clock or Clock()
    return CurrentSource(
        device, limits, clock=clock, now=lambda: datetime(2026, 1, 5, tzinfo=UTC), sleep=clock.sleep, **how
    )


def test_the_voltage_is_limited_before_the_output_is_on_and_the_current_goes_up_in_steps() -> None:
    device = Paper()
    source(device, steps=2).switch_on(0.1)
    assert device.done == [("current", 0.0), ("compliance", 0.02), "on", ("current", 0.05), ("current", 0.1)]


def test_a_new_level_is_reached_from_the_one_before() -> None:
    device = Paper()
    held = source(device, steps=2)
    held.switch_on(0.1)
    device.done.clear()
    held.set_current(-0.1)
    assert device.done == [("current", 0.0), ("current", -0.1)]
    assert held.state().current == -0.1


@pytest.mark.parametrize("limits", [None, SourceLimits(0, 0.02), SourceLimits(0.1, 0), SourceLimits(11, 0.02, "x"),
                                    SourceLimits(0.1, 31, "x"), SourceLimits(0.2, 0.02), SourceLimits(0.1, 0.05),
                                    SourceLimits(float("nan"), 0.02)])  # fmt: skip
def test_limits_that_are_missing_or_too_wide_are_refused(limits) -> None:
    with pytest.raises(SourceRefused):
        source(Paper(), limits)


@pytest.mark.parametrize("what", ["current", "compliance", "on"])
@pytest.mark.parametrize("error", [NoAnswer(FAULT), KeyboardInterrupt(), ValueError("a mistake")])
def test_whatever_fails_switches_it_off(what: str, error: BaseException) -> None:
    device = Paper()
    device.fails[what] = error
    held = source(device)
    with pytest.raises(type(error)):
        held.switch_on(0.1)
    assert device.done[-1] == "off"
    assert held.state().output == "off"


def test_off_that_fails_is_said_and_tried_again() -> None:
    device = Paper()
    held = source(device)
    held.switch_on(0.1)
    device.fails = {"off": MayStillBeOn(FAULT), "current": NoAnswer(FAULT)}
    with pytest.raises(MayStillBeOn):
        held.set_current(0.05)
    assert held.state().output == "may be on"
    with pytest.raises(MayStillBeOn):
        held.check()
    device.fails.clear()
    held.check()
    assert held.state().output == "off"


def test_the_lease_ends_it_and_renewing_holds_it() -> None:
    clock = Clock()
    device = Paper()
    held = source(device, clock=clock, lease_seconds=10, step_wait=0.0)
    held.switch_on(0.1)
    for _ in range(5):
        clock.seconds += 9
        assert held.renew()
        held.check()
    assert held.state().output == "on"
    assert held.state().lease_left == 10
    clock.seconds += 10
    assert not held.renew()
    with pytest.raises(SourceOff):
        held.require_on()
    held.check()
    assert device.done[-1] == "off"
    with pytest.raises(SourceOff, match="nobody renewed"):
        held.set_current(0.05)


def test_a_watcher_that_looked_while_it_was_off_leaves_it_on() -> None:
    clock = Clock()
    held = source(Paper(), clock=clock)
    held.switch_on(0.1)
    clock.seconds += 1000
    with held._lock:  # its owner is about to switch it off and on again
        watcher = threading.Thread(target=held.check)
        watcher.start()
        watcher.join(0.2)
        held.switch_off()
        held.switch_on(0.1)
    watcher.join(10)
    assert held.state().output == "on"


def test_a_lease_that_ends_in_the_middle_of_a_ramp_ends_the_ramp() -> None:
    device = Paper()
    held = source(device, lease_seconds=5, steps=10, step_wait=1.0)
    with pytest.raises(SourceOff):
        held.switch_on(0.1)
    assert device.done[-1] == "off"
    assert ("current", 0.1) not in device.done
    assert "nobody renewed" in held.state().why


def test_why_it_went_off_first_is_what_is_told() -> None:
    held = source(Paper())
    held.switch_on(0.1)
    held.switch_off("the first reason")
    held.switch_off("another")
    assert held.state().why == "the first reason"


def test_it_can_be_switched_on_again_after_it_went_off() -> None:
    device = Paper()
    held = source(device)
    for _ in range(2):
        held.switch_on(0.1)
        held.switch_off()
    assert device.done.count("on") == 2


def test_a_lease_that_ran_out_is_not_renewed() -> None:
    clock = Clock()
    lease = Lease(2.0, clock)
    assert lease.left() == 0
    assert not lease.renew()
    lease.begin()
    clock.seconds += 1.5
    assert lease.renew()
    assert lease.left() == 2.0
    clock.seconds += 2.0
    assert not lease.renew()
    assert lease.left() == 0


def test_limits_as_typed() -> None:
    assert read_limits("100 mA", "20 mV") == DRY_LIMITS
    wide = read_limits("1 A", "2 V", " power contact ")
    assert wide == SourceLimits(1.0, 2.0, "power contact")


@pytest.mark.parametrize(
    ("typed", "faults"),
    [
        (("", "", ""), 2),
        (("100", "20 mA", ""), 2),
        (("200 mA", "20 mV", ""), 1),
        (("200 mA", "50 mV", "  "), 1),
        (("100 A", "400 V", "why not"), 2),
        (("-1 mA", "20 mV", ""), 1),
    ],
)
def test_limits_that_are_refused_tell_every_fault(typed: tuple[str, str, str], faults: int) -> None:
    with pytest.raises(InputRefused) as caught:
        read_limits(*typed)
    assert len(caught.value.faults) == faults


def test_the_cautions_name_the_dry_circuit() -> None:
    told = " ".join(CAUTIONS)
    for word in ("unpowered", "20 mV", "100 mA", "heats", "open contact", "makers"):
        assert word in told
