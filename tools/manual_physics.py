"""What the manual takes from the program about contact spots and platings."""

from __future__ import annotations

import math
from collections.abc import Callable

from tools.manual_words import table

from ohmsworth import materials as m
from ohmsworth.advice import cautions
from ohmsworth.materials.hardness import PASCAL_OF_NUMBER
from ohmsworth.sources import SOURCES
from ohmsworth.units import show, show_interval, show_stated

_DAY = 86400.0
_TIMES = {
    "30 days": 30 * _DAY,
    "6 months": 182.6 * _DAY,
    "1 year": 365.25 * _DAY,
    "5 years": 5 * 365.25 * _DAY,
}
_TRACK = {"force": 1.0, "path": 6e-3, "area": 3e-7}
_WORN = (
    ("gold", 0.25e-6),
    ("gold", 0.76e-6),
    ("gold", 1.27e-6),
    ("silver", 3e-6),
    ("tin", 5e-6),
    ("nickel", 3e-6),
)
#: Ratio to the signal below which no figure helps: far beneath any noise.
_NOTHING = 1e-8
# What, volts at the peak of the signal, ohm of the loop, ohm of film.
_LOOPS = (
    ("microphone", 10e-3, 1650.0, 1.0),
    ("line at +4 dBu", 1.737, 1e4, 3e-3),
    ("line at +4 dBu", 1.737, 1e4, 1.0),
    ("headphone", 0.5, 32.0, 1.0),
    ("loudspeaker", 10.0, 8.0, 3e-3),
    ("loudspeaker", 10.0, 8.0, 0.1),
)


def _plain(span: m.Span | None, factor: float = 1.0) -> str:
    if span is None:
        return "–"
    low, high = (f"{end / factor:.3g}" for end in (span.low, span.high))
    return low if low == high else f"{low} to {high}"


def _shown(span: m.Span | None, unit: str) -> str:
    if span is None:
        return "not known"
    if span.low == span.high:
        return show(span.low, unit, 2)
    if span.low == 0 and math.isinf(span.high):
        return "no range known"
    return f"up to {show(span.high, unit, 2)}" if span.low == 0 else show_interval(span.low, span.high, unit)


def _cited(key: str) -> str:
    return f"{key}, from memory" if SOURCES[key].standing == "memory" else key


def _said(statements: tuple[m.Statement, ...]) -> str:
    return "\n".join(f"- {one.words} ({_cited(one.source)})" for one in statements)


def plating_ranges() -> str:
    """Numbers of every plating and base metal."""
    rows = [
        (
            name,
            _plain(facts.resistivity, 1e-8),
            _plain(m.HARDNESS[name].pressure, PASCAL_OF_NUMBER),
            _plain(facts.thickness, 1e-6),
            _plain(facts.force),
            _plain(m.ANODIC_INDEX[name]),
        )
        for name, facts in m.PLATING_FACTS.items()
    ]
    header = ("metal", "resistivity, 1e-8 Ω·m", "hardness, HV or HK", "usual thickness, µm", "usual force, N")
    return table((*header, "anodic index, V"), rows)


def plating_facts() -> str:
    """What every plating and base metal is good and bad at."""
    parts = []
    for facts in m.PLATING_FACTS.values():
        groups = (("good", facts.good), ("bad", facts.bad), ("to know", facts.notes))
        rows = [(kind, one.topic, one.words, _cited(one.source)) for kind, group in groups for one in group]
        parts.append(f"### {facts.name.capitalize()}\n\n" + table(("", "about", "what", "source"), rows))
    return "\n\n".join(parts)


def galvanic_pairs() -> str:
    """How the finishes get on with every metal."""
    finishes = [name for name, facts in m.PLATING_FACTS.items() if not facts.base]
    rows = [(other, *(_pair(m.pairing(name, other)) for name in finishes)) for other in m.ANODIC_INDEX]
    return table(("against", *finishes), rows)


def _pair(found: m.Pairing) -> str:
    if found.difference.high == 0:
        return "alike"
    places = {0: "nowhere", 1: "dry rooms", 2: "indoors", 3: "anywhere"}[len(found.places)]
    return f"{_plain(found.difference)} V: {places}"


def clean_contacts() -> str:
    """Clean contacts against force."""
    forces = (0.3, 1.0, 3.0, 10.0)
    rows = [(name, *(_shown(m.clean_resistance(name, f), "Ω") for f in forces)) for name in m.PLATINGS]
    return table(("both members", *(f"{force:g} N" for force in forces)), rows)


def spot_heat() -> str:
    """At which voltage and current spots soften and melt, and how hot they are below."""
    rows = []
    for name in m.PLATINGS:
        told = [m.spot_state(name, volts) for volts in (0.02, 0.05)]
        rise = [f"{state.temperature - 293.15:.0f} K" if state.temperature else "–" for state in told]
        melting = f"{told[0].melting.low:.2f} to {told[0].melting.high:.2f} V"
        current = show(told[0].softening / 3e-3, "A", 2)
        rows.append((name, show_stated(told[0].softening, "V"), melting, current, *rise))
    header = ("metal", "softens at", "melts at (table and formula)", "softens with 3 mΩ at")
    return table((*header, "warmer by, at 20 mV", "at 50 mV"), rows)


