"""What keeps an entry out of its study altogether: the file of the study would be refused with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from operator import attrgetter

import numpy as np

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.materials.metals import COLDEST_AMBIENT, HOTTEST_AMBIENT
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.names import clean_name, twin_key
from ohmsworth.readings.signs import opposite_signs
from ohmsworth.readings.study import Study

#: Columns of names in which every reading has one where others have.
_NAMES = ("specimen", "condition", "contact", "mating")
_QUANTITIES = ("voltage", "current", "resistance", "temperature")
_LONGEST = 120
#: With the current off a meter may show this share of the usual current, from its own offset.
_OFF_SHARE = 0.5


def find_entry_faults(study: Study, earlier: Sequence[Entry], entry: Entry) -> list[Fault]:
    """Every fault of `entry`, which follows `earlier`; `where` names the field."""
    before = _names_of(earlier)
    faults = [*_unread(entry), *_names(before, entry), *_new_names(before, entry), *_kinds(earlier, entry)]
    return faults or _figures(study, earlier, entry)


def find_correction_faults(study: Study, others: Sequence[Entry], entry: Entry) -> list[Fault]:
    """The same for what a reading is corrected to, among the `others`: it may be the first that is named otherwise."""
    faults = [*_unread(entry), *_names(_names_of(others), entry), *_kinds(others, entry)]
    return faults or _figures(study, others, entry)


def _figures(study: Study, earlier: Sequence[Entry], entry: Entry) -> list[Fault]:
    if entry.resistance is not None:
        return list(_resistance(study, entry.resistance, entry.polarity == "0"))
    assert entry.voltage is not None
    return list(_volts_amperes(earlier, entry, entry.voltage, entry.current))


def _unread(entry: Entry) -> Iterator[Fault]:
    for name in _QUANTITIES:
        typed: Typed | None = getattr(entry, name)
        try:
            value = None if typed is None else typed.value
        except QuantityFault as fault:
            yield Fault(name, fault.found, fault.expected, fault.mend)
            continue
        if (
            name == "temperature"
            and typed
            and value is not None
            and not COLDEST_AMBIENT <= value <= HOTTEST_AMBIENT
        ):
            mend = "Check number and unit, or leave the temperature out."
            yield Fault(
                name, shorten(f"{typed.text} {typed.unit}"), "the temperature of the air at the bench", mend
            )


def _names_of(entries: Sequence[Entry]) -> dict[str, dict[str, None]]:
    """The names that `entries` have in each column, in their order."""
    return {name: dict.fromkeys(map(attrgetter(name), entries)) for name in _NAMES}


def _names(before: Mapping[str, Mapping[str, None]], entry: Entry) -> Iterator[Fault]:
    for name, others in before.items():
        text = clean_name(getattr(entry, name))
        if not text and (name == "specimen" or any(others)):
            yield Fault(name, "nothing", f"the {name}, as in every reading of the study", "Fill it in.")
        if len(text) > _LONGEST or not text.isprintable():
            expected = f"a name of at most {_LONGEST} characters that can be shown"
            yield Fault(name, shorten(text), expected, "Write another name.")


def _new_names(before: Mapping[str, Mapping[str, None]], entry: Entry) -> Iterator[Fault]:
    """Names that the earlier readings do not have, or write in another way."""
    for name, others in before.items():
        text = clean_name(getattr(entry, name))
        if text and others and not any(others) and name != "specimen":
            found = f"{shorten(text)}, where earlier readings have no {name}"
            yield Fault(
                name,
                found,
                f"no {name}",
                f"Leave it out, or begin a study that tells one {name} from another.",
            )
        twins = (clean_name(one) for one in others)
        twin = next((one for one in twins if one != text and twin_key(one) == twin_key(text)), None)
        if twin and name != "mating":
            mend = f"Write the {name} in one way; if they are two, give them names that differ more."
            yield Fault(name, shorten(text), f"{shorten(twin)} as before", mend)


def _kinds(earlier: Sequence[Entry], entry: Entry) -> Iterator[Fault]:
    direct = entry.resistance is not None
    if direct and (entry.voltage is not None or entry.current is not None):
        mend = "Type what was read, and leave the other fields empty."
        yield Fault("resistance", "a resistance beside volts or amperes", "one or the other", mend)
    elif earlier and direct != (earlier[0].resistance is not None):
        kind = "resistances" if not direct else "voltage and current"
        mend = "Read in the same way, or begin a study of its own."
        yield Fault(
            "voltage" if not direct else "resistance", "another kind of reading", f"{kind}, as before", mend
        )
    elif not direct:
        missing = [name for name in ("voltage", "current") if getattr(entry, name) is None]
        if entry.polarity == "0" and "current" in missing:
            missing.remove("current")
        for name in missing:
            yield Fault(name, "nothing", "a number", f"Type the {name}.")


def _resistance(study: Study, ohm: Typed, off: bool) -> Iterator[Fault]:
    if off:
        mend = "Leave this reading out: an ohmmeter subtracts its own zero."
        yield Fault("polarity", "zero, beside a resistance", "+ or −", mend)
    elif ohm.value <= 0 and study.scale == "log":
        mend = 'Check the sign and the meter\'s zero; for readings scattered about zero the study has scale = "linear".'
        yield Fault("resistance", shorten(ohm.text), "more than zero", mend)


def _volts_amperes(
    earlier: Sequence[Entry], entry: Entry, volts: Typed, amperes: Typed | None
) -> Iterator[Fault]:
    current = 0.0 if amperes is None else amperes.value
    if entry.polarity == "0":
        usual = _usual_current(earlier)
        if usual and abs(current) > _OFF_SHARE * usual:
            mend = "Correct the polarity; where the current was off, type 0 or leave the current empty."
            yield Fault("current", "a current with the current off", "no current", mend)
        return
    if current == 0:
        mend = "Type the current; for a reading with the current off choose 'off' as polarity."
        yield Fault("current", "a current of zero", "the current that flowed", mend)
    elif current < 0 and entry.polarity == "+":
        mend = "Correct the sign, or choose 'reversed' as polarity."
        yield Fault("current", "a negative current with the current forward", "signs that agree", mend)
    elif opposite_signs(np.array(volts.value), np.array(current), np.array(_POLARITY[entry.polarity])):
        mend = "Check which lead was turned round; type both with their signs, or both without."
        yield Fault("voltage", "voltage and current of opposite sign", "the same sign for both", mend)


_POLARITY = {"+": 1, "-": -1, "0": 0, "": 2}


def _usual_current(earlier: Sequence[Entry]) -> float:
    flowing = [abs(one.current.value) for one in earlier if one.current is not None and one.polarity != "0"]
    return float(np.median(flowing)) if flowing else 0.0
