"""The instruments of a bench that serves: those of this computer, or invented ones for practice."""

from __future__ import annotations

import platform
from dataclasses import replace
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.connections import Connection
from ohmsworth.work.instrument_ports import InstrumentPorts
from ohmsworth.work.instruments import Profiles

#: The practice bench is the same one every day.
_PRACTICE_SEED = 20


def instruments(own_profiles: Path) -> InstrumentPorts:
    """What opens the instruments of this computer; `own_profiles` is the shop's own file, where there is one."""

    def profiles() -> tuple[Profiles, tuple[Fault, ...]]:
        try:
            return wiring.load_profiles(own_profiles if own_profiles.is_file() else None), ()
        except InputRefused as refused:
            return wiring.load_profiles(), refused.faults

    return InstrumentPorts(
        profiles,
        wiring.serial_ports,
        wiring.open_meter,
        wiring.open_source,
        wiring.switch_off_all,
        platform.node() or "this machine",
    )


def practice_instruments(own_profiles: Path) -> InstrumentPorts:
    """Invented instruments, connected from the start; every specimen has a contact of its own, the same one every day."""
    practice = wiring.practice_bench(_PRACTICE_SEED)
    connected: list[str] = []

    def connect(specimen: str) -> None:
        if connected != [specimen]:
            practice.bench.connect(specimen)
            connected[:] = [specimen]

    at = practice.addresses
    return replace(
        instruments(own_profiles),
        machine="the practice bench",
        connect=connect,
        turn=lambda sign: practice.bench.turn_leads(sign == "-"),
        at_start={
            "voltmeter": Connection("SCPI voltmeter", at["voltmeter"]),
            "ammeter": Connection("SCPI ammeter", at["ammeter"]),
            "ohmmeter": Connection("SCPI ohmmeter, four-wire", at["ohmmeter"]),
            "source": Connection(
                "SCPI current source",
                at["source"],
                most_current="100 mA",
                most_voltage="20 mV",
                level="100 mA",
                settle="0.3 s",
            ),
        },
        practice=True,
        close=practice.close,
    )
