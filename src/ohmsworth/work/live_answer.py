"""The answer while readings arrive: what is known so far, and whether to go on.

It runs after every reading and has to be quick, so the circuits are left out. How sure a verdict has to be before the sheet is
finished is said in `ohmsworth.inference.looks`.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.errors import ArgumentFault, InputRefused, OhmsworthError
from ohmsworth.inference.comparisons import ComparisonResult, comparison_verdict
from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.equivalence import OPEN
from ohmsworth.inference.scale import difference_in_ohm
from ohmsworth.inference.support import supported
from ohmsworth.inference.withheld import unsettled_verdict, withhold_comparison
from ohmsworth.readings.table import OFF, Labels
from ohmsworth.report.answer import MOVING, SETTLED, Bound, Interval
from ohmsworth.report.live_answer import (
    AS_READ,
    AT_END,
    CHECK,
    GO_ON,
    LiveAnswer,
    LiveComparison,
    LiveCondition,
    LiveDot,
    LiveSpecimen,
)
from ohmsworth.report.live_sentences import with_words
from ohmsworth.resistance import Resistances
from ohmsworth.units import LARGEST
from ohmsworth.work.how_read import latest_states
from ohmsworth.work.live_doubts import live_doubts, mostly_doubted
from ohmsworth.work.live_looks import Looks
from ohmsworth.work.live_more import more_for_comparison, stop_or_go
from ohmsworth.work.live_progress import Planned, Progress, progress
from ohmsworth.work.live_results import LiveResults, live_results
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import resistances_of


def live_answer(loaded: LoadedStudy, planned: Planned | None = None, looks: str = AS_READ) -> LiveAnswer:
    """Say what is known so far; an early study, or one that cannot be used as it is, is answered too.

    Parameters
    ----------
    loaded
        The study with the readings so far, in the order in which they were taken; none yet will do.
    planned
        What the bench sheet holds; None assumes one of five specimens a condition.
    looks
        "as read": the answer is looked at whenever one likes, and verdicts allow for that. "at the end": no verdict before the
        sheet is finished, and then the ordinary answer's.

    Raises
    ------
    ArgumentFault
        When `looks` is neither.
    """
    if looks not in (AS_READ, AT_END):
        raise ArgumentFault("looks", looks, f'"{AS_READ}" or "{AT_END}"')
    loaded = _begun(loaded)
    read, rules = (
        progress(loaded.table, planned, loaded.study.named_conditions),
        Looks(looks, loaded.study.coverage),
    )
    faults: tuple[str, ...] = ()
    found: LiveResults | None = None
    try:
        found = live_results(loaded)
    except InputRefused as refused:
        faults = tuple(str(fault) for fault in refused.faults)
    except OhmsworthError as refused:
        faults = (str(refused),)
    blank = _blank(loaded, read, rules, faults)
    return with_words(blank if found is None else _filled(blank, found, read, rules))


def _begun(loaded: LoadedStudy) -> LoadedStudy:
    """Without the rows of conditions of which no resistance is read yet: zero readings, and rows set aside."""
    table = loaded.table
    if len(table) == 0:
        return loaded
    shown = (table.polarity != OFF) & ~np.isin(table.line, list(loaded.study.set_aside))
    begun = (np.bincount(table.condition.codes, shown) > 0)[table.condition.codes]
    if begun.all() and len(np.unique(table.condition.codes)) == len(table.condition.names):
        return loaded
    kept = table.take(np.flatnonzero(begun))
    names = [kept.condition.names[code] for code in kept.condition.codes.tolist()]
    return replace(loaded, table=replace(kept, condition=Labels.of(names)))


def _blank(loaded: LoadedStudy, read: Progress, rules: Looks, faults: tuple[str, ...]) -> LiveAnswer:
    """What is known without any result."""
    study, names = loaded.study, loaded.table.condition.names
    done = [min(read.condition(c), read.planned.each) for c in range(len(names))]
    return LiveAnswer(
        sentence="",
        findings=(),
        stop="",
        more=None,
        rule="",
        looks=rules.kind,
        scale=study.scale,
        coverage=study.coverage,
        coverage_at_end=rules.at_end(read.planned.each),
        limit=Bound(study.limit.resistance, study.limit.source) if study.limit else None,
        margin=None,
        reference=study.reference,
        done=sum(done),
        planned=read.total,
        assumed=read.assumed,
        faults=faults,
    )


def _filled(blank: LiveAnswer, found: LiveResults, read: Progress, rules: Looks) -> LiveAnswer:
    answer = replace(
        blank,
        margin=found.margin,
        specimens=_specimens(found, read, rules),
        conditions=tuple(_condition(found, read, rules, c) for c in range(len(found.conditions))),
        comparisons=tuple(_comparison(found, read, rules, one) for one in found.comparisons),
        dots=_dots(found),
    )
    stop, more = stop_or_go(answer, found, rules)
    doubts, doubtful = live_doubts(found), mostly_doubted(found)
    if doubtful or (doubts and stop != GO_ON):
        stop, more = CHECK, None
    return replace(answer, stop=stop, more=more, axis=_axis(answer), doubts=doubts, doubtful=doubtful)


def _known(value: float | None) -> float | None:
    """None for what is no number, and for a size that only says that the data could not bound it."""
    return None if value is None or not abs(value) <= LARGEST else float(value)


def _judge(probability: float | None, confidence: float | None) -> str:
    return CLOSE if confidence is None else verdict(probability, confidence)


def _specimens(found: LiveResults, read: Progress, rules: Looks) -> tuple[LiveSpecimen, ...]:
    results, table = found.specimens, found.table
    latest = latest_states(table, found.used)
    moving = _moving(found)
    restless = {one.condition for one in found.unsettled}
    told = []
    for i, (s, c) in enumerate(zip(results.specimen.tolist(), results.condition.tolist(), strict=True)):
        done = read.specimen(s, c)
        confidence = rules.of_contact(read, s, c)
        plain = results.verdicts[i] or None
        if found.measured.engine is None and done < read.planned.matings + read.assumed:
            confidence = None  # one reading shows no scatter: whether the next will be like it is not known
        # What moves is judged by its lowest reading, at whatever look.
        own = plain if c in restless else _judge(float(results.probability[i]), confidence)
        told.append(
            LiveSpecimen(
                table.specimen.names[s],
                table.condition.names[c],
                float(results.value[i]),
                _known(results.low[i]),
                _known(results.high[i]),
                None if plain is None else own,
                plain,
                confidence,
                MOVING if (s, c) in moving or c in restless else SETTLED,
                done,
                read.planned.matings,
                (s, c) in latest,
            )
        )
    return tuple(told)


def _moving(found: LiveResults) -> set[tuple[int, int]]:
    """Specimens under a condition with a mating that still moved."""
    table = found.table
    lines = [row for doubt in found.doubts if doubt.code == "STILL_MOVING" for row in doubt.rows]
    rows = np.flatnonzero(np.isin(table.line, lines))
    return set(zip(table.specimen.codes[rows].tolist(), table.condition.codes[rows].tolist(), strict=True))


def _condition(found: LiveResults, read: Progress, rules: Looks, condition: int) -> LiveCondition:
    one = found.conditions[condition]
    done, planned = read.condition(condition), read.planned.each
    confidence = rules.confidence(done, planned)
    moving = next((m for m in found.unsettled if m.condition == condition), None)
    plain = own = None
    if found.limit is not None:
        plain, own = (
            verdict(one.probability_within, rules.coverage),
            _judge(one.probability_within, confidence),
        )
        if moving is not None:
            plain = own = unsettled_verdict(moving, found.limit)
    return LiveCondition(
        found.table.condition.names[condition],
        one.specimens,
        read.complete(condition),
        *_middle(found, condition),
        own,
        plain,
        confidence,
        SETTLED if moving is None else MOVING,
        done,
        planned,
    )


def _middle(found: LiveResults, condition: int) -> tuple[float, float | None, float | None]:
    """A condition's middle with its interval; of one contact alone what was read of it.

    Where the same specimens are read in other conditions, the middle of the kind goes by how those specimens stand among the
    others: an owner who has read one contact would take that for an error.
    """
    one, own = found.conditions[condition], found.specimens
    if one.specimens != 1:
        return one.value, _known(one.low), _known(one.high)
    (i,) = np.flatnonzero(own.condition == condition)
    return float(own.value[i]), _known(own.low[i]), _known(own.high[i])


def _comparison(found: LiveResults, read: Progress, rules: Looks, one: ComparisonResult) -> LiveComparison:
    measured, names = found.measured, found.table.condition.names
    done, planned = min(read.condition(one.of), read.condition(one.against)), read.planned.each
    confidence = rules.confidence(done, planned)
    pair = found.conditions[one.of], found.conditions[one.against]
    plain = own = None
    if one.margin is not None:
        plain = withhold_comparison(one, found.unsettled, *pair).verdict
        judged = (
            comparison_verdict(measured, one.of, one.against, one.margin, confidence) if confidence else None
        )
        own = withhold_comparison(replace(one, verdict=judged or OPEN), found.unsettled, *pair).verdict
    tail = rules.level(done, planned, (1 - rules.coverage) / 2)
    ends: tuple[float | None, float | None] = (None, None)
    if tail > 0 and 1 - tail < 1:
        ends = difference_in_ohm(measured.scale, *one.parts.whole, 1 - 2 * tail)[1]
    unit = np.eye(measured.design.conditions)
    enough = supported(measured.design, unit[one.of], unit[one.against])
    return LiveComparison(
        names[one.of],
        names[one.against],
        Interval(_known(one.difference), *map(_known, one.difference_interval)),
        Interval(_known(one.ratio), *map(_known, one.ratio_interval or (None, None))),
        Interval(_known(one.difference), *map(_known, ends)),
        one.margin,
        own,
        plain,
        confidence,
        enough,
        done,
        planned,
        more_for_comparison(found, read, rules, one) if own == OPEN else None,
    )


def _dots(found: LiveResults) -> tuple[LiveDot, ...]:
    """Every resistance in the answer, and those that the rows left out would make."""
    out = np.setdiff1d(np.arange(len(found.table)), found.used)
    dots = _dots_of(found, found.resistances, True)
    if len(out):
        dots += _dots_of(found, resistances_of(found.loaded, out), False)
    return tuple(sorted(dots, key=lambda dot: dot.line))


def _dots_of(found: LiveResults, r: Resistances, used: bool) -> list[LiveDot]:
    line, mating = found.table.line, found.table.mating
    return [
        LiveDot(
            r.specimen.names[r.specimen.codes[i]],
            r.condition.names[r.condition.codes[i]],
            "" if mating is None else mating.names[mating.codes[first]],
            float(r.value[i]),
            used,
            int(line[first]),
        )
        for i, first in enumerate(r.rows[:, 0].tolist())
    ]


def _axis(answer: LiveAnswer) -> tuple[float, float] | None:
    """Ends of a scale for the drawing: all dots, and intervals that are not far wider than these."""
    dots = [dot.resistance for dot in answer.dots]
    if not dots:
        return None
    low, high = min(dots), max(dots)
    reach = max(high - low, 0.1 * abs(high))
    values = [(one.low, one.high) for one in answer.specimens] + [
        (one.low, one.high) for one in answer.conditions
    ]
    ends = [end for both in values for end in both if end is not None]
    near = [end for end in ends if low - 2 * reach <= end <= high + 2 * reach]
    return min([low, *near]), max([high, *near])
