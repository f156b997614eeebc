"""What can be done to a contact that matters: steps with their minutes and cautions, cost, and how it may turn out.

Steps, minutes and first guesses of how often each helps are common practice, no more; a guess is worth two cases, so that the
shop's own records soon take over.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ohmsworth.advice.cautions import ALCOHOL, CLEANER, SILVER_DIP, SOLDERING, UNPOWERED
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.outcomes import Chance, Outcomes, Prior, chance_after
from ohmsworth.materials.span import Span

#: As many cases as a first guess is worth.
GUESS_CASES = 2.0
_NOTHING_SEEN = Outcomes(0, 0)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, how long it takes, and what to mind beside it."""

    words: str
    minutes: float
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlatingLost:
    """Metre of plating that a remedy takes off each time, with a key of SOURCES."""

    each_time: Span
    source: str


@dataclass(frozen=True, slots=True)
class Remedy:
    """Something that may mend a contact.

    Parameters
    ----------
    name
        By which records count it: "clean".
    words
        What to do, in words: "Clean it".
    doing
        The same as the doing of it: "cleaning".
    steps
        In their order.
    material
        What it uses up each time, in the shop's money.
    prior, seen
        How often it leaves good a contact that mattered: held likely beforehand, and seen in the shop's records.
    harm
        Chance that it spoils a contact that did not matter.
    lost
        Plating taken off each time; None where nothing is stated.
    forbidden_by
        Whose instructions forbid it: "the connector maker's"; "" where none do.
    source
        A key of SOURCES, for the steps and the prior.
    """

    name: str
    words: str
    doing: str
    steps: tuple[Step, ...]
    material: float
    prior: Prior
    seen: Outcomes = _NOTHING_SEEN
    harm: float = 0.0
    lost: PlatingLost | None = None
    forbidden_by: str = ""
    source: str = "practice"

    def __post_init__(self) -> None:
        if not (math.isfinite(self.material) and self.material >= 0):
            raise ArgumentFault("material", self.material, "a cost, zero or more")
        if not 0 <= self.harm < 1:
            raise ArgumentFault("harm", self.harm, "0 or more and below 1")
        if not all(math.isfinite(step.minutes) and step.minutes >= 0 for step in self.steps):
            raise ArgumentFault("steps", [step.minutes for step in self.steps], "minutes, zero or more")

    @property
    def minutes(self) -> float:
        """Of all its steps."""
        return sum(step.minutes for step in self.steps)

    @property
    def chance(self) -> Chance:
        """How often it leaves good a contact that mattered, from the prior and the records."""
        return chance_after(self.prior, self.seen)


#: What each takes: a key of the records, words, doing, first guess, harm, steps.
_USUAL: tuple[tuple[str, str, str, float, float, tuple[Step, ...]], ...] = (
    (
        "exercise", "Mate and unmate it", "exercising", 0.5, 0.0,
        (Step("Mate and unmate it fully, some five times.", 1.0, (UNPOWERED,)),),
    ),
    (
        "wipe", "Wipe it dry", "wiping", 0.5, 0.0,
        (Step("Wipe both members with a dry cloth that leaves no lint; nothing that scratches.", 3.0, (UNPOWERED,)),),
    ),
    (
        "clean", "Clean it", "cleaning", 0.7, 0.01,
        (
            Step("Look up what the connector's maker allows, and try the cleaner on a spare part.", 1.0),
            Step("Clean both members with little of it on a swab.", 4.0, (UNPOWERED, CLEANER, ALCOHOL, SILVER_DIP)),
            Step("Rinse as the cleaner's maker says, and let it dry.", 4.0, (CLEANER,)),
        ),
    ),
    (
        "re-lubricate", "Lubricate it anew", "lubricating", 0.3, 0.01,
        (
            Step("Wipe off what is left of the old lubricant.", 2.0, (UNPOWERED,)),
            Step("Put on a trace of a lubricant made for contacts, one that the connector's maker allows.", 2.0, (CLEANER,)),
        ),
    ),
    (
        "re-terminate", "Terminate it anew", "terminating anew", 0.85, 0.02,
        (
            Step("Note which wire is where, and cut the old joint off.", 4.0, (UNPOWERED,)),
            Step("Strip, tin and solder, or crimp with the tool that the maker names.", 10.0, (SOLDERING,)),
            Step("Check every wire against the note.", 3.0),
        ),
    ),
    (
        "replace", "Replace the connector", "replacing", 0.95, 0.01,
        (
            Step("Note which wire is where, and take the old connector off.", 5.0, (UNPOWERED,)),
            Step("Put the new one on as its maker says.", 12.0, (SOLDERING,)),
            Step("Check every wire against the note.", 3.0),
        ),
    ),
)  # fmt: skip
USUAL_NAMES = tuple(one[0] for one in _USUAL)


def remedy_cautions(name: str) -> tuple[str, ...]:
    """What to mind in all steps of a usual remedy, each once; nothing for another name."""
    steps = next((one[-1] for one in _USUAL if one[0] == name), ())
    return tuple(dict.fromkeys(caution for step in steps for caution in step.cautions))


def usual_remedies(
    materials: Mapping[str, float],
    forbidden: Mapping[str, str] | None = None,
    seen: Mapping[str, Outcomes] | None = None,
) -> tuple[Remedy, ...]:
    """The usual remedies, the gentlest first.

    Parameters
    ----------
    materials
        What each uses up, in the shop's money, by its name; all of USUAL_NAMES.
    forbidden
        Whose instructions forbid it, by name: {"clean": "the connector maker's"}.
    seen
        Outcomes in the shop's records, by name.

    Raises
    ------
    ArgumentFault
        For names that are missing or not known.
    """
    unknown = {*materials, *(forbidden or {}), *(seen or {})} - set(USUAL_NAMES)
    if unknown or set(materials) != set(USUAL_NAMES):
        raise ArgumentFault(
            "materials", sorted(materials), f"a cost for each of {', '.join(USUAL_NAMES)}, and no others"
        )
    found = (
        Remedy(name, words, doing, steps, materials[name], Prior(guess, GUESS_CASES), harm=harm)
        for name, words, doing, guess, harm, steps in _USUAL
    )
    return tuple(
        replace(
            one,
            forbidden_by=(forbidden or {}).get(one.name, ""),
            seen=(seen or {}).get(one.name, _NOTHING_SEEN),
        )
        for one in found
    )


def times_left(plating: Span, remedy: Remedy, done: int) -> Span | None:
    """How many times a remedy may still be used until the plating is through: from the worst case to the best.

    Parameters
    ----------
    plating
        Metre of plating when new.
    remedy
        None is returned where nothing is stated of what it takes off.
    done
        How often it has been used already.
    """
    if remedy.lost is None:
        return None
    each = remedy.lost.each_time
    if each.low < 0 or done < 0 or plating.low < 0:
        raise ArgumentFault(
            "plating, done", (plating, done), "zero or more, with a loss of zero or more a time"
        )
    low = plating.low / each.high - done if each.high > 0 else math.inf
    high = plating.high / each.low - done if each.low > 0 else math.inf
    return Span(max(low, 0.0), max(high, 0.0)) if math.isfinite(low) else None
