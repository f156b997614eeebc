"""What to do next, from what was found: each action with its reason and the cautions beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ohmsworth.advice.cautions import CLEANER, HIGH_CURRENT, SOLDERING, UNPOWERED
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL
from ohmsworth.readings.home import FOLDER, Home, rows_named, stated_in, to_ask

#: More comparisons than this are told by the first of them and a number.
_MOST_PAIRS = 4
#: What a dry circuit allows of it.
_DRY = {"current": "100 mA or less", "voltage": "20 mV or less across the contact"}


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
    matings a specimen), or None. `read_last` names the condition that the same specimens were read in last, or is None for
    separate ones; `present` says that they have been in no other since.
    """

    of: str
    against: str
    verdict: str
    worse: str
    has_margin: bool
    settle: tuple[int, int] | None
    read_last: str | None = None
    present: bool = True

    @property
    def former(self) -> str:
        """The condition that the same specimens are no longer in; "" for separate ones."""
        return "" if self.read_last is None else self.against if self.read_last == self.of else self.of


def check_rows(rows: Sequence[int], words: str, still_in: bool, home: Home = FOLDER) -> Action:
    """Look at doubtful rows before anything else; `still_in` says that the answer leans on them."""
    what = rows_named(home, rows)
    why = f"{words[:1].upper()}{words[1:]}"
    if still_in:
        return Action(f"Before you use this answer, check {what}, and how the leads were put.", why)
    against = "under Readings" if home.kept else "against the bench sheet"
    return Action(f"Check {what} {against}.", why)


def check_takes(rows: Sequence[int], words: str, mend: str, home: Home = FOLDER) -> Action:
    """Look at recordings whose sound leaves no number to rely on; `mend` says what to do about it."""
    what = rows_named(home, rows)
    return Action(
        f"Before you use this answer, look at the recordings of {what}. {mend}",
        f"{words[:1].upper()}{words[1:]}",
    )


def settle_contacts(specimens: Sequence[str]) -> Action:
    """Read contacts again that would not settle."""
    return Action(
        f"Read {_named(specimens)} again on a fresh mating, and wait until the reading stands still.",
        "A value taken while the contact still moves is not its resistance.",
        (UNPOWERED,),
    )


def settle_conditions(conditions: Sequence[str], present: bool) -> Action:
    """Let whole conditions come to rest; `present` says that the contacts are in them now."""
    which = "these contacts" if list(conditions) == ["all"] else f"{_quoted(conditions)} contacts"
    those = which if present else f"others that are still {_quoted(conditions)}"
    return Action(
        f"Let {those} settle before they are judged: mate them afresh, wait until the reading stands still, and read again at "
        "dry-circuit level (at most 20 mV and 100 mA); wipe or exercise what still moves as the maker allows, and test again.",
        "Their readings move within one mating: no average of them is a resistance, and more of the same settle nothing.",
        (UNPOWERED, CLEANER),
    )


def with_cautions(actions: Sequence[Action], powerful: bool) -> list[Action]:
    """Steps with what holds for every work on contacts, said at least once; `powerful` says that the current is high."""
    needed = (UNPOWERED, HIGH_CURRENT) if powerful else (UNPOWERED,)
    first = next((i for i, action in enumerate(actions) if UNPOWERED in action.cautions), 0)
    return [
        replace(a, cautions=tuple(dict.fromkeys((*needed, *a.cautions)))) if i == first else a
        for i, a in enumerate(actions)
    ]


