"""Playing and recording at once, in one stream, so that player and recorder run by one clock."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ohmsworth.adapters.audio.devices import SAMPLES, devices_of, direct, library, refused, unfit
from ohmsworth.adapters.audio.stream_state import StreamState
from ohmsworth.errors import InputRefused, shorten
from ohmsworth.work.audio_ports import AudioDevice, Channels, Keep, Played, Sound

#: Milliseconds between two looks at what was recorded.
STEP = 20
#: Milliseconds without a sample after which a device passes for gone, and after which a fade is not waited for.
PATIENCE, FADE_PATIENCE = 3000, 500
#: Seconds that are recorded after the last sample was handed over, beside what it takes to be heard.
TAIL = 0.5
_AGAIN = "Connect it again, look at it with --list, and record again."


class LiveDevices:
    """The interfaces of this computer, through PortAudio."""

    def found(self) -> tuple[AudioDevice, ...]:
        """Every device with both directions; nothing is played.

        Raises
        ------
        InputRefused
            When the library is not there, or does not work.
        """
        return devices_of(library())

    def play_and_record(self, device: AudioDevice, sound: Sound, channels: Channels, keep: Keep) -> Played:
        """Play all of `sound` and hand over what is recorded meanwhile, block by block.

        Raises
        ------
        InputRefused
            When the device has too few channels, does not do the rate, cannot be opened, or stops meanwhile.
        ArgumentFault
            When a sample of `sound` is larger than it says.
        """
        sounding = library()
        _refuse_unfit(sounding, device, channels, sound.rate)
        state = StreamState(sound, channels, sounding.CallbackStop)
        stream = _opened(sounding, device, channels, sound.rate, state)
        try:
            state.set_tail(TAIL + sum(stream.latency))
            state.feed()
            stream.start()
            _run(sounding, device, stream, state, keep)
            stream.stop()
        except sounding.PortAudioError as error:
            _silence(sounding, stream, state)
            raise _gone(device, shorten(str(error), 120)[1:-1]) from None
        except BaseException:
            _silence(sounding, stream, state)
            raise
        finally:
            stream.close()
        return Played(state.kept, tuple(state.dropouts))


def _refuse_unfit(sounding: Any, device: AudioDevice, channels: Channels, rate: int) -> None:
    """Refuse what can be known before the device is opened; all at once."""
    faults = [fault for refusal in _misfits(sounding, device, channels, rate) for fault in refusal.faults]
    if faults:
        raise InputRefused(tuple(faults))


def _misfits(sounding: Any, device: AudioDevice, channels: Channels, rate: int) -> Iterator[InputRefused]:
    inputs, outputs = max(channels.inputs), max(channels.outputs)
    if device.inputs < inputs:
        expected = "two inputs" if inputs == 2 else f"{inputs} inputs"
        mend = "Choose an interface with two balanced inputs: --list shows what there is."
        yield refused(str(device), _many(device.inputs, "input"), expected, mend)
    if device.outputs < outputs:
        mend = "Name the outputs that it has with --outputs."
        yield refused(str(device), _many(device.outputs, "output"), _many(outputs, "output"), mend)
    if device.inputs < inputs or device.outputs < outputs:
        return
    why = unfit(sounding, device, inputs, outputs, rate)
    if why is not None:
        others = ", ".join(str(one) for one in device.rates) or "no usual rate"
        mend = (
            f"It does {others}: set the interface to the rate, or put another one into tones.toml and run 'ohmsworth tones' "
            "again. Close other programs that use it."
        )
        yield refused(str(device), f"no {rate} samples a second ({why})", f"{rate}, as in plan.json", mend)


def _many(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _opened(sounding: Any, device: AudioDevice, channels: Channels, rate: int, state: StreamState) -> Any:
    extra = direct(sounding, device)
    try:
        return sounding.Stream(
            samplerate=float(rate),
            blocksize=0,
            device=device.places,
            channels=(max(channels.inputs), max(channels.outputs)),
            dtype=SAMPLES,
            latency="high",
            extra_settings=extra,
            callback=state.callback,
        )
    except (sounding.PortAudioError, ValueError) as error:
        mend = "Close other programs that use it, and see that it is connected and switched on; --list shows what there is."
        found = f"it cannot be opened ({shorten(str(error), 120)[1:-1]})"
        raise refused(str(device), found, "a device that plays and records", mend) from None


def _run(sounding: Any, device: AudioDevice, stream: Any, state: StreamState, keep: Keep) -> None:
    """Feed the stream and take from it until everything is played and recorded."""
    still = 0
    while not state.ended():
        active = (
            stream.active
        )  # looked at first: a stream that ends with its last sample is no longer active either
        sounding.sleep(STEP)
        state.feed()
        still = 0 if state.hand_over(keep) else still + STEP
        if still >= PATIENCE:
            raise _gone(device, f"no sample for {PATIENCE / 1000:g} s")
        if not active:
            raise _gone(device, "it stopped by itself")
    state.hand_over(keep)
    if state.fault is not None:
        raise state.fault


def _silence(sounding: Any, stream: Any, state: StreamState) -> None:
    """Fade the output; a second Ctrl-C, or a device that no longer answers, cuts it off."""
    state.fade()
    try:
        waited = 0
        while stream.active and not state.silent and waited < FADE_PATIENCE:
            sounding.sleep(STEP)
            waited += STEP
        if state.silent:
            stream.stop()  # waits until the end of the fade was heard
            return
    except (KeyboardInterrupt, sounding.PortAudioError):
        pass
    stream.abort()


def _gone(device: AudioDevice, found: str) -> InputRefused:
    return refused(
        str(device), f"a device that stopped in the middle: {found}", "one that goes on to the end", _AGAIN
    )
