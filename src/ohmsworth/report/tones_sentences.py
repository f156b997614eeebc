"""What is said of a plan of tones, in sentences."""

from __future__ import annotations

import math

from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.report.tones_answer import TonesAnswer
from ohmsworth.report.words import count
from ohmsworth.units import show, show_stated

#: Values that resistors are sold with, in a decade.
_SOLD = (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)
#: Power in watt from which the shunt is taken to drift while it is measured with, and a small resistor in series to be too small.
WARM, SMALL = 0.05, 0.1
#: A wave that reads as more than this share of an input's full scale is as good as clipped.
NEARLY_FULL = 0.9


def tones_sentence(answer: TonesAnswer) -> str:
    """What is played and what noise will leave, in one sentence."""
    first, last = answer.tones[0].frequency, answer.tones[-1].frequency
    span = (
        f" from {show(first, 'Hz')} to {show(last, 'Hz')}"
        if len(answer.tones) > 1
        else f" of {show(first, 'Hz')}"
    )
    way = (
        "" if len(answer.tones) == 1 else " together" if answer.way == "together" else " one after the other"
    )
    takes = count(len(answer.recordings), "recording")
    return (
        f"{count(len(answer.tones), 'tone')}{span}{way}, {show(answer.level.current, 'A')} at most through the contact: "
        f"with {takes} of {show_seconds(answer.length)} each, noise leaves a standard uncertainty of "
        f"{show(answer.standard_uncertainty, 'Ω', 2)} or less at every tone."
    )


def show_seconds(seconds: float) -> str:
    """A length of time as it is told at a bench.

    Examples
    --------
    >>> show_seconds(75.5), show_seconds(200.0), show_seconds(0.25)
    ('76 s', '3 min 20 s', '0.25 s')
    """
    if seconds < 10:
        return f"{seconds:.2g} s"
    whole = round(seconds)
    return f"{whole} s" if whole < 100 else f"{whole // 60} min {whole % 60} s"


def dry_sentence(answer: TonesAnswer) -> str:
    """Whether it is a dry circuit, and what would make it one."""
    level = answer.level
    seen = f"an open contact sees {show(level.open_circuit_voltage, 'V')} and a closed one {show(level.current, 'A')}"
    allowed = f"{show_stated(DRY_VOLTAGE, 'V')} and {show_stated(DRY_CURRENT, 'A')}"
    if level.dry_circuit:
        return f"Dry circuit: {seen} at most; {allowed} are allowed."
    told = f"Not a dry circuit: {seen}; {allowed} are allowed. A film may be broken through."
    if level.current > DRY_CURRENT:
        return f"{told} Less current makes it one."
    if level.bridge_for_dry is None:
        return f"{told} No bridge makes it one with this current: take a smaller shunt, or less current."
    return (
        f"{told} A bridge of {show(level.bridge_for_dry, 'Ω', 2)} or less across shunt and contact makes it one, "
        f"such as {show_stated(sold_below(level.bridge_for_dry), 'Ω')}; it takes more from the output."
    )


def sold_below(ohm: float) -> float:
    """The largest value that resistors are sold with and that is not above `ohm`.

    Examples
    --------
    >>> sold_below(0.9071), sold_below(12.0), sold_below(0.99)
    (0.82, 12.0, 0.82)
    """
    decade = 10.0 ** math.floor(math.log10(ohm * (1 + 1e-9)))
    best = max(value for value in _SOLD if value * decade <= ohm * (1 + 1e-9))
    return float(f"{best * decade:.3g}")


def tones_findings(answer: TonesAnswer, inputs: tuple[float, float] | None) -> tuple[str, ...]:
    """What is worth knowing before anything is recorded."""
    return (
        dry_sentence(answer),
        *_enough(answer),
        *_lasting(answer),
        *_in_turn(answer),
        *_heat(answer),
        *_clipped(answer, inputs),
    )


def _enough(answer: TonesAnswer) -> tuple[str, ...]:
    wished = answer.wished_uncertainty
    if wished is None or answer.seconds_enough is None or answer.current_enough is None:
        return ()
    told = (
        f"Noise may leave {show_stated(wished, 'Ω')}, and leaves {show(answer.standard_uncertainty, 'Ω', 2)}"
    )
    if answer.standard_uncertainty <= wished:
        return (f"{told}: tones of {show_seconds(answer.seconds_enough)} in each take would do.",)
    return (
        (
            f"{told}: it takes tones of {show_seconds(answer.seconds_enough)} in each take, "
            f"or {show(answer.current_enough, 'A', 2)} through the contact."
        ),
    )


def _lasting(answer: TonesAnswer) -> tuple[str, ...]:
    if answer.lasting_uncertainty <= answer.standard_uncertainty:
        return ()
    turned = any(one.turned for one in answer.recordings)
    what = "tolerance of the shunt leaves" if turned else "tolerance of the shunt and crosstalk leave"
    told = (
        f"However long it takes, the {what} a standard uncertainty of {show(answer.lasting_uncertainty, 'Ω', 2)}, much "
        "alike at all tones; what changes from tone to tone or from contact to contact is told finer than that."
    )
    return (told,)


def _in_turn(answer: TonesAnswer) -> tuple[str, ...]:
    other = answer.in_turn_uncertainty
    if other is None or other > 0.8 * answer.standard_uncertainty:
        return ()
    told = (
        'One after the other (way = "in turn") the tones could each have the whole peak: noise would leave '
        f"{show(other, 'Ω', 2)} in the same time. Together they show at once whether the contact is still, and what it "
        "distorts."
    )
    return (told,)


def _heat(answer: TonesAnswer) -> tuple[str, ...]:
    series, shunt = answer.level.series_power, answer.level.shunt_power
    told = []
    if series > SMALL:
        told.append(
            f"The series resistor takes {show(series, 'W', 2)} during the level check: use one for "
            f"{show(2 * series, 'W', 1)} or more."
        )
    if shunt > WARM:
        told.append(
            f"The shunt takes {show(shunt, 'W', 2)} and drifts as it warms: use one for ten times that, or less current."
        )
    return tuple(told)


def _clipped(answer: TonesAnswer, inputs: tuple[float, float] | None) -> tuple[str, ...]:
    most = max(answer.level.shunt_voltage, answer.level.contact_voltage)
    if inputs is None or most <= NEARLY_FULL * min(inputs):
        return ()
    return (
        f"An input meets {show(most, 'V')}, and reads {show_stated(min(inputs), 'V')} as full scale: turn both gains down.",
    )


def tones_method() -> tuple[str, ...]:
    """How the tones are made and what the promise rests on."""
    return (
        "Every tone has an odd number of cycles in a period: no distortion of even order falls on a tone.",
        "No tone is a third-order product of others, and all keep 3 Hz from the harmonics of 50 and 60 Hz.",
        "Phases of a low peak: Schroeder's, or the best of some others, improved by clipping and restoring.",
        "Tones far apart meet in nearly every way: their peak stays at 3.5 to 4 times the root mean square.",
        "R is the shunt's resistance times the ratio of both inputs.",
        "Exchanging the inputs takes their gains and phases out of the ratio.",
        "Exchanging the contact's sense leads takes out what reaches its input by another way.",
        "The uncertainty from white noise of density e: e √(1 + (R/shunt)²)/(I √(time × recordings)).",
        "A dry circuit has at most 20 mV on the open contact and 100 mA through the closed one.",
    )
