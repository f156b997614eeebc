"""Serial digital or analogue video on coaxial cable of 75 Ω."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from ohmsworth.consequence.circuit import Circuit, polynomials_of, wave_delay
from ohmsworth.consequence.rule import Compute, Curve, Kind, Position, Rule, level_change, rule_at, shares_of
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.cables import coaxial, screen_resistance
from ohmsworth.consequence.uses.reflection import band, worst_return_loss
from ohmsworth.consequence.uses.video_circuit import (
    BOTH,
    ONLY_CENTRE,
    ONLY_SCREEN,
    VIDEO_PATH,
    added_loss_curve,
    insertion_loss_curve,
    output_transfer,
    return_loss_curve,
    video_circuit,
)
from ohmsworth.consequence.uses.video_reach import reach, reach_lost
from ohmsworth.consequence.uses.video_settings import HIGHEST, VIDEO_SETTINGS, check_video
from ohmsworth.units import show_stated

#: Hertz at which analogue level is told: the upper end of the picture, where contacts and cable take most.
ANALOGUE = 5e6
_EVERYWHERE = (BOTH, ONLY_CENTRE, ONLY_SCREEN)
CAUTIONS = (
    (
        "Screens of equipment on different mains supplies can have a dangerous voltage between them: if a plug tingles or "
        "sparks, stop, and have a licensed electrician see to the earths."
    ),
    "Disconnect both ends before you open a connector: some cable carries power for a camera.",
)


def video_rules(use: Use) -> tuple[Rule, ...]:
    """What comes back, what is lost, how far it reaches, and hum on an analogue picture."""
    circuit = video_circuit(use)
    return (
        *_return_losses(use, circuit),
        *_losses(use, circuit),
        *_reaches(use),
        _analogue_level(use, circuit),
        _hum(use),
    )


def video_curves(use: Use) -> tuple[Curve, ...]:
    """Return loss, insertion loss, and what contacts add to it."""
    circuit = video_circuit(use)
    return (return_loss_curve(circuit), insertion_loss_curve(use, circuit), added_loss_curve(circuit))


def _return_losses(use: Use, circuit: Circuit) -> Iterator[Rule]:
    delay = wave_delay(coaxial(use)) * number(use, "length")
    low, middle, high = (number(use, key) for key in ("band_low", "band_middle", "band_high"))
    first, second = number(use, "limit_return_loss"), number(use, "limit_return_loss_high")
    lower, upper = band(low, middle, delay), band(middle, high, delay)
    # One solution serves both bands and all positions.
    transfer = output_transfer(circuit, np.concatenate((lower, upper)))
    for position in _EVERYWHERE:
        polynomials = polynomials_of(transfer, shares_of(circuit, position))
        compute = worst_return_loss(polynomials, slice(None, len(lower)))
        yield _return_loss("return_loss", (low, middle), position, compute, first, "ST292")
        if position is BOTH:
            compute = worst_return_loss(polynomials, slice(len(lower), None))
            yield _return_loss("return_loss_high", (middle, high), BOTH, compute, second, "ST424")


def _return_loss(
    key: str, ends: tuple[float, float], position: Position, compute: Compute, limit: float, source: str
) -> Rule:
    told = f"{show_stated(ends[0], 'Hz')} to {show_stated(ends[1], 'Hz')}"
    return Rule(
        key=key,
        words=f"worst return loss at the source, {told}",
        unit="dB",
        frequency=None,
        position=position,
        worse="lower",
        compute=compute,
        threshold=limit,
        passing=f"return loss between {told.replace(' to ', ' and ')} falls to {limit:g} dB",
        reason="what comes back falls on later bits and closes their eye; standards limit it for source and input",
        source=source,
    )


def _losses(use: Use, circuit: Circuit) -> Iterator[Rule]:
    half, limit = number(use, "clock") / 2, number(use, "limit_loss")
    curve, told = added_loss_curve(circuit), show_stated(half, "Hz")
    budget = number(use, "loss_budget")
    yield rule_at(
        insertion_loss_curve(use, circuit),
        half,
        BOTH,
        key="loss",
        words=f"loss of cable and contacts at half the clock, {told}",
        threshold=budget,
        passing=f"cable and contacts lose {budget:g} dB at {told}",
        reason="the standard expects about as much of an input; beyond what it can do the picture sparkles, then is gone",
        source="ST292",
    )
    for position in _EVERYWHERE:
        yield rule_at(
            curve,
            half,
            position,
            key="added_loss",
            words=f"loss added at half the clock, {told}",
            threshold=limit,
            passing=f"contacts add {limit:g} dB of loss at {told}",
            reason="inputs make up for a smooth loss of cable; half a decibel more is as much as a few metres of it",
        )


def _reaches(use: Use) -> Iterator[Rule]:
    budget, limit = number(use, "loss_budget"), number(use, "limit_reach")
    half = show_stated(number(use, "clock") / 2, "Hz")
    yield _reach(
        use,
        "reach_lost",
        f"reach lost, for a loss of {budget:g} dB at {half}",
        reach_lost(use, BOTH),
        limit,
        f"contacts take {show_stated(limit, 'm')} of the reach",
        "a metre less is what a shop may be asked about; the inputs and cables themselves differ by far more",
    )
    yield _reach(
        use,
        "reach",
        f"reach, at which {budget:g} dB are lost at {half}",
        reach(use, BOTH),
        None,
        "",
        "for information: how far the cable carries the signal with these contacts",
    )


def _reach(
    use: Use, key: str, words: str, compute: Compute, limit: float | None, passing: str, reason: str
) -> Rule:
    return Rule(
        key=key,
        words=words,
        unit="m",
        frequency=number(use, "clock") / 2,
        position=BOTH,
        worse="lower" if key == "reach" else "higher",
        compute=compute,
        threshold=limit,
        passing=passing,
        reason=reason,
        source="practice" if limit is not None else "ST292",
    )


def _analogue_level(use: Use, circuit: Circuit) -> Rule:
    limit, told = number(use, "limit_level"), show_stated(ANALOGUE, "Hz")
    curve = replace(added_loss_curve(circuit), show=level_change, worse="lower")
    return rule_at(
        curve,
        ANALOGUE,
        BOTH,
        key="level",
        words=f"change of analogue level at {told}",
        threshold=-limit,
        passing=f"analogue level at {told} falls by {limit:g} dB",
        reason="a tenth of a decibel, one per cent, shows on a waveform monitor, and is below what is seen",
    )


def _hum(use: Use) -> Rule:
    """Hum that a current in the screen leaves on the picture: Ue Rs/(Rs + Re) Zl/(Zl + Zs), peak to peak."""
    volts = 2 * np.sqrt(2) * number(use, "earth_volts")
    source, load = number(use, "source_impedance"), number(use, "load_impedance")
    own, earth = screen_resistance(use) * number(use, "length"), number(use, "earth_resistance")
    contacts = number(use, "contacts_near") + number(use, "contacts_far")
    limit, mains = number(use, "limit_hum_volts"), number(use, "mains_frequency")

    def compute(resistance: Array) -> Array:
        screen = own + contacts * np.asarray(resistance, dtype=float)
        return np.asarray(volts * screen / (screen + earth) * load / (source + load))

    return Rule(
        key="hum",
        words=f"hum on an analogue picture at {mains:g} Hz, peak to peak",
        unit="V",
        frequency=mains,
        position=ONLY_SCREEN,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"hum on an analogue picture reaches {show_stated(limit, 'V')} peak to peak",
        reason="a half per cent of a picture's 0.7 V begins to show as a bar that moves up or down",
        source="practice",
    )


VIDEO = Kind(
    "video",
    VIDEO_SETTINGS,
    check_video,
    video_rules,
    video_curves,
    CAUTIONS,
    HIGHEST,
    cable="coax",
    path=VIDEO_PATH,
)
