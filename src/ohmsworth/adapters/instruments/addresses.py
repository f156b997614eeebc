"""Where an instrument is, as a person types it: host and port, a VISA name, or a serial port. Nothing is searched for."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import Fault, InputRefused, shorten

_HOST = re.compile(
    r"(?P<host>[A-Za-z0-9](?:[A-Za-z0-9.-]{0,252}[A-Za-z0-9])?|\[[0-9A-Fa-f:.]+\]):(?P<port>[0-9]{1,5})"
)
_SERIAL = re.compile(r"(?:COM[0-9]{1,3}|/dev/[A-Za-z0-9._/-]{1,100})", re.IGNORECASE)
_VISA = re.compile(r"(?:TCPIP|USB|ASRL)[0-9]*[A-Za-z0-9:./_\\-]{0,200}::(?:INSTR|SOCKET)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Address:
    """`way` says how it is reached; `name` is the host, the VISA name or the serial port; `port` only with a host."""

    way: Literal["socket", "visa", "serial"]
    name: str
    port: int = 0

    def __str__(self) -> str:
        return f"{self.name}:{self.port}" if self.way == "socket" else self.name


def read_address(text: str) -> Address:
    """Read an address as typed.

    Raises
    ------
    InputRefused
        When it is none of the three.

    Examples
    --------
    >>> read_address("192.168.1.20:5025")
    Address(way='socket', name='192.168.1.20', port=5025)
    """
    clean = text.strip()
    if match := _HOST.fullmatch(clean):
        port = int(match["port"])
        if 1 <= port <= 65535:
            return Address("socket", match["host"].strip("[]"), port)
        raise _refused(clean, "a port from 1 to 65535", "Look it up in the meter's manual; many use 5025.")
    if _VISA.fullmatch(clean):
        return Address("visa", clean)
    if _SERIAL.fullmatch(clean) and ".." not in clean:
        return Address("serial", clean)
    expected = (
        "host and port (192.168.1.20:5025), a VISA name that begins with USB, TCPIP or ASRL and ends in ::INSTR or "
        "::SOCKET, or a serial port (COM3, /dev/ttyUSB0)"
    )
    raise _refused(clean, expected, "Type the address as the meter's display or manual shows it.")


def _refused(text: str, expected: str, mend: str) -> InputRefused:
    return InputRefused((Fault("address", shorten(text, 80) if text else "nothing", expected, mend),))
