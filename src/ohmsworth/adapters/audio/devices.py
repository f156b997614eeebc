"""The library that plays and records, loaded only when it is asked for, and the devices that it finds."""

from __future__ import annotations

import re
from types import ModuleType
from typing import Any

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.audio_ports import AudioDevice

#: Rates that are tried.
RATES = (44_100, 48_000, 88_200, 96_000, 176_400, 192_000)
#: Samples go to and from the library as this; it holds the 24 bits of a converter exactly.
SAMPLES = "float32"
_INSTALL = (
    "It is an optional part: 'pip install ohmsworth[audio]' brings it. Everything from files works without it: play drive.wav "
    "and record with any other program."
)
_BY_HAND = "or play drive.wav and record with any other program."


def library() -> ModuleType:
    """The library.

    Raises
    ------
    InputRefused
        When it is not installed, or does not find PortAudio.
    """
    try:
        import sounddevice
    except ModuleNotFoundError as error:
        needed = "" if error.name in (None, "sounddevice") else f": it needs {error.name}"
        found = f"no library that plays and records{needed}"
        raise refused("playing from here", found, "the library sounddevice", _INSTALL) from None
    except OSError as error:
        mend = f"On Debian and its like 'apt install libportaudio2' brings it; {_BY_HAND}"
        found = f"no PortAudio ({shorten(str(error), 120)[1:-1]})"
        raise refused("playing from here", found, "the shared library PortAudio", mend) from None
    except (
        Exception
    ) as error:  # the library starts PortAudio when it is loaded; its own error is not importable then
        mend = f"See whether the system plays sound at all, {_BY_HAND}"
        found = f"PortAudio does not start ({shorten(str(error), 120)[1:-1]})"
        raise refused("playing from here", found, "a sound system", mend) from None
    loaded: ModuleType = sounddevice
    return loaded


def refused(where: str, found: str, expected: str, mend: str) -> InputRefused:
    """One fault as a refusal."""
    return InputRefused((Fault(where, found, expected, mend),))


def devices_of(sounding: Any) -> tuple[AudioDevice, ...]:
    """Every device with both directions, in the order of the system.

    Some sound systems list the input and the output of an interface apart, each with the interface in brackets: two such, of
    the same system and the same brackets, are taken for one device.
    """
    try:
        listed = [dict(one) for one in sounding.query_devices()]
        systems = [str(one["name"]) for one in sounding.query_hostapis()]
    except sounding.PortAudioError as error:
        mend = f"See whether the system plays sound at all, {_BY_HAND}"
        raise refused("audio devices", shorten(str(error), 120)[1:-1], "a list of them", mend) from None
    return tuple(
        _device(sounding, name, systems[side["hostapi"]], side, other) for name, side, other in _pairs(listed)
    )


def _pairs(listed: list[dict[str, Any]]) -> list[tuple[str, dict[str, Any], dict[str, Any]]]:
    """Name, input side and output side of every device with both directions."""
    found = []
    for one in listed:
        if one["max_input_channels"] > 0 and one["max_output_channels"] > 0:
            found.append((str(one["name"]), one, one))
        elif one["max_input_channels"] > 0 and (unit := _unit(one["name"])):
            others = [
                other
                for other in listed
                if other["max_output_channels"] > 0
                and other["max_input_channels"] == 0
                and (other["hostapi"], _unit(other["name"])) == (one["hostapi"], unit)
            ]
            found += [(f"{one['name']} and {other['name']}", one, other) for other in others]
    return found


def _unit(name: str) -> str | None:
    """What stands in brackets at the end of a device's name."""
    match = re.search(r"\((.+)\)$", name.strip())
    return match[1] if match else None


def _device(
    sounding: Any, name: str, system: str, side: dict[str, Any], other: dict[str, Any]
) -> AudioDevice:
    inputs, outputs = int(side["max_input_channels"]), int(other["max_output_channels"])
    bare = AudioDevice(
        name, system, inputs, outputs, (), round(side["default_samplerate"]), (side["index"], other["index"])
    )
    taken = tuple(
        rate for rate in RATES if unfit(sounding, bare, min(inputs, 2), min(outputs, 2), rate) is None
    )
    return AudioDevice(name, system, inputs, outputs, taken, bare.usual_rate, bare.places)


def unfit(sounding: Any, device: AudioDevice, inputs: int, outputs: int, rate: int) -> str | None:
    """Why a device does not do `rate` with its first `inputs` and `outputs`; None where it does."""
    extra = direct(sounding, device)
    try:
        for check, place, channels in (
            (sounding.check_input_settings, device.places[0], inputs),
            (sounding.check_output_settings, device.places[1], outputs),
        ):
            check(
                device=place, channels=channels, dtype=SAMPLES, extra_settings=extra, samplerate=float(rate)
            )
    except (sounding.PortAudioError, ValueError) as error:
        return shorten(str(error), 120)[1:-1]
    return None


def direct(sounding: Any, device: AudioDevice) -> Any:
    """Settings that keep the system from mixing and resampling, where it does so unless it is told; else None."""
    if device.system == "Core Audio":
        return sounding.CoreAudioSettings(change_device_parameters=True, fail_if_conversion_required=True)
    if device.system == "Windows WASAPI":
        return sounding.WasapiSettings(exclusive=True)
    return None
