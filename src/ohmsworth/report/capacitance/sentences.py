"""The sentences about capacitances, the rows for cable.toml, and the method."""

from __future__ import annotations

import math

from ohmsworth.report.capacitance.answer import (
    CAPACITANCE,
    PATH,
    BreakAnswer,
    CapacitanceAnswer,
    WireCapacitance,
)
from ohmsworth.report.takes_budget import NOISE, SourceWords
from ohmsworth.report.tones_sentences import show_seconds
from ohmsworth.report.words import count, listed
from ohmsworth.units import show, show_interval, show_percent, show_pm, show_stated

#: A loss factor below this is that of a good insulation, and none is told of.
_LOSS_TOLD = 0.002
_CROSSTALK = SourceWords(
    "crosstalk between the inputs", "a smaller resistor, or inputs that hear less of each other"
)
#: Each source of the uncertainty of a capacitance; those that are told together have one name.
WORDS = {
    NOISE: SourceWords("noise, and what no model of a cable explains", "longer takes, or more level"),
    "resistor": SourceWords(
        "the resistor", "a resistor that is known better; it cancels where a break is located"
    ),
    "leads": SourceWords(
        "leads that move", "leads that are fixed, and the adapter on them in the open take too"
    ),
    "crosstalk in step": _CROSSTALK,
    "crosstalk a quarter off": _CROSSTALK,
    "crosstalk back in step": _CROSSTALK,
    "crosstalk back a quarter off": _CROSSTALK,
}


def wire_sentence(one: WireCapacitance) -> str:
    """What was found of a wire, in a sentence."""
    between = f"between {one.wire} and {one.to} from end {one.end}"
    if one.found == CAPACITANCE:
        return f"{farads(one)} {between}."
    if one.found == PATH:
        conducts = f"No open wire {between}: it conducts, {ohms(one)}."
        return f"{conducts} Measure such a short with a meter for resistance, from both ends."
    assert one.high is not None
    return (
        f"Too little to tell {between}: {show(max(one.high, 0.0), 'F', 2)} at most, beside what the input and the leads have "
        "themselves. The wire is open right at this end, or the leads are not on it."
    )


def farads(one: WireCapacitance) -> str:
    """``1.42 ± 0.03 nF``: half of the 95 % interval after the sign."""
    assert one.capacitance is not None
    assert one.low is not None
    assert one.high is not None
    return show_pm(one.capacitance, (one.high - one.low) / 2, "F")


def ohms(one: WireCapacitance) -> str:
    """The resistance of a path, or what it has at most."""
    assert one.resistance is not None
    assert one.resistance_low is not None
    assert one.resistance_high is not None
    if one.resistance_low <= 0:
        return f"{show(max(one.resistance_high, 0.0), 'Ω', 2)} at most"
    return show_pm(one.resistance, (one.resistance_high - one.resistance_low) / 2, "Ω")


def break_sentence(one: BreakAnswer) -> str:
    """Where a break lies, in a sentence."""
    share = f"{_percent(one.share)} ({_percent(one.low)} to {_percent(one.high)})"
    return f"The break of {one.wire} lies at {share} of the cable's length from end {one.near}."


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def locate_table(method: str, wire: str, near: str, readings: dict[str, tuple[float, float]]) -> str:
    """The table ``[[locate]]`` of cable.toml: readings by their names, each in farad with its standard uncertainty.

    What stands after ± is read as a rectangle (GUM 4.3.7), √3 standard uncertainties wide to either side.
    """
    lines = ["[[locate]]", f'method = "{method}"', f'wires = ["{quoted(wire)}"]', f'from = "{quoted(near)}"']
    for name, (value, uncertainty) in readings.items():
        number, unit = show_pm(value, math.sqrt(3) * uncertainty, "F").rsplit(" ", 1)
        reading, _, off = number.partition(" ± ")
        lines.append(f'{name} = "{reading} {unit} ± {off} {unit}"')
    return "\n".join(lines)


def quoted(text: str) -> str:
    """A text as TOML has it between quotation marks."""
    return text.replace("\\", "\\\\").replace('"', '\\"')


def capacitance_sentence(answer: CapacitanceAnswer) -> str:
    """The answer in a sentence."""
    if answer.breaks:
        return break_sentence(answer.breaks[0])
    if answer.wires:
        return wire_sentence(answer.wires[0])
    missing = [one.file for one in answer.recordings if not one.recorded]
    return (
        f"Connect the resistor of {show_stated(answer.resistor, 'Ω')} as drawn, and record {listed(missing)}."
    )


def capacitance_findings(answer: CapacitanceAnswer) -> tuple[str, ...]:
    """What stands beside the sentence."""
    told = [break_sentence(one) for one in answer.breaks] + [wire_sentence(one) for one in answer.wires]
    told = [words for words in told if words != answer.sentence]
    for one in answer.wires:
        if one.loss is not None and one.loss >= _LOSS_TOLD:
            told.append(
                f"The insulation of {one.wire} from end {one.end} has a loss factor of {one.loss:.2g}."
            )
    if answer.input_resistance is not None and answer.input_capacitance is not None:
        own = f"{show(answer.input_resistance, 'Ω', 2)} beside {show(answer.input_capacitance, 'F', 2)}"
        told.append(f"Input 2 and the leads have {own} themselves; that is taken off.")
    missing = [one.file for one in answer.recordings if not one.recorded]
    if missing and answer.wires:
        told.append(f"Not recorded: {listed(missing)}.")
    if not answer.wires:
        ends = show_interval(min(answer.tones), max(answer.tones), "Hz")
        length = show_seconds(answer.length)
        told.append(f"{count(len(answer.tones), 'tone')} from {ends}; each recording takes {length}.")
        told.append(f"The drive peaks at {show_percent(answer.level)} of full scale.")
    return tuple(told)


def capacitance_method(answer: CapacitanceAnswer) -> tuple[str, ...]:
    """How it was found."""
    return (
        (
            "Tones go through the known resistor into the wire. Input 1 hears them before the resistor, input 2 behind it; the "
            "ratio of both tells what the wire takes, by size and phase."
        ),
        "One take has both inputs at one place: what differs there is the inputs' own, and is taken off.",
        "The take with nothing connected tells what input and leads take themselves; that is taken off.",
        (
            f"The capacitance is told at {show_stated(answer.told_at, 'Hz')}, with a leak and a loss beside it as the tones show "
            "them."
        ),
        (
            "Half the width of the 95 % interval stands after ±. The resistor's tolerance is in it; in the rows for cable.toml "
            "it is not, since it is alike at both ends and cancels."
        ),
        "What the model leaves over of the tones widens the interval where it is more than noise.",
    )
