"""A practice bench whose clock is turned by hand, and what is opened on it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace

from ohmsworth.adapters.files import load_profiles
from ohmsworth.adapters.instruments import open_meter, open_source
from ohmsworth.adapters.instruments.guard import Guard
from ohmsworth.adapters.simulated import Contact, PracticeBench, ScpiBench
from ohmsworth.work.source_limits import DRY_LIMITS

PROFILES = load_profiles()
#: Seconds: short, since silence is waited for to the end.
TIMEOUT = 0.3


#: Everything opened on the bench of a test; closed when it ends.
_OPENED: list = []


class Clock:
    """Goes forward when somebody sleeps."""

    def __init__(self) -> None:
        self.seconds = 1000.0

    def __call__(self) -> float:
        return self.seconds

    def sleep(self, seconds: float) -> None:
        self.seconds += seconds


@contextmanager
def practice(contact: Contact | None = None, seed: int = 1) -> Iterator[tuple[PracticeBench, Clock]]:
    clock = Clock()
    with PracticeBench(ScpiBench(seed, clock, contact), late=2 * TIMEOUT) as bench:
        try:
            yield bench, clock
        finally:
            while _OPENED:
                _OPENED.pop().close()


def meter_profile(name: str, **changes):
    profile = PROFILES.meters[name]
    talk = {key: changes.pop(key) for key in tuple(changes) if key in profile.talk.__slots__}
    return replace(profile, talk=replace(profile.talk, **({"timeout": TIMEOUT} | talk)), **changes)


def source_profile(**changes):
    profile = PROFILES.sources["SCPI current source"]
    return replace(profile, talk=replace(profile.talk, timeout=TIMEOUT), **changes)


def meter(bench: PracticeBench, name: str = "voltmeter", visa: bool = False, **changes):
    profiles = {
        "voltmeter": "SCPI voltmeter",
        "ammeter": "SCPI ammeter",
        "ohmmeter": "SCPI ohmmeter, four-wire",
    }
    host, port = bench.addresses[name].split(":")
    address = f"TCPIP0::{host}::{port}::SOCKET" if visa else f"{host}:{port}"
    return open_at(meter_profile(profiles[name], **changes), address)


def open_at(profile, address: str, **how):
    _OPENED.append(open_meter(profile, address, **how))
    return _OPENED[-1]


@contextmanager
def opened_source(
    bench: PracticeBench, limits=DRY_LIMITS, lease_seconds: float = 30.0, say: Callable = print, **changes
):
    guard = Guard(say, interval=0.05)
    source = open_source(
        source_profile(**changes), bench.addresses["source"], limits, lease_seconds=lease_seconds, guard=guard
    )
    try:
        yield source
    finally:
        guard.stop()
        source._device.close()
