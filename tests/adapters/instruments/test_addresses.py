"""Addresses as typed."""

import pytest

from ohmsworth.adapters.instruments.addresses import read_address
from ohmsworth.errors import InputRefused


@pytest.mark.parametrize(
    ("typed", "way"),
    [
        ("192.168.1.20:5025", "socket"),
        (" meter.local:5025 ", "socket"),
        ("[::1]:5025", "socket"),
        ("TCPIP0::192.168.1.20::5025::SOCKET", "visa"),
        ("TCPIP::192.168.1.20::inst0::INSTR", "visa"),
        ("USB0::0x1234::0x5678::SERIAL1::INSTR", "visa"),
        ("ASRL/dev/ttyUSB0::INSTR", "visa"),
        ("COM3", "serial"),
        ("/dev/ttyUSB0", "serial"),
        ("/dev/serial/by-id/usb-meter-if00", "serial"),
    ],
)
def test_an_address_is_known(typed: str, way: str) -> None:
    assert read_address(typed).way == way


@pytest.mark.parametrize(
    "typed",
    ["", "meter", "192.168.1.20", "host:0", "host:99999", "?*::INSTR", "GPIB0::3::INSTR", "/etc/passwd", "/dev/../etc/x",
     "http://host:80", "host:5025\nx", "TCPIP::a b::SOCKET"],
)  # fmt: skip
def test_anything_else_is_refused(typed: str) -> None:
    with pytest.raises(InputRefused, match="address"):
        read_address(typed)
