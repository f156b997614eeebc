"""VISA names of each kind, on a simulated VISA library."""

from pathlib import Path

import pytest
from tests.adapters.instruments.benches import meter_profile

from ohmsworth.adapters.instruments import open_meter
from ohmsworth.adapters.instruments.sources import open_device
from ohmsworth.work.instruments import (
    InstrumentFault,
    NoAnswer,
    OtherInstrument,
    Overloaded,
    SourceProfile,
    Talk,
)

pytest.importorskip("pyvisa_sim", reason="pyvisa-sim, which simulates VISA resources, is not installed")

LIBRARY = f"{Path(__file__).with_name('visa_bench.yaml')}@sim"
NAMES = [
    "TCPIP0::bench::5025::SOCKET",
    "TCPIP0::bench::inst0::INSTR",
    "USB0::0x1111::0x2222::0001::INSTR",
    "ASRL1::INSTR",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_meter_is_read_over_each_kind_of_line(name: str) -> None:
    meter = open_meter(meter_profile("SCPI voltmeter"), name, library=LIBRARY)
    try:
        assert meter.identification == "PRACTICE,voltmeter,0,1"
        assert [meter.read().text for _ in range(2)] == ["0.00023510"] * 2
    finally:
        meter.close()


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("clear", ["reopen", "device clear"])
def test_after_silence_the_next_reading_is_right(name: str, clear: str) -> None:
    silent = open_meter(
        meter_profile("SCPI voltmeter", query="MEASure:SILENCE", clear=clear), name, library=LIBRARY
    )
    try:
        for _ in range(2):
            with pytest.raises(NoAnswer):
                silent.read()
    finally:
        silent.close()


def test_overload_and_another_name_are_refused() -> None:
    meter = open_meter(meter_profile("SCPI voltmeter", query="READ?"), NAMES[2], library=LIBRARY)
    with pytest.raises(Overloaded):
        meter.read()
    meter.close()
    with pytest.raises(OtherInstrument):
        open_meter(meter_profile("SCPI voltmeter", expected="ammeter"), NAMES[2], library=LIBRARY)


def test_a_name_that_nobody_has_is_told() -> None:
    # The simulation opens any name, and nobody answers; a real library says so at once.
    with pytest.raises(InstrumentFault, match="switched on"):
        open_meter(meter_profile("SCPI voltmeter"), "USB0::0x9999::0x2222::0001::INSTR", library=LIBRARY)


def test_a_source_is_set_and_asked() -> None:
    profile = SourceProfile("source", Talk(timeout=0.3), set_current="SOURce:CURRent {ampere}")
    source = open_device(profile, "USB0::0x1111::0x3333::0001::INSTR", library=LIBRARY)
    source.set_compliance(0.02)
    source.set_current(0.1)
    source.switch_on()
    source.switch_off()
    source.close()
