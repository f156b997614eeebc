"""Single things about a cable in words: contacts in short, faults, wires that stand out, places."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import groupby

from ohmsworth.cables.build import Place
from ohmsworth.cables.shared import SharedCause
from ohmsworth.cables.wiring import SHELL, WiringFault
from ohmsworth.materials.conductors import COPPER_ALPHA20, temperature_factor
from ohmsworth.report.cable_answer import PlaceAnswer, RecordedTestAnswer, StandsOutAnswer
from ohmsworth.report.words import capital, count, estimate, listed
from ohmsworth.units import decimals_for, show, show_stated


def length_words(length: float, tolerance: float) -> str:
    """How long a cable is (m), with its tolerance where one is stated.

    Examples
    --------
    >>> length_words(25.0, 0.1), length_words(25.0, 0.0)
    ('25 m ± 100 mm', '25 m')
    """
    return (
        f"{show_stated(length, 'm')} ± {show_stated(tolerance, 'm')}"
        if tolerance
        else show_stated(length, "m")
    )


def places_in_short(places: Iterable[str]) -> str:
    """Contacts with runs of three or more told by their ends: ``A:1–4, A:7; B:shell``.

    Examples
    --------
    >>> places_in_short(["A:1", "A:2", "A:3", "A:7", "B:shell"])
    'A:1–3, 7; B:shell'
    """
    ends: dict[str, list[str]] = {}
    for text in places:
        end, _, contact = text.partition(":")
        ends.setdefault(end, []).append(contact)
    return "; ".join(f"{end}:{', '.join(_runs(contacts))}" for end, contacts in ends.items())


def _runs(contacts: Sequence[str]) -> list[str]:
    """Contacts of one end; those that count up in their last number as runs."""
    told: list[str] = []
    numbered = [(*_last_number(contact), contact, place) for place, contact in enumerate(contacts)]
    for _, members in groupby(
        numbered, key=lambda one: (one[0], None if one[1] is None else one[1] - one[3])
    ):
        run = [one[2] for one in members]
        told += [f"{run[0]}–{_last_number(run[-1])[1]}"] if len(run) > 2 else run
    return told


def _last_number(contact: str) -> tuple[str, int | None]:
    digits = len(contact) - len(contact.rstrip("0123456789"))
    head, tail = contact[: len(contact) - digits], contact[len(contact) - digits :]
    return (head, int(tail)) if tail and tail.isascii() else (contact, None)


def recorded_found(one: RecordedTestAnswer) -> str:
    """What a test made with other equipment found."""
    told = [] if one.resistance is None else [show_stated(one.resistance, "Ω")]
    if one.held is not None:
        told.append("held" if one.held else "did not hold")
    return ", ".join(told)


def recorded_words(one: RecordedTestAnswer) -> str:
    """The same in a sentence, with what was asked and who told it."""
    at = f" at {show_stated(one.voltage, 'V')}" if one.voltage is not None else ""
    between = f" between {one.between}" if one.between else ""
    asked = f", where at least {show_stated(one.at_least, 'Ω')} is asked" if one.at_least is not None else ""
    who = (("by", one.by), ("with the", one.instrument), ("on", one.on))
    told = "".join(f" {word} {text}" for word, text in who if text)
    recorded = f"Recorded{told}, not measured with this program."
    return f"{capital(one.test)}{at}{between}: {recorded_found(one)}{asked}. {recorded}"


def fault_words(fault: WiringFault) -> str:
    """A wiring fault as a person would tell it."""
    wires, places = list(fault.wires), [str(place) for place in fault.places]
    if fault.kind == "open":
        return f"{capital(wires[0])} does not reach from {places[0]} to {places[1]}."
    if fault.kind == "screen open":
        return f"{_screen(wires)} does not reach from {places[0]} to {places[1]}."
    if fault.kind == "screen on shell":
        shell = next((str(place) for place in fault.places if place.contact == SHELL), places[-1])
        return f"{_screen(wires)} touches the shell at {shell}."
    if fault.kind == "crossed":
        return f"{capital(listed(wires))} are exchanged at one end."
    if fault.kind == "reversed pair":
        return f"A pair is reversed: {listed(wires)} are exchanged at one end."
    if fault.kind == "moved":
        return f"{capital(listed(wires))} are on each other's contacts at one end, moved round in a ring."
    if len(wires) > 1:
        shells = (
            [place for place in places if place.endswith(f":{SHELL}")] if len(wires) < len(places) else []
        )
        return f"{capital(listed([*wires, *shells]))} touch."
    return f"{capital(listed(wires)) if wires else 'Something'} touches what it should not: {listed(places)} are joined."


def _screen(wires: list[str]) -> str:
    """A screen by its name, and what it is where the name does not say so."""
    name = listed(wires)
    return capital(name) if "screen" in name.lower() else f"The screen {name}"


def link_words(link: tuple[Place, Place]) -> str:
    """A link at which no path was found."""
    return f"The link between {link[0]} and {link[1]} is missing."


def poor_link_words(link: tuple[Place, Place], ohm: float, most: float) -> str:
    """A link that reads more than a sound one."""
    return (
        f"The link between {link[0]} and {link[1]} has {show(ohm, 'Ω')}, where a sound one has {show(most, 'Ω', 2)} at most: "
        "it is missing or bad."
    )


def shared_words(shared: SharedCause, length: float, temperature: float) -> str:
    """What wires outside of their bounds have in common, and what would make it so; metre and kelvin as described."""
    who = f"{'All' if len(shared.wires) == shared.read else f'{len(shared.wires)} of'} {count(shared.read, 'wire')}"
    told = []
    if shared.factor is not None:
        told.append(
            f"have about {_times(shared.factor)} times what they should. {_factor_words(shared.factor, length, temperature)}"
        )
    if shared.offset is not None:
        size, offset = ("much", shared.offset) if shared.offset > 0 else ("little", -shared.offset)
        why = (
            "leads that were not taken off, or a meter that was not nulled, would make it so."
            if shared.offset > 0
            else "leads that were taken off although they are not in the reading would make it so."
        )
        told.append(f"have about {show(offset, 'Ω', 2)} too {size}: {why}")
    return f"{who} {' Or they '.join(told)} That is hardly a fault of each wire."


#: Copper-clad aluminium beside copper, from its cores of least copper to those of most (source "practice").
_CLAD = (1.3, 1.8)
#: A factor as near to a power of ten as this is a slip of unit or decimal mark.
_NEAR_TEN = 1.25
#: Temperatures that a cable on a bench may have, kelvin.
_BENCH = (263.0, 353.0)


def _times(factor: float) -> str:
    """A factor in three digits, never as a power of ten."""
    return f"{factor:.{max(decimals_for(factor, 3), 0)}f}"


def _factor_words(factor: float, length: float, temperature: float) -> str:
    """What multiplies every conductor's resistance by `factor`."""
    power = round(math.log10(factor))
    if power and 1 / _NEAR_TEN < factor / 10.0**power < _NEAR_TEN:
        return "A slipped unit or decimal mark would make it so, of the readings or of the length in the description."
    told = [f"a length of {show(length * factor, 'm')} rather than {show_stated(length, 'm')}"]
    warm = temperature + (factor - 1) * temperature_factor(temperature) / COPPER_ALPHA20
    if _BENCH[0] <= warm <= _BENCH[1]:
        told.append(f"copper at {warm - 273.15:.0f} °C".replace("-", "−"))
    told.append(
        "copper-clad aluminium in place of copper" if _CLAD[0] < factor < _CLAD[1] else "another conductor"
    )
    return f"{capital(' or '.join([', '.join(told[:-1]), told[-1]]))} would make it so."


