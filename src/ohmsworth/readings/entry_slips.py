"""Slips of the hand in an entry, asked about before it is accepted, with what the question rests on."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.expected import Expected
from ohmsworth.readings.explained import (
    CURRENT,
    EXCHANGED,
    TWO_WIRE,
    VOLTAGE,
    Explained,
    exchanged,
    moved,
)
from ohmsworth.readings.slips import LEADS
from ohmsworth.readings.study import Study
from ohmsworth.units import show, show_stated

#: A first reading beyond these shares of the limit is asked about.
_FAR_OVER, _FAR_UNDER = 10.0, 1 / 30
#: A current this many times another is no setting anew.
_FAR_CURRENT = 1.5
#: Readings of one mating that differ by this factor are not of one contact at rest.
_JUMP = 1.3
#: A voltage whose number is as close as this to that of the last current may be the current, typed a field too early.
_SAME_NUMBER = 0.01
#: A contact that was read before and agrees as closely as this (decades: 10 %) bears the number out.
_BORNE_OUT = math.log10(1.1)


def slip_doubt(entry: Entry, found: Explained, line: int) -> Doubt:
    """Doubt SWAPPED, TWO_WIRE, UNIT_SLIP or SLIP_OR_FAULT for the likeliest slip."""
    kind, power = found.slip.kind, found.slip.power
    if kind == EXCHANGED:
        return _exchanged(entry, found.expected, line)
    if kind == TWO_WIRE:
        return Doubt(
            "TWO_WIRE",
            f"higher than {rests_on(found.expected)} by about what test leads have: a two-wire reading?",
            (line,),
            "Put the voltmeter's own pair of leads on the contact and read again; look for a film too.",
        )
    field = {VOLTAGE: "voltage", CURRENT: "current"}.get(kind, "resistance")
    typed: Typed = getattr(entry, field)
    words = (
        f"a {field} of {_shown(typed)} is about {_times(power)} than {rests_on(found.expected)} would have it: "
        f"a slipped decimal mark or another unit?"
    )
    mend = f"Look at the meter: if it shows {_shown(moved(typed, power))}, correct it."
    if found.expected.level == "mating":
        return Doubt("UNIT_SLIP", words, (line,), f"{mend} If this one is right, correct the one before it.")
    if kind == CURRENT:
        return Doubt("UNIT_SLIP", words, (line,), mend)
    return Doubt(
        "SLIP_OR_FAULT", words, (line,), f"{mend} If not, the contact may really be so: read it again."
    )


def _exchanged(entry: Entry, expected: Expected, line: int) -> Doubt:
    turned = exchanged(entry)
    assert turned is not None
    volts, amperes = turned
    return Doubt(
        "SWAPPED",
        f"voltage and current look exchanged: the other way round they agree with {rests_on(expected)}.",
        (line,),
        f"If the meters show {_shown(volts)} and {_shown(amperes)}, exchange the two numbers.",
    )


def first_doubts(study: Study, ohm: float, expected: Expected, line: int) -> list[Doubt]:
    """Doubts FAR_FROM_LIMIT and TWO_WIRE of the first reading under a condition, against the limit (resistance in ohm)."""
    if study.limit is None or expected.level != "limit":
        return []
    limit, size = study.limit.resistance, abs(ohm)
    if _FAR_UNDER <= size / limit <= _FAR_OVER:
        return []
    over = size > limit
    if over and LEADS[0] < size < LEADS[1]:
        return [
            Doubt(
                "TWO_WIRE",
                f"{show(size, 'Ω')} is far over the limit of {show_stated(limit, 'Ω')} and about what test leads have: "
                "a two-wire reading?",
                (line,),
                "Put the voltmeter's own pair of leads on the contact; if they are, the contact may really be so.",
            )
        ]
    times = size / limit if over else limit / size
    return [
        Doubt(
            "FAR_FROM_LIMIT",
            f"{show(size, 'Ω')} is about {_round(times)} times {'over' if over else 'under'} the limit of "
            f"{show_stated(limit, 'Ω')}, and nothing else was read under this condition yet.",
            (line,),
            "Check the decimal mark and the units of both fields; keep it if the contact is really so.",
        )
    ]


def current_doubt(amperes: float, expected: Expected, line: int) -> Doubt | None:
    """Doubt CURRENTS_DIFFER, for a current that is far from those before it."""
    usual = 10**expected.middle
    if expected.level == "nothing" or 1 / _FAR_CURRENT < abs(amperes) / usual < _FAR_CURRENT:
        return None
    return Doubt(
        "CURRENTS_DIFFER",
        f"a current of {show(abs(amperes), 'A')}, where the readings before had {show(usual, 'A')}.",
        (line,),
        "Check the number and its unit; read all contacts at one current, since a film's resistance depends on it.",
    )


def current_again_doubt(
    entry: Entry, last: Typed | None, ohm: float, expected: Expected, line: int
) -> Doubt | None:
    """Doubt CURRENT_AS_VOLTAGE, for a voltage with the number of the `last` current, whatever the units.

    Nothing is asked where the resistance (ohm) agrees with what the same contact gave before.
    """
    if entry.voltage is None or last is None:
        return None
    typed, before = (abs(float(one.text)) for one in (entry.voltage, last))
    if not before or abs(typed - before) > _SAME_NUMBER * before:
        return None
    known = expected.level in ("mating", "contact") and ohm
    if known and abs(math.log10(abs(ohm)) - expected.middle) <= _BORNE_OUT:
        return None
    return Doubt(
        "CURRENT_AS_VOLTAGE",
        f"the voltage {_shown(entry.voltage)} has the number of the current before, {_shown(last)}: "
        "was the current typed as the voltage?",
        (line,),
        "Look at the voltmeter, and type what it shows.",
    )


def jump_doubt(
    before: Sequence[tuple[str, float]], sign: str, ohm: float, fine: float, line: int
) -> Doubt | None:
    """Doubt JUMPED, for a reading far from those before it in the same mating.

    `before` holds polarity and resistance of these, the last one last; differences up to `fine` (ohm) are the thermal
    EMF's and the meters' own.
    """
    if not before:
        return None
    alike = [one for one in before if one[0] == sign] or list(before)
    other_sign, last = alike[-1]
    apart, size = abs(ohm - last), max(min(abs(ohm), abs(last)), 1e-30)
    if apart <= (_JUMP - 1) * size or apart <= fine:
        return None
    turned = other_sign != sign
    against = (
        "the reading with the current the other way" if turned else "the reading before it in this mating"
    )
    cause = "a probe that slipped, a large thermal EMF, or a contact that moves"
    return Doubt(
        "JUMPED",
        f"{show(ohm, 'Ω')}, but {against} gave {show(last, 'Ω')}: {cause}.",
        (line,),
        "Seat the probes, wait until the reading stands still, and read both directions again.",
    )


def negative_doubt(ohm: float, volts: float, emf: float, line: int) -> Doubt | None:
    """Doubt NEGATIVE, where voltage and current have opposite signs by more than a thermal EMF makes."""
    if ohm >= 0 or abs(volts) <= 3 * emf:
        return None
    return Doubt(
        "NEGATIVE",
        f"voltage and current have opposite signs: {show(ohm, 'Ω')} is no resistance.",
        (line,),
        "Check both signs and the polarity; if they are right, the thermal EMF is larger than the voltage across the contact.",
    )


def rests_on(expected: Expected) -> str:
    """What an expectation rests on, in words."""
    if expected.level == "mating":
        return (
            "the reading before it in this mating"
            if expected.number == 1
            else "the readings before it in this mating"
        )
    if expected.level == "contact":
        return f"this contact's {_number(expected.number, 'earlier mating')}"
    if expected.level == "condition":
        return f"the {_number(expected.number, 'contact')} read under this condition"
    return {
        "study": "what was read under the other conditions",
        "limit": "contacts for this limit",
    }.get(expected.level, "a usual contact")


def _number(number: int, noun: str) -> str:
    return noun if number == 1 else f"{number} {noun}s"


def _times(power: int) -> str:
    factor = f"{10 ** abs(power):,}".replace(",", " ")
    return f"{factor} times {'larger' if power > 0 else 'smaller'}"


def _round(times: float) -> str:
    digits = 1 - math.floor(math.log10(times))
    return f"{round(times, digits):,.0f}".replace(",", " ")


def _shown(typed: Typed) -> str:
    return f"{typed.text} {typed.unit}".replace("-", "−")
