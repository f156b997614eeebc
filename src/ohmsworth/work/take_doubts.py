"""What is doubtful about the takes of a study's contacts."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.home import FOLDER, Home
from ohmsworth.report.words import count, listed
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.units import show, show_percent, show_stated
from ohmsworth.work.ports import LoadedImpedances
from ohmsworth.work.take_state import TakeState

#: Gains that no two inputs set alike have.
_APART = 0.2
#: Lines that are named; the rest are counted.
_NAMED = 12


def take_doubts(
    loaded: LoadedImpedances, home: Home = FOLDER, set_aside: Collection[int] = ()
) -> list[Doubt]:
    """Each doubt once, with the lines of takes.csv, or the numbers of takes in the records, in its words.

    What may be put right take by take, the sound and the volts, has those lines as its rows. Takes on the lines `set_aside`
    raise none: they do not count.
    """
    lines, states = loaded.found.table.line.tolist(), loaded.states
    each = [pair for pair in zip(lines, states, strict=True) if pair[0] not in set_aside]
    alone = [line for line, one in each if not one.swapped]
    apart = [line for line, one in each if one.gains is not None and one.gains > _APART]
    restless = [line for line, one in each if one.rest not in (None, "at rest")]
    wet = [line for line, one in each if one.exceeded]
    found = []
    if alone:
        found.append(
            Doubt(
                "NO_SWAPPED_TAKE",
                f"{_takes(alone, home)} without one with the inputs exchanged: gain and phase of the two inputs are not taken "
                "out; an allowance is in the uncertainty.",
                (),
                "Exchange the two plugs at the inputs, leave contact and gains alone, record again, and name it under 'swapped'.",
            )
        )
    if apart:
        most = max(one.gains or 0.0 for _, one in each)
        found.append(
            Doubt(
                "GAINS_APART",
                f"{_takes(apart, home)} in which the gains of the two inputs differ by up to {show_percent(most)}.",
                (),
                "Set both gains alike; look whether the contact was touched between straight and swapped. Record both again.",
            )
        )
    if restless:
        found.append(
            Doubt(
                "NOT_AT_REST",
                f"{_takes(restless, home)} in which the contact drifted or fluctuated while it was recorded.",
                (),
                "Let the bench warm up and keep cables and table still, then record again.",
            )
        )
    if wet:
        most = max(one.voltage for _, one in each)
        limits = sorted({limit for _, one in each for limit in one.exceeded})
        found.append(
            Doubt(
                "NOT_A_DRY_CIRCUIT",
                f"{_takes(wet, home)} beyond a dry circuit ({', '.join(limits)}): up to {show(most, 'V')} lay across the "
                f"contact, {show_stated(DRY_VOLTAGE, 'V')} are allowed; a film may not be what it was.",
                tuple(wet),
                "Play the tones more quietly, or put in the bridge that 'ohmsworth tones' names.",
            )
        )
    return [*found, *_outdated(loaded, home), *_of_sound(each, home)]


def _outdated(loaded: LoadedImpedances, home: Home) -> list[Doubt]:
    """Takes that were kept before a standard, so that what it takes off is still in them."""
    found = []
    for series, lines in loaded.outdated.items():
        named = _takes(lines, home)
        words = f"{named} analysed with another tones.toml, or other takes of short, load and open, than count now."
        if series:
            words = f"{named} kept before the takes of the {listed(list(series))}: what these take off is still in them."
        if "short" in series and loaded.short is not None:
            tone = nearest_tone(loaded.short.frequency, (*loaded.asked, USUAL)[0])
            value, hertz = float(loaded.short.value[tone].real), float(loaded.short.frequency[tone])
            words += f" The short reads {show(value, 'Ω', 2)} at {show(hertz, 'Hz')}; that much too high their R may be."
        mend = "Send their recordings again, so that all takes are analysed alike, and withdraw the ones from before."
        if not home.kept:
            mend = "Put their recordings back into the folder: they are then analysed as the others."
        found.append(Doubt("TAKES_ANALYSED_OTHERWISE", words, (), mend))
    return found


def _of_sound(each: Sequence[tuple[int, TakeState]], home: Home) -> list[Doubt]:
    """Doubts about the sound, those of one code together in the words of the first."""
    by_code: dict[str, list[tuple[int, str, str]]] = {}
    for line, one in each:
        for code, words, mend in one.doubts:
            by_code.setdefault(code, []).append((line, words, mend))
    found = []
    for code, told in by_code.items():
        lines = list(dict.fromkeys(line for line, _, _ in told))
        found.append(Doubt(code, f"{_takes(lines, home)}: {told[0][1]}", tuple(lines), told[0][2]))
    return found


def _takes(lines: Sequence[int], home: Home) -> str:
    if home.kept:
        numbers = [home.take_of[line] for line in lines if line in home.take_of]
        words = "take" if len(lines) == 1 else "takes"
    else:
        numbers, words = list(lines), "takes.csv, line" if len(lines) == 1 else "takes.csv, lines"
    named = ", ".join(map(str, numbers[:_NAMED])) + (" …" if len(numbers) > _NAMED else "")
    return f"{count(len(lines), 'take')} ({words} {named})"
