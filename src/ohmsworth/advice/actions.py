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

    `worse` names the higher of the two, or is "" where they cannot be told apart; `settle` is (specimens a condition,
    matings a specimen), or None.
    """

    of: str
    against: str
    verdict: str
    worse: str
    has_margin: bool
    settle: tuple[int, int] | None


def check_rows(rows: Sequence[int], words: str, still_in: bool) -> Action:
    """Look at doubtful rows before anything else; `still_in` says that the answer leans on them."""
    listed = ", ".join(str(row) for row in rows[:8]) + (" …" if len(rows) > 8 else "")
    what = f"line{'s' if len(rows) > 1 else ''} {listed} of readings.csv" if rows else "every reading"
    why = f"{words[:1].upper()}{words[1:]}"
    if still_in:
        return Action(f"Before you use this answer, check {what}, and how the leads were put.", why)
    return Action(f"Check {what} against the bench sheet.", why)


def settle_contacts(specimens: Sequence[str], powerful: bool) -> Action:
    """Read contacts again that would not settle."""
    return Action(
        f"Read {_named(specimens)} again on a fresh mating, and wait until the reading stands still.",
        "A value taken while the contact still moves is not its resistance.",
        (UNPOWERED, HIGH_CURRENT) if powerful else (UNPOWERED,),
    )


def for_specimens(over: str, close: str, unknown: str, harmless: str) -> list[Action]:
    """What to do with specimens that are over the limit, too close to it, or of unknown uncertainty.

    Parameters
    ----------
    over, close, unknown
        Which, in words; "" for none.
    harmless
        By what being over makes no difference that matters, so that only the datasheet is broken; "" when it may.
    """
    actions = []
    if over and harmless:
        actions.append(
            Action(
                f"Do not pass {over} as meeting the limit. If the datasheet is held to: exercise or clean as the maker "
                "allows, and measure again.",
                f"Judged {OVER} the limit, yet {TOO_SMALL} {harmless}.",
                (UNPOWERED, CLEANER),
            )
        )
    elif over:
        actions.append(
            Action(
                f"Hold back {over}: exercise and measure again; clean as the maker allows; "
                "re-terminate or replace what stays over.",
                f"Judged {OVER} the limit.",
                (UNPOWERED, CLEANER, SOLDERING),
            )
        )
    if close:
        actions.append(
            Action(
                f"Measure {close} again, with more matings or a better meter, before you pass any.",
                f"Judged {CLOSE}: the uncertainty reaches across the limit.",
                (UNPOWERED,),
            )
        )
    if unknown:
        actions.append(
            Action(
                f"State the accuracy of the meters in study.toml, or mate and read {unknown} several times.",
                "Without either, nothing is known about the uncertainty, and nothing can be said about the limit.",
                (UNPOWERED,),
            )
        )
    return actions


def for_comparisons(found: Sequence[Compared], yardstick: str) -> list[Action]:
    """What the comparisons' verdicts ask for, those alike in one action; `yardstick` says what judges them."""
    harmless = [c for c in found if c.verdict == TOO_SMALL]
    actions = []
    if harmless:
        names = _quoted([c.worse for c in harmless if c.worse]) or "all these"
        why = f"The difference is {TOO_SMALL}." if len(harmless) == 1 else f"The differences are {TOO_SMALL}."
        actions.append(Action(f"Leave {names} contacts as they are, {yardstick}.", why))
    actions += _restore([c for c in found if c.verdict == ENOUGH])
    return actions + _undecided([c for c in found if c.verdict not in (TOO_SMALL, ENOUGH)])


def _restore(found: Sequence[Compared]) -> list[Action]:
    """Bring what is worse to the state of what is better."""
    worse_of: dict[str, list[str]] = {}
    for c in found:
        better = c.against if c.worse == c.of else c.of
        worse_of.setdefault(better, []).append(c.worse)
    return [
        Action(
            f"Bring {_quoted(worse)} contacts to the state of '{better}' ones, then measure again to close the job.",
            f"The difference is {ENOUGH}.",
            (UNPOWERED, CLEANER),
        )
        for better, worse in worse_of.items()
    ]


def _undecided(found: Sequence[Compared]) -> list[Action]:
    if not found:
        return []
    if not found[0].has_margin:
        return [
            Action(
                "Say what change would matter: add a margin or a [[use]] to study.toml.",
                "Without it no difference, large or small, can be judged.",
            )
        ]
    actions = []
    open_ones = [(c.settle, c) for c in found if c.settle is not None]
    if open_ones:
        specimens, matings = max(settle for settle, _ in open_ones)
        pairs = " and ".join(f"'{c.of}' against '{c.against}'" for _, c in open_ones)
        actions.append(
            Action(
                f"Measure {specimens} specimens a condition in all, {matings} mating{'s' if matings > 1 else ''} each, "
                "and ask again.",
                f"{pairs}: the readings so far cannot tell; that many settle it four times in five, "
                "if things are as they look now.",
                (UNPOWERED,),
            )
        )
    actions += [
        Action(
            f"Do not decide between '{c.of}' and '{c.against}' on these readings.",
            "The difference is so close to the margin that more measuring is no practical way out; decide on cost.",
        )
        for c in found
        if c.settle is None
    ]
    return actions


def for_uncompared() -> Action:
    """What it takes to compare conditions of which no scatter is known."""
    return Action(
        "Read each specimen several times, on several matings, and ask again.",
        "Without scatter to judge it by, no difference between the conditions can be judged.",
        (UNPOWERED,),
    )


def for_uses(past: bool | None) -> Action:
    """What to do with contacts judged by what they are used for alone: past its threshold, below it, or None."""
    if past is None:
        return Action(
            "Measure more specimens before you decide anything about the uses named.",
            "The interval reaches across what would matter in them.",
            (UNPOWERED,),
        )
    if past:
        return Action(
            "Exercise the contacts, or clean them as the maker allows, and measure again; re-terminate or replace what stays "
            "as it is.",
            "They are past what matters in the uses named.",
            (UNPOWERED, CLEANER, SOLDERING),
        )
    return Action(
        "Leave the contacts as they are, as far as the uses named go.",
        "They are below what would matter in them.",
    )


def for_nothing(limited: bool) -> Action:
    """What to say when nothing has to be done."""
    if limited:
        return Action("Nothing: these contacts may be passed.", "Each is judged within the limit.")
    return Action(
        "Say what to judge these contacts by: add a limit, a [[use]] or a second condition to study.toml.",
        "So far their resistance can be stated, not judged.",
    )


def _quoted(names: Sequence[str]) -> str:
    listed = [f"'{name}'" for name in dict.fromkeys(names)]
    return " and ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)


def _named(names: Sequence[str]) -> str:
    shown = ", ".join(names[:6])
    return f"{shown} and {len(names) - 6} more" if len(names) > 6 else shown
