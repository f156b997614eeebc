"""Readings as a person would have typed them, and the folder that holds a study."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Reading, Truth
from ohmsworth.errors import OutputFault, shorten
from ohmsworth.readings import Accuracy

STUDY, READINGS, CHECK = "study.toml", "readings.csv", "check.csv"
#: When every simulated bench opens. A plain wall clock: a bench sheet knows no time zone.
OPENING = datetime(2026, 3, 3, 9, 30)  # noqa: DTZ001
HEADING = "specimen,{second},mating,polarity,time,temperature [°C],voltage [mV],current [mA]"
_MILLI = 1e3
_ICE = 273.15


def readings_text(
    readings: Sequence[Reading], truth: Truth, second: str = "condition", opening: datetime = OPENING
) -> str:
    """The readings as ``readings.csv``, one line a reading; what the simulator calls the condition heads column `second`.

    The first connector is closed soon after `opening`.
    """
    lines = [
        f"{r.specimen},{r.condition},{r.mating},{'+' if r.forward else '-'},"
        f"{opening + timedelta(seconds=r.time)},{r.temperature - _ICE:.1f},"
        f"{figures(r, truth)}"
        for r in readings
    ]
    return "\n".join([HEADING.format(second=second), *lines, ""])


def figures(reading: Reading, truth: Truth) -> str:
    """Millivolts and milliamperes with the digits that the meters show."""
    volts = max(_decimals(truth.voltmeter) - reading.slip, 0)
    voltage, current = reading.voltage * _MILLI * 10**reading.slip, reading.current * _MILLI
    return f"{voltage:.{volts}f},{current:.{_decimals(truth.ammeter)}f}"


def bench_text(truth: Truth, calibrated: Mapping[str, date] | None = None) -> str:
    """The meters' stated accuracy as tables of ``study.toml``; by their use, when they were last calibrated."""
    known = {use: [f"calibrated = {day}"] for use, day in (calibrated or {}).items()}
    volts, amperes = truth.voltmeter, truth.ammeter
    return "\n".join(
        [
            "[bench.voltmeter]",
            *known.get("voltmeter", ()),
            *_accuracy(volts),
            f'resolution = "{volts.resolution * 1e6:g} µV"',
            "",
            "[bench.ammeter]",
            *known.get("ammeter", ()),
            *_accuracy(amperes),
            f'resolution = "{amperes.resolution * 1e3:g} mA"',
        ]
    )


def _accuracy(meter: Accuracy) -> list[str]:
    return [f"percent_of_reading = {meter.gain * 100:.6g}", f"counts = {meter.counts:.6g}"]


def write_folder(folder: Path, files: Mapping[str, str], beside: Sequence[str] = ()) -> None:
    """Write `files`, texts by their names, into `folder`, which is made if need be; names in `beside` may be there already.

    Raises
    ------
    OutputFault
        When the folder holds anything but these files with these very contents, so that nobody's study is ever
        lost to a demonstration, or when it cannot be written.
    """
    contents = {name: text.encode() for name, text in files.items()}
    try:
        for path in sorted(folder.iterdir()) if folder.exists() else ():
            if path.name in beside and path.name not in contents:
                continue
            if path.name not in contents or path.read_bytes() != contents[path.name]:
                raise OutputFault(_refusal(folder, path))
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            (folder / name).write_bytes(content)
    except OutputFault:
        raise
    except OSError as error:
        reason = error.strerror or "the folder cannot be used"
        raise OutputFault(f"{shorten(str(folder), 200)}: {reason}. Name a new or empty folder.") from error


def _refusal(folder: Path, path: Path) -> str:
    what = f"a {path.name} of its own" if path.name in (STUDY, READINGS, CHECK) else shorten(path.name)
    return f"{shorten(str(folder), 200)} holds {what}, so nothing was written. Name a new or empty folder."


def _decimals(meter: Accuracy) -> int:
    """Decimals of a reading in milli-units on a meter of this resolution."""
    return max(0, -math.floor(math.log10(meter.resolution * _MILLI) + 1e-9))
