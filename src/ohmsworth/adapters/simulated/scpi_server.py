"""The practice bench as SCPI instruments on sockets of this computer: voltmeter, ammeter, ohmmeter and current source.

Each listens at a port of its own. Faults can be asked for, to see what the program does about them.
"""

from __future__ import annotations

import contextlib
import socketserver
import threading
import time
from collections import deque
from collections.abc import Callable
from decimal import Decimal
from typing import Literal

from ohmsworth.adapters.simulated.scpi_bench import COUNT, ScpiBench
from ohmsworth.adapters.simulated.scpi_words import header_pattern

#: What the next answer suffers: cut off with the line, late, no text, none, an overload, a line without end, another's reading.
FaultKind = Literal["drop", "late", "garbage", "silent", "overload", "endless", "words", "refuse off"]
INSTRUMENTS = ("voltmeter", "ammeter", "ohmmeter", "source")
_LOOPBACK = "127.0.0.1"
_LONGEST_LINE = 1000
_GARBAGE = b"\xff\x00\xfe\x93\x80\n"
_OVERLOAD = "+9.90000000E+37"
Answer = Callable[[str], str | None]


class PracticeBench:
    """The instruments, listening; `close` or leaving the context ends them.

    Parameters
    ----------
    bench
        What they measure.
    late
        Seconds by which a late answer is late.

    Attributes
    ----------
    addresses
        Name of the instrument -> host and port, as a person would type them.
    heard
        Every command with the name of the instrument, in the order of arrival.
    """

    def __init__(self, bench: ScpiBench, late: float = 1.0) -> None:
        self.bench = bench
        self.late = late
        self.heard: list[tuple[str, str]] = []
        self._faults: dict[str, deque[FaultKind]] = {name: deque() for name in INSTRUMENTS}
        self._servers = {name: _Server(name, self) for name in INSTRUMENTS}
        self.addresses = {
            name: f"{_LOOPBACK}:{server.server_address[1]}" for name, server in self._servers.items()
        }

    def __enter__(self) -> PracticeBench:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def fault(self, instrument: str, *kinds: FaultKind) -> None:
        """Have the next readings (or orders to a source) of an instrument suffer these, one each."""
        self._faults[instrument].extend(kinds)

    def next_fault(self, instrument: str) -> FaultKind | None:
        """What the answer that is due suffers."""
        waiting = self._faults[instrument]
        return waiting.popleft() if waiting else None

    def vanish(self, instrument: str) -> None:
        """Switch an instrument off: its line breaks, and nobody listens at its port."""
        self._servers.pop(instrument).end()

    def return_to(self, instrument: str) -> None:
        """Switch it on again, at the same port."""
        port = int(self.addresses[instrument].rpartition(":")[2])
        self._servers[instrument] = _Server(instrument, self, port)

    def close(self) -> None:
        """Switch all off."""
        for name in tuple(self._servers):
            self.vanish(name)


class _Server(socketserver.ThreadingTCPServer):
    allow_reuse_address = True
    daemon_threads = True
    block_on_close = False

    def __init__(self, name: str, practice: PracticeBench, port: int = 0) -> None:
        super().__init__((_LOOPBACK, port), _Handler)
        self.name, self.practice = name, practice
        self.instrument = _Instrument(name, practice.bench)
        self.open_lines: set[_Handler] = set()
        self._thread = threading.Thread(target=self.serve_forever, args=(0.02,), daemon=True)
        self._thread.start()

    def end(self) -> None:
        self.shutdown()
        self._thread.join()
        self.server_close()
        for handler in tuple(self.open_lines):
            handler.drop()

    def handle_error(self, request: object, client_address: object) -> None:
        """Nothing: the other end went away."""