def stands_out_words(one: StandsOutAnswer) -> str:
    """A wire beside its fellows, and where to look."""
    if one.excess > 0:
        more, look = "more", "look at its terminations first"
    else:
        more, look = "less", "look whether it is another wire, or bridged"
    low, high = sorted((abs(one.low), abs(one.high)))
    size = estimate(abs(one.excess), low, high)
    return f"{capital(one.wire)} has {size} {more} than its {count(one.fellows, 'fellow')}: {look}."


def place_words(place: PlaceAnswer, length: float) -> str:
    """Where a fault lies, and which end to open first."""
    what = f"The fault of {listed(list(place.wires))}" if place.wires else "The fault"
    if place.beyond:
        return (
            f"{what} would lie {show(place.metres, 'm')} from {place.near}, off a cable of {show_stated(length, 'm')}: something "
            "taken for granted does not hold. Check the readings, the wire's kind and which wires touch before you open it."
        )
    if place.low <= 0 and place.high >= length:
        return f"{what} may lie anywhere: what the readings are unsure of is more than the whole cable. It takes a finer meter."
    told = f"{what} lies {estimate(place.metres, place.low, place.high, 'm')} from {place.near}."
    return f"{told} {capital(open_words(place, length))}"


#: A connector with the wires that are fanned out behind it, metre (source "practice").
_PLUG = 0.2


def open_words(place: PlaceAnswer, length: float) -> str:
    """Where to open a cable whose fault lies there."""
    if place.beyond or (place.low <= 0 and place.high >= length):
        return "open nothing yet: the readings do not say where."
    if place.joints:
        joints = listed([show_stated(one, "m") for one in place.joints])
        return f"open the joint at {joints} first: joints fail before the cable between them does."
    if place.low <= _PLUG or place.high >= length - _PLUG:
        return f"open end {place.open_first} first: it may lie there, and terminations fail before the cable does."
    return (
        "it lies in the cable and not at an end: look there for a crush, a kink or a hole. Where nothing is seen, cut it off "
        f"towards end {place.open_first}, which leaves the longer part."
    )
