"""What a use of a contact is: its settings, and the records that its computation hands on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.lead import MeasuredLead

Array = npt.NDArray[np.float64]
Worse = Literal["higher", "lower"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One editable value of a circuit.

    Parameters
    ----------
    key, symbol
        Its name in files and in equations.
    dimension
        A dimension of `ohmsworth.units`, or ``"number"`` for a whole number, or ``"text"``.
    default
        SI value or text.
    words
        Plain words for a person.
    source
        Key of `ohmsworth.sources` for the default.
    lowest, highest
        Range accepted, SI, both ends included.
    choices
        The texts accepted, when there is a fixed list.
    """

    key: str
    symbol: str
    dimension: str
    default: float | str
    words: str
    source: str
    lowest: float = 0.0
    highest: float = 1e9
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Use:
    """A contact's place in a customer's circuit; `settings` are complete and in SI. Made by `make_use`.

    `lead` is what an analyser measured, in the kind that takes one.
    """

    kind: str
    name: str
    settings: Mapping[str, float | str]
    lead: MeasuredLead | None = None


@dataclass(frozen=True, slots=True)
class Effect:
    """What a contact of each resistance does in a use.

    Parameters
    ----------
    frequency
        Hertz, or None where the effect has none.
    position
        Which contacts have the resistance; every other contact is ideal.
    ideal
        The value with ideal contacts.
    value
        One value for each resistance asked for, same shape, in `unit`.
    threshold
        The value from which it matters, or None when the effect is for information.
    worse
        The direction in which it gets worse.
    """

    key: str
    words: str
    unit: str
    frequency: float | None
    position: str
    ideal: float
    value: Array
    threshold: float | None
    worse: Worse


@dataclass(frozen=True, slots=True)
class Threshold:
    """The contact resistance at which an effect starts to matter.

    Parameters
    ----------
    use, effect
        Name of the use, key of the effect.
    words
        The plain sentence: "hum rejection at 50 Hz falls to 60 dB".
    position
        Which contacts have the resistance.
    resistance
        Ohm of each such contact, or None; then `note` says why.
    reason, source
        Why this value, and the key of its source.
    """

    use: str
    effect: str
    words: str
    position: str
    resistance: float | None
    note: str
    reason: str
    source: str


def number(use: Use, key: str) -> float:
    """The setting `key` as a number."""
    return float(use.settings[key])


def text(use: Use, key: str) -> str:
    """The setting `key` as text."""
    return str(use.settings[key])


def accepted(setting: Setting, value: object) -> float | str:
    """Return `value` as `setting` wants it.

    Raises
    ------
    ArgumentFault
        When it is of the wrong kind or outside the accepted range.
    """
    if setting.dimension == "text":
        return _accepted_text(setting, value)
    return _accepted_number(setting, value)


def _accepted_text(setting: Setting, value: object) -> str:
    if not isinstance(value, str):
        raise ArgumentFault(setting.key, value, "text")
    if setting.choices and value not in setting.choices:
        raise ArgumentFault(setting.key, value, f"one of {', '.join(setting.choices)}")
    return value


def _accepted_number(setting: Setting, value: object) -> float:
    wanted = f"{setting.lowest:g} to {setting.highest:g} ({setting.dimension}, SI)"
    # True and False are ints to Python, but nobody means 1 ohm by True.
    if isinstance(value, bool) or not isinstance(value, int | float | np.integer | np.floating):
        raise ArgumentFault(setting.key, value, wanted)
    result = float(value)
    if not setting.lowest <= result <= setting.highest:
        raise ArgumentFault(setting.key, value, wanted)
    if setting.dimension == "number" and not result.is_integer():
        raise ArgumentFault(setting.key, value, f"a whole number, {wanted}")
    return result
