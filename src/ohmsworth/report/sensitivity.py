"""Whether a single specimen carries a verdict, in sentences and as the rows of a table."""

from __future__ import annotations

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.equivalence import OPEN
from ohmsworth.report.answer import Answer, ChangeAnswer, SensitivityAnswer
from ohmsworth.report.words import count, in_quotes, listed

HEADER = ("verdict on", "with all of them", "left out", "verdict then")
_UNDECIDED = (OPEN, CLOSE)
#: So many names and more are listed as "any one of".
_MANY = 3


def sensitivity_sentences(answer: Answer) -> list[str]:
    """Each verdict that hangs on one specimen, then that the other clear ones do not."""
    told = [_fragile(s) for s in answer.sensitivity if s.changes]
    steady = [s for s in answer.sensitivity if not s.changes and s.verdict not in _UNDECIDED]
    if not steady:
        return told
    if len(steady) == len(answer.sensitivity):
        which = "the verdict" if len(steady) == 1 else "a verdict"
    else:
        which = f"the verdict on {listed([_subject(s) for s in steady])}"
    left_out, kept = steady[0].left_out, steady[0].kept
    if kept:
        tried = f"None of the {_counted(answer, left_out)} that could be left out in turn carries {which}"
        return [*told, f"{tried}; without one of the other {kept} too few would remain to judge by."]
    tried = f"each of the {_counted(answer, left_out)} was left out in turn, and nothing changed"
    return [*told, f"No single {_noun(answer)} carries {which}: {tried}."]


def sensitivity_rows(answer: Answer) -> tuple[tuple[str, ...], ...]:
    """One row a verdict, and one more for each other verdict that it could have been."""
    rows = []
    for s in answer.sensitivity:
        for verdict, names in _by_verdict(s.changes).items():
            rows.append((_subject(s), s.verdict, listed(names), verdict))
        if not s.changes:
            rows.append((_subject(s), s.verdict, f"any of {_counted(answer, s.left_out)}", "the same"))
    return tuple(rows)


def _fragile(found: SensitivityAnswer) -> str:
    """What the verdict would be, and what that says of the specimens."""
    parts = []
    for verdict, names in _by_verdict(found.changes).items():
        who = " or without ".join(names) if len(names) < _MANY else f"any one of {listed(names)}"
        parts.append(f"without {who} it would be '{verdict}'")
    subject = _subject(found)
    return f"{subject[0].upper()}{subject[1:]}: '{found.verdict}', but {', '.join(parts)}; {_meaning(found)}."


def _meaning(found: SensitivityAnswer) -> str:
    one = "one specimen" if found.changes[0].kind == "specimen" else "one part"
    if found.verdict in _UNDECIDED:
        return f"{one} keeps it open: look whether it was read right, and leave it out for no other reason"
    if len(found.changes) == found.left_out and not found.kept:
        return "there are just enough of them to judge by"
    return f"{one} carries the verdict" if len(found.changes) == 1 else "the verdict hangs on each of them"


def _by_verdict(changes: tuple[ChangeAnswer, ...]) -> dict[str, list[str]]:
    """Names of those left out, by what the verdict would be."""
    plain = all(change.kind == "specimen" for change in changes)
    found: dict[str, list[str]] = {}
    for change in changes:
        found.setdefault(change.verdict, []).append(change.id if plain else f"{change.kind} {change.id}")
    return found


def _subject(found: SensitivityAnswer) -> str:
    if found.against is None:
        return f"{in_quotes(found.of)} as a kind against the limit"
    return f"{in_quotes(found.of)} against {in_quotes(found.against)}"


def _noun(answer: Answer) -> str:
    return "plug or socket" if answer.parts else "specimen"


def _counted(answer: Answer, number: int) -> str:
    return f"{number} plugs and sockets" if answer.parts else count(number, "specimen")
