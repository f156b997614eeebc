"""Whether to go on reading, and how much more would settle it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special, stats

from ohmsworth.inference.comparisons import Ahead, ComparisonResult, look_ahead
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.equivalence import OPEN
from ohmsworth.inference.more import POWER, chance_to_settle, specimens_needed
from ohmsworth.inference.specimens import specimen_variances
from ohmsworth.inference.support import supported
from ohmsworth.report.answer import MOVING
from ohmsworth.report.live_answer import (
    GO_ON,
    NOT_HERE,
    STOP,
    LiveAnswer,
    LiveComparison,
    LiveMore,
    LiveSpecimen,
)
from ohmsworth.work.live_looks import Looks
from ohmsworth.work.live_progress import Progress
from ohmsworth.work.live_results import LiveResults

#: More than so many further specimens a condition, or matings of a contact, are no work for a bench.
MOST_SPECIMENS, MOST_MATINGS = 60, 12
#: Numbers of specimens on the sheet that are tried.
_TRIED = 12


def more_for_comparison(
    found: LiveResults, read: Progress, rules: Looks, one: ComparisonResult
) -> LiveMore | None:
    """How many more specimens a condition would settle an open comparison; None where that cannot be said.

    On the sheet the fewest that have a chance of 80 %, or all of it where that is the least that can be said; beyond it as
    many as have that chance.
    """
    unit, design = np.eye(found.measured.design.conditions), found.measured.design
    if one.margin is None or not supported(design, unit[one.of], unit[one.against]):
        return None
    if any(m.condition in (one.of, one.against) for m in found.unsettled):
        return None
    ahead = look_ahead(found.measured, found.conditions[one.of], found.conditions[one.against], one.margin)
    if ahead is None:
        return None
    planned = read.planned
    present = min(read.complete(one.of), read.complete(one.against))
    chance = 0.0
    left = range(present + 1, planned.specimens + 1)
    for n in _some(left):
        chance = _chance(ahead, rules, n, planned.matings, planned.specimens)
        if chance >= POWER:
            return LiveMore("specimens", n - present, chance, True)
    level = rules.for_plans(planned.each + 1, planned.each)
    needed = specimens_needed(ahead.scatter, ahead.difference, ahead.margins, planned.matings, level)
    if needed is None or needed.specimens - present > MOST_SPECIMENS:
        return LiveMore("specimens", len(left), chance, True) if left else None
    count = max(needed.specimens, planned.specimens + 1) - present
    return LiveMore("specimens", count, needed.power, False)


def _some(numbers: range) -> list[int]:
    """All of a few numbers, or some of many with the last among them."""
    if len(numbers) <= _TRIED:
        return list(numbers)
    return sorted({numbers[round(i)] for i in np.linspace(0, len(numbers) - 1, _TRIED)})


def _chance(ahead: Ahead, rules: Looks, specimens: int, matings: int, on_sheet: int) -> float:
    level = rules.for_plans(specimens * matings, on_sheet * matings)
    if level <= 0:
        return 0.0
    return chance_to_settle(ahead.scatter, ahead.difference, ahead.margins, specimens, matings, level)


@dataclass(frozen=True, slots=True)
class Contact:
    """An open contact: variance of its mean that matings average down (with its degrees of freedom) and that of the meters.

    `distance` is how far it lies from the limit; all on the scale of analysis. `done` of `planned` matings are complete.
    """

    scatter: float
    freedom: float
    meters: float
    distance: float
    done: int
    planned: int


def more_for_contact(contact: Contact, rules: Looks) -> LiveMore | None:
    """How many more matings would tell a contact from the limit; None where no few of them are likely to."""
    done, planned = max(contact.done, 1), contact.planned
    for more in range(1, MOST_MATINGS + 1):
        level = rules.for_plans(done + more, planned)
        error = float(np.sqrt(contact.scatter * done / (done + more) + contact.meters))
        if level <= 0 or error == 0:
            continue
        needed = float(stats.t.ppf(1 - level, min(contact.freedom + more, 1e9)))
        chance = float(special.ndtr(abs(contact.distance) / error - needed))
        if chance >= POWER:
            return LiveMore("matings", more, chance, done + more <= planned)
    return None


def stop_or_go(answer: LiveAnswer, found: LiveResults, rules: Looks) -> tuple[str, LiveMore | None]:
    """Whether to stop, and what would settle what is open (the largest of it).

    One contact that no few matings would tell does not keep from stopping where something else is decided.
    """
    questions = [one for one in answer.comparisons if one.verdict is not None]
    contacts = [s for s in answer.specimens if s.verdict is not None and s.latest]
    waiting = _to_come(answer, bool(questions))
    if not questions and not contacts:
        return (GO_ON if waiting or not answer.finished else STOP), None
    undecided = [one for one in questions if one.verdict == OPEN]
    hopeful = [one.more for one in undecided if one.more is not None]
    lost = [one for one in undecided if one.more is None and _is_hopeless(answer, one)]
    waiting = waiting or len(undecided) > len(hopeful) + len(lost)
    close = _open_contacts(found, answer, contacts, rules)
    if not undecided:
        hopeful += [more for _, more in close if more is not None]
    waiting = waiting or (bool(close) and bool(questions) and bool(undecided) and not lost)
    waiting = waiting or any(s.done < s.planned and s.state != MOVING for s, more in close if more is None)
    if waiting and not undecided:
        hopeful = [more for more in hopeful if more.on_sheet]
    if hopeful or waiting:
        most = max(hopeful, key=lambda more: (more.what == "specimens", more.count), default=None)
        return GO_ON, None if waiting and undecided and not hopeful else most
    decided = len(questions) - len(undecided) + len(contacts) - len(close)
    return (NOT_HERE if lost or not decided else STOP), None


def _to_come(answer: LiveAnswer, compared: bool) -> bool:
    """Whether there are questions to which no reading has been taken yet."""
    if answer.reference is not None and answer.margin is not None and not compared:
        return True
    return not compared and not answer.assumed and not answer.finished


def _is_hopeless(answer: LiveAnswer, one: LiveComparison) -> bool:
    """Whether an open comparison that no number of specimens would settle has been read as far as it goes."""
    moving = {c.condition for c in answer.conditions if c.state == MOVING}
    return one.supported and (one.done >= one.planned or not moving.isdisjoint((one.of, one.against)))


def _open_contacts(
    found: LiveResults, answer: LiveAnswer, contacts: list[LiveSpecimen], rules: Looks
) -> list[tuple[LiveSpecimen, LiveMore | None]]:
    """Contacts that are too close to call, with what would tell them."""
    if found.limit is None or not any(s.verdict == CLOSE for s in contacts):
        return []
    scatter, meters = specimen_variances(found.measured)
    on_log = found.measured.scale == "log"
    told: list[tuple[LiveSpecimen, LiveMore | None]] = []
    for i, s in enumerate(answer.specimens):
        if s not in contacts or s.verdict != CLOSE:
            continue
        more = None
        if s.state != MOVING and np.isfinite(found.specimens.probability[i]):
            distance = np.log(found.limit / s.resistance) if on_log else found.limit - s.resistance
            own = float(scatter[i]), float(found.specimens.freedom[i]), float(meters[i])
            more = more_for_contact(Contact(*own, float(distance), s.done, s.planned), rules)
        told.append((s, more))
    return told
