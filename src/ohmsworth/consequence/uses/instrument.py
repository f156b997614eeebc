"""An instrument with a passive pickup: what contacts do to its level, its resonance, hum and noise."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.integrate import simpson

from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Compute, Curve, Kind, Rule, curve_at, decibels, rule_at
from ohmsworth.consequence.use import Array, Use, number
from ohmsworth.consequence.uses.audio_rules import against, level_curve, level_rule, treble_rule
from ohmsworth.consequence.uses.audio_settings import check_line
from ohmsworth.consequence.uses.instrument_circuit import (
    BOTH,
    HOT_CONTACTS,
    RETURN_CONTACTS,
    back_transfer,
    instrument_circuit,
    mains_transfer,
    string_transfer,
)
from ohmsworth.consequence.uses.instrument_settings import INSTRUMENT_SETTINGS
from ohmsworth.consequence.uses.peak import peak_finder
from ohmsworth.materials import BOLTZMANN

#: Hertz where brightness is told, and between which curves are drawn.
BRIGHT = 5e3
LOWEST, HIGHEST = 20.0, 20e3
#: Hertz among which the resonance is sought, close enough for its frequency to be right within 0.02 %.
RESONANCE_PLACES = np.geomspace(100.0, 30e3, 90)
_find = peak_finder(np.log(RESONANCE_PLACES))
#: Places over the three decades below the bandwidth in which noise is summed up.
_NOISE_PLACES = 61


def instrument_curves(use: Use) -> tuple[Curve, ...]:
    """Response, change of level, and hum as if the mains had its voltage at every frequency."""
    change = _change_curve(use)
    return (_response_curve(change), change, _hum_curve(use, change))


def instrument_rules(use: Use) -> tuple[Rule, ...]:
    """The rules of an instrument, in the order in which people ask."""
    change = _change_curve(use)
    limit, bright = number(use, "limit_level"), number(use, "limit_brightness")
    soft = "half a decibel is less than the spread of pickups and controls, and hardly heard"
    dull = "a decibel of brightness is heard by an attentive player side by side"
    return (
        *(level_rule(change, position, limit, soft) for position in (HOT_CONTACTS, RETURN_CONTACTS, BOTH)),
        treble_rule(change, BOTH, BRIGHT, bright, dull),
        *_resonance(use, _response_curve(change)),
        _hum(use, _hum_curve(use, change)),
        *_noise(use, change),
    )


def _change_curve(use: Use) -> Curve:
    circuit = instrument_circuit(use)
    return level_curve(
        circuit, BOTH, (LOWEST, HIGHEST), lambda frequency: string_transfer(circuit, frequency)
    )


def _response_curve(change: Curve) -> Curve:
    return replace(
        change, key="response", words="response: level at the input against the string's", show=_decibel
    )


def _decibel(y: Complex, ideal: Complex) -> Array:
    del ideal
    return decibels(np.abs(y))


def _hum_curve(use: Use, change: Curve) -> Curve:
    level, own, volts = number(use, "playing_level"), number(use, "own_hum"), number(use, "mains_voltage")
    return replace(
        change,
        key="hum",
        words="hum against the playing level, if the mains had its voltage at all frequencies",
        position=RETURN_CONTACTS,
        solve=lambda frequency: mains_transfer(change.circuit, frequency),
        show=lambda y, _ideal: against(volts * y, level, own),
        worse="higher",
    )


def _resonance(use: Use, response: Curve) -> tuple[Rule, Rule]:
    """How far the resonance moves, and how much lower it gets above the level at 100 Hz."""
    shown = curve_at(response, RESONANCE_PLACES, BOTH)
    limit, shift = number(use, "limit_peak"), number(use, "limit_shift")

    def place(ohm: Array) -> Array:
        return _find(shown(ohm))[0]

    def height(ohm: Array) -> Array:
        found = shown(ohm)
        return np.asarray(_find(found)[1] - found[..., 0])

    none = np.zeros(())
    place_of_ideal, height_of_ideal = place(none), height(none)
    lower = Rule(
        key="resonance_height",
        words="change of height of the resonance, above the level at 100 Hz",
        unit="dB",
        frequency=None,
        position=BOTH,
        worse="lower",
        compute=lambda ohm: np.asarray(height(ohm) - height_of_ideal),
        threshold=-limit,
        passing=f"the resonance gets {limit:g} dB lower",
        reason="a decibel less at the resonance is heard as duller by an attentive player side by side",
        source="practice",
    )
    moved = replace(
        lower,
        key="resonance_shift",
        words="how far the resonance moves",
        unit="%",
        worse="higher",
        compute=lambda ohm: np.asarray(100 * np.abs(np.expm1(place(ohm) - place_of_ideal))),
        threshold=100 * shift,
        passing=f"the resonance moves by {100 * shift:g} %",
        reason="5 % is what a tenth more of capacitance does: another cable of like length moves it as far",
    )
    return moved, lower


def _hum(use: Use, curve: Curve) -> Rule:
    mains, limit = number(use, "mains_frequency"), number(use, "limit_hum")
    return rule_at(
        curve,
        mains,
        RETURN_CONTACTS,
        key="hum",
        words=f"hum at {mains:g} Hz against the playing level",
        threshold=-limit,
        passing=f"hum at {mains:g} Hz comes up to {limit:g} dB below the playing level",
        reason="pickups hum too, and about 60 dB below the playing hum begins to be heard in its pauses",
    )


def _noise(use: Use, change: Curve) -> tuple[Rule, Rule]:
    """Rise of noise, and the thermal noise that it stands beside."""
    limit, own = number(use, "limit_noise"), number(use, "input_noise")
    squared = _thermal_square(use, change)
    ideal = squared(np.zeros(())) + own**2
    rise = Rule(
        key="noise",
        words="rise of noise",
        unit="dB",
        frequency=None,
        position=BOTH,
        worse="higher",
        compute=lambda ohm: np.asarray(10 * np.log10((squared(ohm) + own**2) / ideal)),
        threshold=limit,
        passing=f"noise rises by {limit:g} dB",
        reason="half a decibel is the smallest rise of noise that a listener may tell",
        source="practice",
    )
    thermal = replace(
        rise,
        key="thermal_noise",
        words="thermal noise at the input, of pickup, controls, contacts and input together",
        unit="V",
        compute=lambda ohm: np.sqrt(squared(ohm)),
        threshold=None,
        passing="",
        reason="for comparison with what the contacts add",
        source="Johnson-Nyquist",
    )
    return rise, thermal


def _thermal_square(use: Use, change: Curve) -> Compute:
    """4kT ∫ Re Z df in volts squared, of all that is joined to the input.

    A circuit without sources of its own makes the noise of its impedance's real part, whatever it consists of. Source:
    "Johnson-Nyquist".
    """
    highest = number(use, "bandwidth")
    frequency = np.geomspace(highest / 1e3, highest, _NOISE_PLACES)
    impedance = replace(
        change,
        solve=lambda places: back_transfer(change.circuit, places),
        show=lambda y, _ideal: np.asarray(y.real),
    )
    real = curve_at(impedance, frequency, BOTH)
    factor = 4 * BOLTZMANN * number(use, "temperature")

    def squared(ohm: Array) -> Array:
        found = real(ohm)
        # Over the logarithm of frequency, and flat below its first place.
        above = simpson(found * frequency, x=np.log(frequency), axis=-1)
        return np.asarray(factor * (found[..., 0] * frequency[0] + above))

    return squared


CAUTIONS = (
    (
        "The sleeve contacts are what earths the strings: an amplifier without a sound protective earth can make them live. "
        "Never take off a protective earth to stop hum."
    ),
    "A tingle from strings or microphone is a fault: stop playing, unplug, and have a licensed electrician look at it.",
    "Turn the amplifier down before a plug goes in or out: an open sleeve hums at full level.",
)

INSTRUMENT = Kind(
    "instrument",
    INSTRUMENT_SETTINGS,
    check_line,
    instrument_rules,
    instrument_curves,
    CAUTIONS,
    cable="coax",
    path=Path(Port("wiper", "return"), Port("input", "0"), 50.0, {"string": 1.0}),
)