def for_specimens(over: str, close: str, unknown: str, harmless: str, home: Home = FOLDER) -> list[Action]:
    """What to do with specimens that are over the limit, too close to it, or of unknown uncertainty.

    Parameters
    ----------
    over, close, unknown
        Which, in words; "" for none.
    harmless
        By what being over makes no difference that matters, so that only the datasheet is broken; "" when it may.
    home
        Where the study is kept.
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
                f"State the accuracy of the meters {stated_in(home)}, or mate and read {unknown} several times.",
                "Without either, nothing is known about a contact's own uncertainty, and no contact can be judged by the limit.",
                (UNPOWERED,),
            )
        )
    return actions


def for_comparisons(
    found: Sequence[Compared], yardstick: str, every: bool = True, home: Home = FOLDER
) -> list[Action]:
    """What the comparisons' verdicts ask for, those alike in one action.

    `yardstick` says what judges them, `every` whether they are about all contacts there are, `home`
    where the study is kept.
    """
    actions = []
    bad = {c.worse for c in found if c.verdict == ENOUGH}
    harmless = [c for c in found if c.verdict == TOO_SMALL and c.worse not in bad]
    every = every and len(harmless) == len(found)
    if harmless:
        why = f"The difference is {TOO_SMALL}." if len(harmless) == 1 else f"The differences are {TOO_SMALL}."
        actions.append(Action(f"Leave {_left_alone(harmless, every)}, {yardstick}.", why))
    actions += _restore([c for c in found if c.verdict == ENOUGH and c.read_last is None])
    actions += [_changed(c) for c in found if c.verdict == ENOUGH and c.read_last is not None]
    return actions + _undecided([c for c in found if c.verdict not in (TOO_SMALL, ENOUGH)], home)


def _left_alone(found: Sequence[Compared], every: bool) -> str:
    """Which contacts may stay as they are: these, and others that are still as these were."""
    before = [c for c in found if c.former and c.worse == c.former]
    names = _quoted([c.worse for c in found if c.worse and c not in before])
    if not every and not names and not before:
        names = _quoted([name for c in found for name in (c.of, c.against)])
    these = f"{names} contacts" if names else "these contacts" if before else "all these contacts"
    others = f", and others like them that are still {_quoted([c.worse for c in before])}" if before else ""
    return f"{these} as they are{others}"


def _changed(c: Compared) -> Action:
    """The same specimens before and after, and the change was enough to matter."""
    if c.worse != c.read_last:
        return Action(
            f"Bring other contacts that are still '{c.former}' to the state of '{c.read_last}' too, and measure them; these "
            "have been brought there.",
            f"The change helped: the difference is {ENOUGH}.",
            (UNPOWERED, CLEANER),
        )
    these = "exercise these or clean them as the maker allows, measure again, and re-terminate or replace what stays worse"
    return Action(
        f"Spare other contacts what made these '{c.read_last}'{f'; {these}' if c.present else ''}.",
        f"The change made the same contacts worse: the difference is {ENOUGH}.",
        (UNPOWERED, CLEANER, SOLDERING) if c.present else (UNPOWERED,),
    )


def for_datasheet(former: str, last: str, were: str) -> Action:
    """A change that does not matter and yet brought the contacts within the limit; `were` counts them."""
    return Action(
        f"Where the limit is held to, bring other contacts that are still '{former}' to the state of '{last}', and measure "
        "them.",
        f"{were[:1].upper()}{were[1:]} over the limit as they were ('{former}').",
        (UNPOWERED, CLEANER),
    )


def _restore(found: Sequence[Compared]) -> list[Action]:
    """Bring what is worse to the state of what is better."""
    turned = [(c.worse, c.against if c.worse == c.of else c.of) for c in found]
    bad = {worse for worse, _ in turned}
    beaten = Counter(better for _, better in turned)
    worse_of: dict[str, list[str]] = {}
    for worse in dict.fromkeys(worse for worse, _ in turned):
        # Of several that are better, one that is itself better than all, and than most.
        choice = [better for one, better in turned if one == worse]
        best = max(choice, key=lambda better: (better not in bad, beaten[better]))
        worse_of.setdefault(best, []).append(worse)
    return [
        Action(
            f"Bring {_quoted(worse)} contacts to the state of '{better}' ones, then measure again to close the job.",
            f"The difference is {ENOUGH}.",
            (UNPOWERED, CLEANER),
        )
        for better, worse in worse_of.items()
    ]


def _undecided(found: Sequence[Compared], home: Home) -> list[Action]:
    if not found:
        return []
    if not found[0].has_margin:
        asked = to_ask(
            home, "add a margin or a [[use]]", "state the smallest difference that matters, or choose a use,"
        )
        return [
            Action(
                f"Say what change would matter: {asked}.",
                "Without it no difference, large or small, can be judged.",
            )
        ]
    actions = []
    open_ones = [(c.settle, c) for c in found if c.settle is not None]
    if open_ones:
        specimens, matings = max(settle for settle, _ in open_ones)
        pairs = _versus([c for _, c in open_ones])
        actions.append(
            Action(
                f"Measure {specimens} specimens a condition in all, {matings} mating{'s' if matings > 1 else ''} each, "
                "and ask again.",
                f"{pairs}: the readings so far cannot tell; that many settle it four times in five, "
                "if things are as they look now.",
                (UNPOWERED,),
            )
        )
    hopeless = [c for c in found if c.settle is None]
    why = "is so close to the margin that more measuring is no practical way out; decide on cost."
    if len(hopeless) > _MOST_PAIRS:
        actions.append(
            Action(
                f"Decide nothing on these readings about {_versus(hopeless)}.",
                f"Each of these differences {why}",
            )
        )
        return actions
    return actions + [
        Action(
            f"Do not decide between '{c.of}' and '{c.against}' on these readings.", f"The difference {why}"
        )
        for c in hopeless
    ]


def _versus(found: Sequence[Compared]) -> str:
    """Comparisons by their names, the first few of many."""
    names = [f"'{c.of}' against '{c.against}'" for c in found[:_MOST_PAIRS]]
    left = len(found) - len(names)
    return ", ".join(names) + f" and {left} more" if left else " and ".join(names)


def for_uncompared() -> Action:
    """What it takes to compare conditions of which no scatter is known."""
    return Action(
        "Read each specimen several times, on several matings, and ask again.",
        "Without scatter to judge it by, no difference between the conditions can be judged.",
        (UNPOWERED,),
    )


def for_uses(past: bool | None, named: str = "the uses named", go: str = "go") -> Action:
    """What to do with contacts judged by what they are used for alone: past its threshold, below it, or None.

    `named` are the uses and `go` is what they, or one of them, does.
    """
    if past is None:
        return Action(
            f"Measure more specimens before you decide anything about {named}.",
            "The interval reaches across what would matter in them.",
            (UNPOWERED,),
        )
    if past:
        return Action(
            "Exercise the contacts, or clean them as the maker allows, and measure again; re-terminate or replace what stays "
            "as it is.",
            f"They are past what matters in {named}.",
            (UNPOWERED, CLEANER, SOLDERING),
        )
    return Action(
        f"Leave the contacts as they are, as far as {named} {go}.",
        "They are below what would matter in them.",
    )


def for_circuit(use: str, unmet: str, home: Home = FOLDER) -> Action:
    """What to do about a circuit that fails with ideal contacts already."""
    return Action(
        f"Look for the fault of '{use}' elsewhere than in its contacts, or ask less of it {stated_in(home)}.",
        f"{unmet[:1].upper()}{unmet[1:]}: no contact can mend that.",
    )


def for_bound(
    use: str, proviso: str, unmet_by_itself: Sequence[str], cautions: tuple[str, ...] = ()
) -> Action:
    """What to do about a use that no number may release, whatever else is to be done."""
    why = [*(f"{words[:1].upper()}{words[1:]}." for words in unmet_by_itself), proviso]
    return Action(f"Leave '{use}' to a licensed electrician, whatever stands here.", " ".join(why), cautions)


def for_passed(contacts: int, beyond: Mapping[str, str], one_mating: bool, bound: bool = False) -> Action:
    """What to say of contacts that are all within the limit.

    Parameters
    ----------
    contacts
        How many there are.
    beyond
        The "current" and the "voltage" in the readings, in words, as far as they are more than a signal contact ever meets.
    one_mating
        Whether none was mated a second time, so that the scatter of re-mating is not known.
    bound
        Whether they serve where no number may be taken for leave.
    """
    one = contacts == 1
    who, are, them = ("this contact", "is", "it") if one else ("these contacts", "are", "them")
    why = "It is judged within the limit" if one else "Each is judged within the limit"
    if not beyond and not one_mating:
        words = "Nothing, as far as the limit goes." if bound else f"Nothing: {who} may be passed."
        return Action(words, f"{why}.")
    why += " as mated" if one_mating else ""
    why += "".join(f" at the {what} used, up to {size}" for what, size in beyond.items())
    steps, bounds = [], []
    if beyond:
        steps.append(f"for a signal contact repeat at {' and '.join(_DRY[what] for what in beyond)}")
        bounds.append(f"at the {' and '.join(beyond)} used")
    if one_mating:
        steps.append(f"mate and read {them} again if {'it is' if one else 'they are'} to be unplugged in use")
        bounds.append("as mated now; re-mating scatter is not in it")
    return Action(
        f"{who[0].upper()}{who[1:]} {are} within the limit {', '.join(bounds)}: {', and '.join(steps)}.",
        f"{why}.",
        (UNPOWERED,),
    )


def for_nothing(home: Home = FOLDER) -> Action:
    """What to say when nothing has to be done and nothing was asked."""
    asked = to_ask(
        home, "add a limit, a [[use]] or a second condition", "state a limit, a use or a second condition"
    )
    return Action(
        f"Say what to judge these contacts by: {asked}.",
        "So far their resistance can be stated, not judged.",
    )


def _quoted(names: Sequence[str]) -> str:
    listed = [f"'{name}'" for name in dict.fromkeys(names)]
    return " and ".join([", ".join(listed[:-1]), listed[-1]] if len(listed) > 1 else listed)


def _named(names: Sequence[str]) -> str:
    shown = ", ".join(names[:6])
    return f"{shown} and {len(names) - 6} more" if len(names) > 6 else shown
