"""What a doubt about one reading is, in a few words: for lists, where the whole question does not stand."""

from __future__ import annotations

#: By code, all that can be raised about a reading before it is accepted.
_WORDS = {
    "COPIED": "the same digits as another reading",
    "CURRENT_AS_VOLTAGE": "the current, typed as the voltage?",
    "CURRENTS_DIFFER": "another current than before",
    "FAR_FROM_LIMIT": "far from the limit",
    "JUMPED": "far from the reading before it in its mating",
    "NEGATIVE": "voltage and current of opposite signs",
    "NOT_AS_ASKED": "another reading than the step asks for",
    "NOT_REVERSED": "the current was not reversed",
    "OFF_VOLTAGE": "a voltage with the current off",
    "OPEN_CIRCUIT": "an open lead",
    "OVER_DRY_CURRENT": "more current than a dry circuit has",
    "OVER_DRY_VOLTAGE": "more voltage than a dry circuit has",
    "SLIP_OR_FAULT": "a slip of the decimal mark or the unit, or a bad contact",
    "SOFTENING": "a voltage that softens the contact",
    "SPOT_WARM": "a current that warms the contact",
    "STILL_MOVING": "still moving",
    "SWAPPED": "voltage and current exchanged?",
    "TWO_WIRE": "the leads may be in it",
    "UNIT_SLIP": "a slip of the decimal mark or the unit",
    "UNLIKELY_SCALE": "a size that contacts do not have",
    "WHOLE_CONDITION_OFF": "a size that contacts do not have",
    "WHOLE_SPECIMEN_OFF": "a size that contacts do not have",
}


def doubt_words(code: str) -> str:
    """What the doubt with this code is; the code itself in plain letters where it is none about a reading.

    Examples
    --------
    >>> doubt_words("UNIT_SLIP"), doubt_words("ODD_NAMES")
    ('a slip of the decimal mark or the unit', 'odd names')
    """
    return _WORDS.get(code, code.lower().replace("_", " "))