def tarnish_growth() -> str:
    """Films by class of air and time."""
    rows = [
        (
            metal,
            f"{air.name} ({air.words})",
            *(_shown(m.tarnish(metal, air.name, t).thickness, "m") for t in _TIMES.values()),
        )
        for metal in ("silver", "copper")
        for air in m.ENVIRONMENTS.values()
    ]
    return table(("bare metal", "air", *_TIMES), rows)


def tarnish_resistance() -> str:
    """What the films on silver add unwiped, at low force."""
    rows = [
        (
            f"{air.name} ({air.words})",
            *(_shown(m.tarnish("silver", air.name, t).unwiped, "Ω") for t in _TIMES.values()),
        )
        for air in m.ENVIRONMENTS.values()
    ]
    return table(("air", *_TIMES), rows)


def tarnish_observed() -> str:
    """Films that were measured, beside what the classes give for them."""
    rows = []
    for one in m.OBSERVATIONS:
        ranges = [_shown(m.tarnish("silver", air, one.time).thickness, "m") for air in ("G1", "G2")]
        added = "not measured" if one.added is None else _shown(one.added, "Ω")
        rows.append(
            (
                one.words,
                f"{one.time / _DAY:.0f} days",
                show(one.thickness, "m", 2),
                *ranges,
                added,
                one.source,
            )
        )
    return table(("where", "time", "measured", "range of G1", "range of G2", "adds", "source"), rows)


def film_breakdown() -> str:
    """Voltage at which films break down."""
    rows = []
    for thickness in (1e-9, 5e-9, 20e-9, 50e-9, 200e-9):
        film = m.fritting(thickness)
        rows.append(
            (show(thickness, "m", 2), _shown(film.voltage, "V"), "yes" if film.dry_is_below else "no")
        )
    return table(("film", "breaks down at", "20 mV stay below"), rows)


def wear_lives() -> str:
    """Matings until a plating is through."""
    rows = [
        (f"{name}, {show(thickness, 'm', 2)}", *(_lives(name, thickness, way) for way in m.SLIDING))
        for name, thickness in _WORN
    ]
    force, half, width = _TRACK["force"], _TRACK["path"] / 2, _TRACK["area"] / (_TRACK["path"] / 2)
    told = (
        f"For a force of {show_stated(force, 'N')}, {show_stated(half, 'm')} in and as much out, on a track of that "
        f"length that is {show_stated(width, 'm')} wide:"
    )
    header = ("plating", *(f"{way.name}: {way.words}" for way in m.SLIDING.values()))
    return f"{told}\n\n{table(header, rows)}"


def _lives(name: str, thickness: float, way: str) -> str:
    life = m.wear_life(name, thickness, sliding=way, **_TRACK).matings
    low, high = (f"{float(f'{end:.1g}'):,.0f}".replace(",", " ") for end in (life.low, life.high))
    return f"{low if life.low >= 1 else 'less than 1'} to {high}"


def film_distortions() -> str:
    """Third harmonic that films put on signals."""
    rows = []
    for words, volts, impedance, resistance in _LOOPS:
        found = m.film_distortion(resistance, volts / impedance, impedance)
        loop = (show_stated(resistance, "Ω"), f"{show(volts, 'V', 2)} in {show_stated(impedance, 'Ω')}")
        rows.append(
            (words, *loop, show(found.voltage, "V", 2), _decibels(found.signal), _decibel(found.ceiling))
        )
    told = f"With $V_0$ from {show_interval(m.FILM_VOLTAGE.low, m.FILM_VOLTAGE.high, 'V')} (source: film-memory):"
    header = ("what", "film", "peak, loop", "across the film", "third harmonic", "no distortion is more than")
    return f"{told}\n\n{table(header, rows)}"


def _decibel(ratio: float) -> str:
    return f"{20 * math.log10(ratio):.0f} dB".replace("-", "−")


def _decibels(span: m.Span) -> str:
    if span.high < _NOTHING:
        return f"below {_decibel(_NOTHING)}"
    return (
        f"{_decibel(span.low).removesuffix(' dB')} to {_decibel(span.high)}"
        if span.low
        else f"at most {_decibel(span.high)}"
    )


def contact_facts(name: str) -> str:
    """Statements on one subject."""
    return _said({"tarnish": m.TARNISH_FACTS, "wear": m.WEAR_FACTS, "fritting": m.FRITTING_FACTS}[name])


def contact_cautions(name: str) -> str:
    """Cautions that belong to one kind of work on contacts."""
    if name == "heat":
        return f"- {cautions.HIGH_CURRENT}\n- {cautions.UNPOWERED}"
    safety = [
        f"- {facts.name.capitalize()}: {one.words[0].lower()}{one.words[1:]} ({_cited(one.source)})"
        for facts in m.PLATING_FACTS.values()
        for one in facts.notes
        if one.topic == "safety"
    ]
    return "\n".join([f"- {cautions.UNPOWERED}", f"- {cautions.CLEANER}", *safety])


PHYSICS_PARTS: dict[str, Callable[..., str]] = {
    "plating-ranges": plating_ranges,
    "plating-facts": plating_facts,
    "galvanic-pairs": galvanic_pairs,
    "clean-contacts": clean_contacts,
    "spot-heat": spot_heat,
    "tarnish-growth": tarnish_growth,
    "tarnish-resistance": tarnish_resistance,
    "tarnish-observed": tarnish_observed,
    "film-breakdown": film_breakdown,
    "wear-lives": wear_lives,
    "film-distortions": film_distortions,
    "contact-facts": contact_facts,
    "contact-cautions": contact_cautions,
}