class _Handler(socketserver.StreamRequestHandler):
    server: _Server

    def handle(self) -> None:
        self.server.open_lines.add(self)
        try:
            while line := self.rfile.readline(_LONGEST_LINE):
                text = line.decode("ascii", "replace").strip()
                self.server.practice.heard.append((self.server.name, text))
                for command in text.split(";"):
                    if not self._obey(command.strip()):
                        return
        finally:
            self.server.open_lines.discard(self)

    def drop(self) -> None:
        """Break the line."""
        with contextlib.suppress(OSError):
            self.connection.shutdown(2)
        with contextlib.suppress(OSError):
            self.connection.close()

    def _obey(self, command: str) -> bool:
        """Carry out one command; False when the line broke over it."""
        instrument, practice = self.server.instrument, self.server.practice
        fault = practice.next_fault(self.server.name) if instrument.is_reading(command) else None
        if fault == "refuse off" and not command.endswith("?"):
            return True
        answer = instrument.obey(command)
        if answer is None:
            return True
        data = (answer + "\n").encode("ascii")
        if fault == "late":
            time.sleep(practice.late)
        elif fault == "overload":
            data = f"{_OVERLOAD}\n".encode("ascii")
        elif fault == "words":
            data = b"+1.2E-3 V, please wait\n"
        elif fault == "garbage":
            data = _GARBAGE
        elif fault == "endless":
            data = b"7" * 5000
        elif fault == "silent":
            return True
        elif fault == "drop":
            self.wfile.write(data[: len(data) // 2])
            self.drop()
            return False
        self.wfile.write(data)
        return True


class _Instrument:
    """What one instrument understands."""

    def __init__(self, name: str, bench: ScpiBench) -> None:
        self._name, self._bench = name, bench
        self._complaints: deque[str] = deque()
        quantity = {"voltmeter": "voltage", "ammeter": "current", "ohmmeter": "resistance"}.get(name, "")
        own: dict[str, Answer] = self._source() if name == "source" else self._meter(quantity)
        words: dict[str, Answer] = {
            "*IDN?": lambda _: f"PRACTICE,{name},0,1",
            "*CLS": self._clear,
            "*OPC?": lambda _: "1",
            "SYSTem:ERRor[:NEXT]?": lambda _: (
                self._complaints.popleft() if self._complaints else '0,"No error"'
            ),
        } | own
        self._words = [(header_pattern(header), answer) for header, answer in words.items()]
        # Only readings and what a source is told suffer faults: an instrument that says its name is there.
        self._readings = [
            header_pattern(header) for header in own if header.endswith("?") or name == "source"
        ]

    def is_reading(self, command: str) -> bool:
        """Whether the command asks for a reading, or orders the source."""
        header = command.partition(" ")[0]
        return any(pattern.fullmatch(header) for pattern in self._readings)

    def obey(self, command: str) -> str | None:
        """The answer; None for a command without one."""
        header, _, argument = command.partition(" ")
        for pattern, answer in self._words:
            if pattern.fullmatch(header):
                try:
                    return answer(argument.strip())
                except ValueError:
                    self._complaints.append('-104,"Data type error"')
                    return None
        self._complaints.append('-113,"Undefined header"')
        return None

    def _clear(self, _: str) -> None:
        self._complaints.clear()

    def _meter(self, quantity: str) -> dict[str, Answer]:
        def read(_: str) -> str:
            return _shown(self._bench.shown(quantity), quantity)

        by_quantity: dict[str, dict[str, Answer]] = {
            "voltage": {"MEASure:VOLTage[:DC]?": read},
            "current": {"MEASure:CURRent[:DC]?": read},
            "resistance": {
                "MEASure:FRESistance?": read,
                "MEASure:RESistance?": lambda _: _shown(self._bench.shown(quantity, False), quantity),
            },
        }
        sense = "[SENSe:]VOLTage[:DC]:RANGe[:UPPer]"
        return by_quantity[quantity] | {
            "READ?": read,
            "CONFigure:VOLTage[:DC]": lambda _: None,
            sense: lambda _: None,
        }

    def _source(self) -> dict[str, Answer]:
        bench = self._bench

        def set_level(text: str) -> None:
            bench.level = _in_steps(float(text), bench.step)

        def set_compliance(text: str) -> None:
            bench.compliance = _in_steps(float(text), bench.step)

        def set_output(text: str) -> None:
            bench.output = {"ON": True, "1": True, "OFF": False, "0": False}.get(text.upper(), bench.output)

        return {
            "[SOURce:]FUNCtion[:MODE]": lambda _: None,
            "[SOURce:]CURRent[:LEVel]": set_level,
            "[SOURce:]CURRent[:LEVel]?": lambda _: f"{bench.level:.6E}",
            "[SOURce:]VOLTage:LIMit": set_compliance,
            "[SOURce:]VOLTage:LIMit?": lambda _: f"{bench.compliance:.6E}",
            "[SOURce:]VOLTage[:LEVel]": set_compliance,
            "[SOURce:]VOLTage[:LEVel]?": lambda _: f"{bench.compliance:.6E}",
            "OUTPut[:STATe]": set_output,
            "OUTPut[:STATe]?": lambda _: str(int(bench.output)),
        }


def _in_steps(value: float, step: float) -> float:
    return round(value / step) * step if step else value


def _shown(value: float | None, quantity: str) -> str:
    """NR3 with as many digits as the meter has, or the number that stands for an overload."""
    if value is None:
        return _OVERLOAD
    count = Decimal(f"{COUNT[quantity]:.0e}")
    return f"{Decimal(repr(value)).quantize(count):E}"
