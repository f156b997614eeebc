"""Rows of numbers of a Touchstone text, put together frequency by frequency."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.adapters.files.touchstone_lines import FREQUENCY_UNITS, Lines, Row
from ohmsworth.units import LARGEST

Complex = npt.NDArray[np.complex128]
#: Numbers in a line of noise parameters.
NOISE = 5


@dataclass(frozen=True, slots=True, eq=False)
class Points:
    """`frequency` in hertz, shape (m,); `matrix` as it stands in the file, (m, p, p); `line` where each begins."""

    frequency: npt.NDArray[np.float64]
    matrix: Complex
    line: npt.NDArray[np.int64]


def read_points(lines: Lines, ports: int) -> Points | None:
    """The points of a file of `ports` (1 or 2) ports; None where there are faults, all of which `lines` then holds."""
    rows = _without_noise(lines, ports) if not lines.head.keywords else lines.rows
    points = _joined(lines, rows, 1 + 2 * ports**2)
    _check_frequencies(lines, points)
    _check_announced(lines, len(points))
    if not points and not lines.faults:
        mend = "Save the file again, with its numbers."
        lines.fault(1, "no numbers", "a frequency and its parameters on a line", mend)
    if lines.faults:
        return None
    numbers = np.array([point.numbers for point in points])
    values = _complex(numbers[:, 1::2], numbers[:, 2::2], lines.head.form)
    line = np.array([point.line for point in points])
    if not believed(lines, line, values, "a size beyond belief", f"up to {LARGEST:g}", "Check the numbers."):
        return None
    matrix = values.reshape(-1, ports, ports)
    if lines.head.order != "12_21":  # what version 1 writes: 11, 21, 12, 22
        matrix = np.swapaxes(matrix, 1, 2)
    return Points(numbers[:, 0] * FREQUENCY_UNITS[lines.head.unit], matrix, line)


def believed(
    lines: Lines, line: npt.NDArray[np.int64], values: Complex, found: str, expected: str, mend: str
) -> bool:
    """Whether all values are of a size that is believed; a fault for every frequency where they are not."""
    with np.errstate(all="ignore"):
        bad = ~(np.abs(values.reshape(len(values), -1)) <= LARGEST).all(axis=1)
    for number in line[bad].tolist():
        lines.fault(number, found, expected, mend)
    return not bad.any()


def _without_noise(lines: Lines, ports: int) -> list[Row]:
    """The rows before the noise parameters, which version 1 begins where frequencies begin again, five numbers a line."""
    highest = -math.inf
    for i, row in enumerate(lines.rows if ports == 2 else []):
        first = row.numbers[0]
        if len(row.numbers) == NOISE and first <= highest:
            lines.noise += len(lines.rows) - i
            for other in lines.rows[i:]:
                if len(other.numbers) != NOISE:
                    mend = "Give every frequency its 9 numbers, or remove the noise parameters."
                    found = f"{_numbers(len(other.numbers))} among noise parameters"
                    lines.fault(other.line, found, f"{NOISE} numbers", mend)
            return lines.rows[:i]
        highest = first if len(row.numbers) in (NOISE, 9) else highest
    return lines.rows


def _joined(lines: Lines, rows: list[Row], width: int) -> list[Row]:
    """Rows of `width` numbers; those of one frequency may be spread over several lines, the next begins a new one."""
    points: list[Row] = []
    part: tuple[float, ...] = ()
    begun = 0
    for row in rows:
        if part and len(part) + len(row.numbers) > width:
            _miscounted(lines, begun, len(part), width)
            part = ()
        if not part:
            begun = row.line
        part = (*part, *row.numbers)
        if len(part) > width:
            _miscounted(lines, begun, len(part), width)
        elif len(part) == width:
            points.append(Row(begun, part))
        part = () if len(part) >= width else part
    if part:
        _miscounted(lines, begun, len(part), width)
    return points


def _miscounted(lines: Lines, line: int, count: int, width: int) -> None:
    ports = "a two-port" if width == 9 else "a one-port"
    mend = "Complete the line; if the file is of another number of ports, name it .s1p or .s2p accordingly."
    lines.fault(line, _numbers(count), f"{width} numbers for a frequency of {ports}", mend)


def _numbers(count: int) -> str:
    return f"{count} number" + ("s" if count > 1 else "")


def _check_frequencies(lines: Lines, points: list[Row]) -> None:
    unit = FREQUENCY_UNITS[lines.head.unit]
    before = -math.inf
    for point in points:
        frequency = point.numbers[0]
        if frequency < 0:
            lines.fault(point.line, f"the frequency {frequency:g}", "zero or more", "Correct it.")
        elif (
            frequency * unit <= before * unit
        ):  # in hertz, where two that are all but one may come out as one
            mend = "Sort the lines by frequency, and leave one of each."
            lines.fault(
                point.line, f"the frequency {frequency:g} behind {before:g}", "ascending frequencies", mend
            )
        before = frequency


def _check_announced(lines: Lines, count: int) -> None:
    if lines.head.announced and lines.head.announced[0] != count and not lines.faults:
        announced, line = lines.head.announced
        mend = "Correct the number, or see whether the file is whole."
        lines.fault(
            line, f"{announced} frequencies announced and {count} there", "as many as announced", mend
        )


def _complex(first: npt.NDArray[np.float64], second: npt.NDArray[np.float64], form: str) -> Complex:
    """Complex numbers of real and imaginary parts, of magnitudes and degrees, or of decibels and degrees."""
    if form == "ri":
        return np.asarray(first + 1j * second)
    with np.errstate(all="ignore"):
        size = 10 ** (first / 20) if form == "db" else first
        return np.asarray(size * np.exp(1j * np.deg2rad(second)))
