"""What to do next, from what was found: each action with its reason and the cautions beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ohmsworth.advice.cautions import CLEANER, HIGH_CURRENT, SOLDERING, UNPOWERED
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL


@dataclass(frozen=True, slots=True)
class Action:
    """Something to do, why, and what to mind while doing it."""

    words: str
    why: str
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Compared:
    """What advice needs to know of a comparison.

    `worse` names the higher of the two, or is "" where they cannot be told apart;

    `settle` is (specimens a condition, matings a specimen), or None.
    """

    of: str
    against: str
    verdict: str
    worse: str
    has_margin: bool
    settle: tuple[int, int] | None


def check_rows(rows: Sequence[int], words: str) -> Action:
    """Look at rows that were set aside before anything else."""
    listed = ", ".join(str(row) for row in rows[:8]) + (" …" if len(rows) > 8 else "")
    return Action(f"Check line {listed} of readings.csv against the bench sheet.", words)


def settle_contacts(specimens: Sequence[str], powerful: bool) -> Action:
    """Read contacts again that would not settle."""
    names = _named(specimens)
    return Action(
        f"Read {names} again on a fresh mating, and wait until the reading stands still.",
        "A value taken while the contact still moves is not its resistance.",
        (UNPOWERED, HIGH_CURRENT) if powerful else (UNPOWERED,),
    )


def for_specimens(over: Sequence[str], close: Sequence[str], harmless: bool) -> list[Action]:
    """What to do with specimens that are over the limit or too close to it.

    `harmless` says that being over makes no difference in the uses named, so that only the datasheet is broken.
    """
    actions = []
    if over and harmless:
        actions.append(
            Action(
                f"Do not pass {_named(over)} as meeting the limit. If the datasheet is held to: exercise or clean as the maker "
                "allows, and measure again.",
                f"Judged {OVER} the limit, yet {TOO_SMALL} in the use named.",
                (UNPOWERED, CLEANER),
            )
        )
    elif over:
        actions.append(
            Action(
                f"Hold back {_named(over)}: exercise and measure again; clean as the maker allows; "
                "re-terminate or replace what stays over.",
                f"Judged {OVER} the limit.",
                (UNPOWERED, CLEANER, SOLDERING),
            )
        )
    if close:
        actions.append(
            Action(
                f"Measure {_named(close)} again, with more matings or a better meter, before it is sold.",
                f"Judged {CLOSE}: the uncertainty reaches across the limit.",
                (UNPOWERED,),
            )
        )
    return actions


def for_comparisons(found: Sequence[Compared]) -> list[Action]:
    """What the comparisons' verdicts ask for; those without a consequence make one action together."""
    harmless = [c for c in found if c.verdict == TOO_SMALL]
    actions = []
    if harmless:
        names = " and ".join(dict.fromkeys(f"'{c.worse}'" for c in harmless if c.worse)) or "all these"
        why = f"The difference is {TOO_SMALL}." if len(harmless) == 1 else f"The differences are {TOO_SMALL}."
        actions.append(Action(f"Leave {names} contacts as they are, as far as this use goes.", why))
    return list(dict.fromkeys([*actions, *(_for_comparison(c) for c in found if c.verdict != TOO_SMALL)]))


def _for_comparison(found: Compared) -> Action:
    if found.verdict == ENOUGH:
        worse, better = (found.of, found.against) if found.worse == found.of else (found.against, found.of)
        return Action(
            f"Bring '{worse}' contacts to the state '{better}', then measure again to close the job.",
            f"The difference is {ENOUGH}.",
            (UNPOWERED, CLEANER),
        )
    return _undecided(found)


def _undecided(found: Compared) -> Action:
    if not found.has_margin:
        return Action(
            "Say what change would matter: add a margin or a [[use]] to study.toml.",
            "Without it no difference, large or small, can be judged.",
        )
    if found.settle is None:
        return Action(
            f"Do not decide between '{found.of}' and '{found.against}' on these readings.",
            "The difference is so close to the margin that more measuring is no practical way out; decide on cost.",
        )
    specimens, matings = found.settle
    return Action(
        f"Measure {specimens} specimens a condition, {matings} mating{'s' if matings > 1 else ''} each, and ask again.",
        f"'{found.of}' against '{found.against}': the readings so far cannot tell; that many settle it four times in five, "
        "if things are as they look now.",
        (UNPOWERED,),
    )


def _named(names: Sequence[str]) -> str:
    shown = ", ".join(names[:6])
    return f"{shown} and {len(names) - 6} more" if len(names) > 6 else shown
