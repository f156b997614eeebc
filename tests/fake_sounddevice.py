"""The library that plays and records, without any sound: the same names, and a loop from the outputs to the inputs.

Its time goes on while the program sleeps in it, so that nothing waits and everything comes the same every time. Names, arguments
and what is raised when are those of its documentation (python-sounddevice 0.5: query_devices, query_hostapis,
check_input_settings, check_output_settings, Stream, CallbackFlags, CallbackStop, sleep).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]
#: What the inputs hear of the outputs: both of shape (samples, channels).
Wire = Callable[[Samples, int], Samples]
NAMES = ("input_underflow", "input_overflow", "output_underflow", "output_overflow", "priming_output")


class PortAudioError(Exception):
    """As the library's."""


class CallbackStop(Exception):
    """As the library's."""


class CallbackFlags:
    """True where any of its flags is."""

    def __init__(self, *names: str) -> None:
        for name in NAMES:
            setattr(self, name, name in names)

    def __bool__(self) -> bool:
        return any(getattr(self, name) for name in NAMES)


def device(
    name: str, inputs: int, outputs: int, hostapi: int = 0, rates: Sequence[int] = (44_100, 48_000, 96_000)
) -> dict[str, Any]:
    """What query_devices tells of one device, and the rates that it does."""
    return {
        "name": name,
        "hostapi": hostapi,
        "max_input_channels": inputs,
        "max_output_channels": outputs,
        "default_samplerate": float(rates[0]),
        "rates": tuple(rates),
    }


def straight_through(played: Samples, inputs: int) -> Samples:
    """Half of the first output on every input."""
    return np.repeat(np.float32(0.5) * played[:, :1], inputs, axis=1)


class FakeSounddevice:
    """Stands in sys.modules as ``sounddevice``.

    Parameters
    ----------
    devices
        From `device`.
    systems
        Names of the sound systems.
    wire
        What is between outputs and inputs.
    latency
        Samples from an output to an input.
    block
        Samples of a callback.
    flags
        Flags that the callback of this number, from 0, is given.
    dies
        Callback from which on the stream is dead: no callback comes any more; `quietly` says whether it still passes for active.
    interrupted
        Callback after which the sleeper is interrupted as by Ctrl-C.
    start_error, open_error
        What start() or Stream() raises.
    """

    PortAudioError, CallbackStop, CallbackFlags = PortAudioError, CallbackStop, CallbackFlags

    def __init__(self, *devices: dict[str, Any], systems: Sequence[str] = ("ALSA",), **how: Any) -> None:
        self.devices, self.systems = devices, systems
        self.wire: Wire = how.pop("wire", straight_through)
        self.latency: int = how.pop("latency", 512)
        self.block: int = how.pop("block", 480)
        self.flags: Mapping[int, CallbackFlags] = how.pop("flags", {})
        self.dies: int | None = how.pop("dies", None)
        self.quietly: bool = how.pop("quietly", False)
        self.interrupted: tuple[int, ...] = how.pop("interrupted", ())
        self.start_error: str | None = how.pop("start_error", None)
        self.open_error: str | None = how.pop("open_error", None)
        assert not how
        self.streams: list[FakeStream] = []
        self.extras: list[Any] = []

    def query_devices(self) -> tuple[dict[str, Any], ...]:
        return tuple(
            {**{k: v for k, v in one.items() if k != "rates"}, "index": index}
            for index, one in enumerate(self.devices)
        )

    def query_hostapis(self) -> tuple[dict[str, Any], ...]:
        return tuple({"name": name} for name in self.systems)

    def check_input_settings(
        self, device: int, channels: int, dtype: str, extra_settings: Any, samplerate: float
    ) -> None:
        self._check(device, "max_input_channels", channels, samplerate)

    def check_output_settings(
        self, device: int, channels: int, dtype: str, extra_settings: Any, samplerate: float
    ) -> None:
        self._check(device, "max_output_channels", channels, samplerate)

    def _check(self, index: int, key: str, channels: int, samplerate: float) -> None:
        if not 1 <= channels <= self.devices[index][key]:
            raise PortAudioError("Invalid number of channels [PaErrorCode -9998]")
        if samplerate not in self.devices[index]["rates"]:
            raise PortAudioError("Invalid sample rate [PaErrorCode -9997]")

    def CoreAudioSettings(self, **settings: bool) -> SimpleNamespace:
        return SimpleNamespace(kind="Core Audio", **settings)

    def WasapiSettings(self, **settings: bool) -> SimpleNamespace:
        return SimpleNamespace(kind="WASAPI", **settings)

    def Stream(self, **settings: Any) -> FakeStream:
        if self.open_error is not None:
            raise PortAudioError(self.open_error)
        stream = FakeStream(self, **settings)
        self.streams.append(stream)
        return stream

    def sleep(self, msec: int) -> None:
        for stream in self.streams:
            stream.go_on(msec)


class FakeStream:
    """A stream whose callbacks come while the program sleeps."""

    def __init__(
        self,
        library: FakeSounddevice,
        samplerate: float,
        blocksize: int,
        device: tuple[int, int],
        channels: tuple[int, int],
        dtype: str,
        latency: str,
        extra_settings: Any,
        callback: Callable[..., None],
    ) -> None:
        assert blocksize == 0
        assert dtype == "float32"
        self._library, self._rate, self._callback = library, samplerate, callback
        self.channels, self.device, self.extra = channels, device, extra_settings
        self.latency = (library.latency / samplerate / 2, library.latency / samplerate / 2)
        self.active = self.closed = False
        self.ended: list[str] = []
        self._line: Samples = np.zeros((library.latency, channels[1]), np.float32)
        self.played: list[Samples] = []
        self._turn, self._time = 0, 0.0

    def start(self) -> None:
        if self._library.start_error is not None:
            raise PortAudioError(self._library.start_error)
        self.active = True

    def stop(self, ignore_errors: bool = True) -> None:
        self.active = False
        self.ended.append("stop")

    def abort(self, ignore_errors: bool = True) -> None:
        self.active = False
        self.ended.append("abort")

    def close(self, ignore_errors: bool = True) -> None:
        self.active = False
        self.closed = True

    def go_on(self, msec: int) -> None:
        """Callbacks for as long as the program sleeps."""
        self._time += msec / 1000 * self._rate
        while self.active and self._time >= self._library.block:
            self._time -= self._library.block
            if self._library.dies is not None and self._turn >= self._library.dies:
                self.active = self._library.quietly
                return
            self._call()
            if self._turn - 1 in self._library.interrupted:
                raise KeyboardInterrupt

    def _call(self) -> None:
        frames = self._library.block
        coming, self._line = self._line[:frames], self._line[frames:]
        heard = self._library.wire(coming, self.channels[0]).astype(np.float32)
        out: Samples = np.full(
            (frames, self.channels[1]), np.nan, np.float32
        )  # as the library: not initialised
        status = self._library.flags.get(self._turn, CallbackFlags())
        self._turn += 1
        try:
            self._callback(heard, out, frames, SimpleNamespace(), status)
        except CallbackStop:
            self.active = False
        assert np.isfinite(out).all(), "the callback must fill the whole output, whatever it raises"
        self.played.append(out)
        self._line = np.concatenate([self._line, out])

    @property
    def output(self) -> Samples:
        """Everything that was played, shape (samples, channels)."""
        return np.concatenate(self.played)
