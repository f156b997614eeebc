"""A step at the bench in words: what to connect, and what is other than in the step before."""

from __future__ import annotations

from ohmsworth.report.words import in_quotes

#: What a step changes against the one before.
FIRST, TURN, REPEAT, NEW_MATING, NEXT_SPECIMEN, NEXT_CONTACT, NEXT_CONDITION, CHECK = (
    "first reading",
    "turn the current round",
    "read again",
    "new mating",
    "next specimen",
    "next contact",
    "next condition",
    "check standard",
)
#: Conditions that a specimen is brought to by cleaning it.
CLEAN = ("clean", "cleaned", "after cleaning")
_FLOWS = {"+": "current forward", "-": "current reversed", "0": "current off", "": ""}


def ordinal(number: int) -> str:
    """``1st``, ``2nd``, ``13th``.

    Examples
    --------
    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 22, 113)]
    ['1st', '2nd', '3rd', '4th', '11th', '22nd', '113th']
    """
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{'th' if number % 100 in (11, 12, 13) else ending}"


def step_words(
    change: str, specimen: str, condition: str, mating: str, polarity: str, *, seen: bool, several: bool
) -> str:
    """What to connect.

    Parameters
    ----------
    change
        One of the changes above.
    specimen, condition, mating, polarity
        Of the step.
    seen
        Whether the specimen was connected before, so that it is taken again.
    several
        Whether there are several conditions, so that the step says which.

    Examples
    --------
    >>> step_words(NEW_MATING, "N2", "new", "3", "+", seen=True, several=False)
    'Mate N2 again (3rd mating), current forward'
    >>> step_words(TURN, "N2", "new", "3", "-", seen=True, several=False)
    'Leave N2 as it is and turn the current round: current reversed'
    >>> step_words(NEXT_CONDITION, "N2", "cleaned", "1", "+", seen=True, several=True)
    'Clean N2 now, then mate it (1st mating), current forward'
    """
    flow = _FLOWS[polarity]
    which = f"{specimen}, {in_quotes(condition)}" if several and change != CHECK else specimen
    if change == TURN:
        return f"Leave {specimen} as it is and turn the current round: {flow}"
    if change == REPEAT:
        return _joined(f"Leave {specimen} as it is and read again", flow)
    if change == CHECK:
        return _joined(f"Connect the check standard {specimen}", flow)
    if change == NEXT_CONDITION and seen:
        return _joined(f"{_brought(specimen, condition)}, then mate it{_which(mating)}", flow)
    if change == NEW_MATING:
        return _joined(f"Mate {which} again{_which(mating)}", flow)
    return _joined(f"{'Take' if seen else 'Connect'} {which}{' again' if seen else ''}{_which(mating)}", flow)


def _brought(specimen: str, condition: str) -> str:
    """What is to be done with a specimen before it is read in another condition."""
    if condition.casefold() in CLEAN:
        return f"Clean {specimen} now"
    return f"Bring {specimen} to {in_quotes(condition)} now"


def short_words(change: str, condition: str, mating: str, polarity: str, *, seen: bool) -> str:
    """What to do with a specimen whose name stands in large letters above.

    Examples
    --------
    >>> short_words(FIRST, "new", "1", "+", seen=False)
    'Connect it (1st mating), current forward'
    >>> short_words(TURN, "new", "1", "-", seen=True)
    'Leave it as it is and turn the current round: current reversed'
    """
    if change == CHECK:
        return _joined("Connect the check standard", _FLOWS[polarity])
    taken_up = seen and change == NEXT_CONDITION
    return step_words(change, "it", condition, mating, polarity, seen=taken_up, several=False)


def _which(mating: str) -> str:
    if not mating:
        return ""
    number = (
        f"{ordinal(int(mating))} mating" if mating.isdecimal() and len(mating) < 9 else f"mating {mating}"
    )
    return f" ({number})"


def _joined(words: str, flow: str) -> str:
    return f"{words}, {flow}" if flow else words


def left_words(readings: int, minutes: float | None) -> str:
    """``12 readings left, about 25 minutes``.

    Examples
    --------
    >>> left_words(1, None), left_words(240, 250.0)
    ('1 reading left', '240 readings left, about 4 hours')
    """
    words = f"{readings} reading{'' if readings == 1 else 's'} left"
    if minutes is None or readings == 0:
        return words
    if minutes >= 90:
        return f"{words}, about {round(minutes / 60)} hours"
    rounded = max(round(minutes / 5) * 5 if minutes > 12 else round(minutes), 1)
    return f"{words}, about {rounded} minute{'' if rounded == 1 else 's'}"
