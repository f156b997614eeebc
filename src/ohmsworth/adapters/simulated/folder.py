"""Readings as a person would have typed them, and the folder that holds a study."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

from ohmsworth.adapters.simulated.bench import Reading, Truth
from ohmsworth.errors import OutputFault, shorten
from ohmsworth.readings import Accuracy

STUDY, READINGS = "study.toml", "readings.csv"
#: When every simulated bench opens. A plain wall clock: a bench sheet knows no time zone.
OPENING = datetime(2026, 3, 3, 9, 30)  # noqa: DTZ001
HEADING = "specimen,condition,mating,polarity,time,temperature [°C],voltage [mV],current [mA]"
_MILLI = 1e3
_ICE = 273.15


def readings_text(readings: Sequence[Reading], truth: Truth) -> str:
    """The readings as ``readings.csv``: one line a reading, with the digits that the meters show."""
    volts, amperes = _decimals(truth.voltmeter), _decimals(truth.ammeter)
    lines = [
        f"{r.specimen},{r.condition},{r.mating},{'+' if r.forward else '-'},"
        f"{OPENING + timedelta(seconds=r.time)},{r.temperature - _ICE:.1f},"
        f"{r.voltage * _MILLI * 10**r.slip:.{max(volts - r.slip, 0)}f},{r.current * _MILLI:.{amperes}f}"
        for r in readings
    ]
    return "\n".join([HEADING, *lines, ""])


def bench_text(truth: Truth) -> str:
    """The meters' stated accuracy as tables of ``study.toml``."""
    volts, amperes = truth.voltmeter, truth.ammeter
    return "\n".join(
        [
            "[bench.voltmeter]",
            *_accuracy(volts),
            f'resolution = "{volts.resolution * 1e6:g} µV"',
            "",
            "[bench.ammeter]",
            *_accuracy(amperes),
            f'resolution = "{amperes.resolution * 1e3:g} mA"',
        ]
    )


def _accuracy(meter: Accuracy) -> list[str]:
    return [f"percent_of_reading = {meter.gain * 100:.6g}", f"counts = {meter.counts:.6g}"]


def write_folder(folder: Path, study: str, readings: str) -> None:
    """Write the two files of a study into `folder`, which is made if need be.

    Raises
    ------
    OutputFault
        When the folder holds anything but these two files with these very contents, so that nobody's study is ever
        lost to a demonstration, or when it cannot be written.
    """
    contents = {STUDY: study.encode(), READINGS: readings.encode()}
    try:
        for path in sorted(folder.iterdir()) if folder.exists() else ():
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
    what = f"a {path.name} of its own" if path.name in (STUDY, READINGS) else shorten(path.name)
    return f"{shorten(str(folder), 200)} holds {what}, so nothing was written. Name a new or empty folder."


def _decimals(meter: Accuracy) -> int:
    """Decimals of a reading in milli-units on a meter of this resolution."""
    return max(0, -math.floor(math.log10(meter.resolution * _MILLI) + 1e-9))
