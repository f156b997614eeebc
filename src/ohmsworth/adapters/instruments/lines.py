"""Lines to instruments: a TCP socket, a serial port, or VISA. They carry bytes and know nothing of what they mean.

`read` returns what has arrived, at the latest at `deadline` (time.monotonic), and empty bytes when nothing has; a broken line
raises OSError. No line is opened before it is needed, and none searches for instruments.
"""

from __future__ import annotations

import contextlib
import socket
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Protocol

from ohmsworth.adapters.instruments.addresses import Address
from ohmsworth.work.instruments import Talk

if TYPE_CHECKING:
    import serial

_CHUNK = 4096


class Line(Protocol):
    """An open line."""

    def write(self, data: bytes) -> None:
        """Send."""

    def read(self, deadline: float) -> bytes:
        """What has arrived; empty when nothing has by `deadline`."""

    def discard(self) -> None:
        """Throw away what has arrived unasked."""

    def clear(self) -> bool:
        """Clear the instrument's own buffers by the bus; False where the line has no such thing."""

    def close(self) -> None:
        """Let go."""


def open_line(address: Address, talk: Talk, library: str) -> Line:
    """Open the line; `library` is the VISA library, "@py" but in tests. Raises OSError."""
    if address.way == "socket":
        return SocketLine(address.name, address.port, talk.timeout)
    if address.way == "serial":
        return SerialLine(address.name, talk)
    return VisaLine(address.name, talk, library)


@contextlib.contextmanager
def _line_errors() -> Iterator[None]:
    """Every error of a library as OSError: termios, VISA and USB have errors of their own, and some raise bare Exception."""
    try:
        yield
    except OSError:
        raise
    except Exception as error:
        raise OSError(str(error) or type(error).__name__) from error


class SocketLine:
    """A TCP socket."""

    def __init__(self, host: str, port: int, timeout: float) -> None:
        with _line_errors():  # a name that is too long for the name service
            self._socket = socket.create_connection((host, port), timeout)
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._timeout = timeout

    def write(self, data: bytes) -> None:
        """Send all."""
        self._socket.settimeout(self._timeout)
        self._socket.sendall(data)

    def read(self, deadline: float) -> bytes:
        """What has arrived; raises ConnectionError when the other end has closed."""
        self._socket.settimeout(max(deadline - time.monotonic(), 1e-4))
        try:
            data = self._socket.recv(_CHUNK)
        except TimeoutError:
            return b""
        if not data:
            raise ConnectionResetError("the other end closed the connection")
        return data

    def discard(self) -> None:
        """Throw away what has arrived; notices a closed connection too."""
        while self.read(time.monotonic()):
            pass

    def clear(self) -> bool:
        """A plain socket has no device clear."""
        return False

    def close(self) -> None:
        """Close."""
        self._socket.close()


class SerialLine:
    """A serial port."""

    def __init__(self, port: str, talk: Talk) -> None:
        import serial

        with _line_errors():
            self._port: serial.Serial = serial.Serial(
                port,
                talk.baud,
                bytesize=int(talk.frame[0]),
                parity=talk.frame[1],
                stopbits=int(talk.frame[2]),
                timeout=0,
                write_timeout=talk.timeout,
                exclusive=True,
            )

    def write(self, data: bytes) -> None:
        """Send all."""
        with _line_errors():
            self._port.write(data)

    def read(self, deadline: float) -> bytes:
        """What has arrived."""
        with _line_errors():
            self._port.timeout = max(deadline - time.monotonic(), 0.0)
            return bytes(self._port.read(max(1, self._port.in_waiting)))

    def discard(self) -> None:
        """Throw away what has arrived."""
        with _line_errors():
            self._port.reset_input_buffer()

    def clear(self) -> bool:
        """A serial line has no device clear that every meter knows."""
        return False

    def close(self) -> None:
        """Close."""
        with _line_errors():
            self._port.close()


class VisaLine:
    """A VISA resource, by a library that needs no driver of a maker."""

    def __init__(self, name: str, talk: Talk, library: str) -> None:
        import pyvisa

        milliseconds = int(talk.timeout * 1000)
        with _line_errors():
            manager = pyvisa.ResourceManager(library)
            self._resource: Any = manager.open_resource(name, open_timeout=milliseconds)
            self._resource.timeout = milliseconds
            if name.upper().startswith("ASRL"):
                self._set_serial(talk)
        # A bus with messages hands over a whole one. A stream would go on waiting past the end of the line.
        messages = name.upper().endswith("::INSTR") and not name.upper().startswith("ASRL")
        self._chunk = _CHUNK if messages else 1

    def _set_serial(self, talk: Talk) -> None:
        from pyvisa import constants

        self._resource.baud_rate = talk.baud
        self._resource.data_bits = int(talk.frame[0])
        self._resource.parity = {
            "N": constants.Parity.none,
            "E": constants.Parity.even,
            "O": constants.Parity.odd,
        }[talk.frame[1]]
        self._resource.stop_bits = constants.StopBits.one if talk.frame[2] == "1" else constants.StopBits.two

    def write(self, data: bytes) -> None:
        """Send all."""
        with _line_errors():
            self._resource.write_raw(data)

    def read(self, deadline: float) -> bytes:
        """What has arrived."""
        from pyvisa import constants, errors

        left = deadline - time.monotonic()
        if left <= 0:
            return b""
        with _line_errors():
            self._resource.timeout = max(1, int(left * 1000))
            try:
                with self._resource.ignore_warning(constants.StatusCode.success_max_count_read):
                    data, _ = self._resource.visalib.read(self._resource.session, self._chunk)
            except errors.VisaIOError as error:
                if error.error_code != constants.StatusCode.error_timeout:
                    raise
                return b""
            return bytes(data)

    def discard(self) -> None:
        """Nothing: a bus with messages holds an answer back until it is asked for."""

    def clear(self) -> bool:
        """The bus's device clear."""
        try:
            self._resource.clear()
        except Exception:
            return False
        return True

    def close(self) -> None:
        """Close."""
        with _line_errors():
            self._resource.close()


def serial_ports() -> tuple[tuple[str, str], ...]:
    """Serial ports of this computer: name and description, for a person to choose from."""
    from serial.tools import list_ports

    return tuple(sorted((port.device, port.description or "") for port in list_ports.comports()))
