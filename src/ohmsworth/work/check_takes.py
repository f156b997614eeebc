"""The check standard by takes over frequency: R at one frequency over all studies and days, and whether it stays."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import numpy as np

from ohmsworth.inference.control import control
from ohmsworth.inference.control.calibrated import agrees
from ohmsworth.readings.check import CheckStandard
from ohmsworth.readings.study import Study
from ohmsworth.report.fitness_sentences import rule_words
from ohmsworth.report.words import count
from ohmsworth.resistance.impedance.estimated import Estimated, subtracted
from ohmsworth.units import show_pm, show_stated
from ohmsworth.work.keep_take import resistance_at, told_at
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_fitness import QUESTION, check_of
from ohmsworth.work.standards import standards
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.study_tones import tones_of
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.take_told import curve_of

#: So many studies that name a check standard are looked through, those last worked on.
_MOST_STUDIES = 200


@dataclass(frozen=True, slots=True)
class CheckTake:
    """One take of the check standard: where it is kept, when it was recorded, and R in ohm at a tone of so many hertz."""

    study: int
    number: int
    at: datetime
    frequency: float
    resistance: Estimated


@dataclass(frozen=True, slots=True)
class CheckTakes:
    """Takes of one check standard, the oldest first, and in a sentence whether the last agrees."""

    name: str
    takes: tuple[CheckTake, ...]
    agrees: bool | None
    sentence: str


def check_takes(shop: Shop, desk: Desk, study: int | None = None) -> tuple[CheckTakes, ...]:
    """The takes of the check standard that a study names, or of each of the shop's; over all studies.

    Takes that were set aside or withdrawn are left out. `agrees` is None while there is nothing to hold the last against.

    Raises
    ------
    InputRefused
        With every fault of the study's question.
    """
    named: list[tuple[Study, CheckStandard, tuple[str, ...]]]
    if study is not None:
        question = desk.question(study, desk.state(study))
        named = [(question, question.check, (question.check.name,) if question.check.name else ())]
    else:
        named = [(Study(QUESTION), check_of(one), one.names) for one in standards(shop.records)]
    return tuple(_told(shop, desk, *one) for one in named if one[2])


def _told(shop: Shop, desk: Desk, question: Study, check: CheckStandard, names: Sequence[str]) -> CheckTakes:
    found = sorted(
        (one for name in names for one in _taken(shop, desk, question, name)),
        key=lambda one: (one.at, one.study, one.number),
    )
    takes = tuple({(one.study, one.number): one for one in found}.values())
    whether, sentence = _held(takes, check, question.coverage)
    return CheckTakes(check.called, takes, whether, sentence)


def _taken(shop: Shop, desk: Desk, question: Study, name: str) -> Iterator[CheckTake]:
    """Every take under a name, in whatever study; a search finds the studies, as their lists hold their conditions."""
    for card in shop.records.cards("study", search=name, most=_MOST_STUDIES):
        state = desk.state(card.number)
        own = [
            one
            for one in state.counted_takes
            if one.reading.state == "used" and one.reading.entry.condition.casefold() == name.casefold()
        ]
        if own:
            circuit = _circuit(shop, desk, card.number, state)
            yield from (_one(question, card.number, one, circuit) for one in own)


def _circuit(shop: Shop, desk: Desk, study: int, state: StudyState) -> str:
    """What tells one circuit from another: errors of two circuits are not the same."""
    tones = tones_of(shop, study, state, desk)
    return "" if tones is None else repr(tones.wishes.circuit)


def _one(question: Study, study: int, take: RecordedTake, circuit: str) -> CheckTake:
    reading = take.reading
    frequency, value = resistance_at(question, curve_of(take.told))
    shared = {f"{name} of {circuit}": part for name, part in value.shared.items()}
    at = (reading.entry.time or reading.at).astimezone(UTC)
    return CheckTake(study, reading.number, at, frequency, replace(value, shared=shared))


def _held(takes: Sequence[CheckTake], check: CheckStandard, coverage: float) -> tuple[bool | None, str]:
    """Whether the last take agrees with the stated value and with those before, and that in words."""
    if not takes:
        return None, "It has not been recorded yet."
    last = takes[-1]
    words = [
        f"The last of {count(len(takes), 'take')} reads {told_at(last.resistance, last.frequency, coverage)}"
    ]
    verdicts = []
    if check.value is not None and check.standard_uncertainty is not None:
        found = last.resistance
        stated = agrees(found.value, found.uncertainty, (check.value, check.standard_uncertainty))
        verdicts.append(stated)
        words.append(
            f"it {'agrees' if stated else 'does not agree'} with the {show_stated(check.value, 'Ω')} of its calibration"
        )
    if len(takes) > 1:
        steady, said = _beside(takes, coverage)
        verdicts.append(steady)
        words.append(said)
    return (all(verdicts) if verdicts else None), f"{'; '.join(words)}."


def _beside(takes: Sequence[CheckTake], coverage: float) -> tuple[bool, str]:
    """The last take against those before: by control charts where there are enough, else by the difference."""
    charted = control(np.array([one.resistance.value for one in takes]))
    if charted is not None:
        day = takes[-1].at.astimezone().date().isoformat()
        reasons = rule_words(day, charted, len(takes) - 1)
        if reasons:
            return False, f"it is not as those before: {'; '.join(reasons)}"
        return True, f"it is as the {count(len(takes) - 1, 'take')} before"
    change = subtracted(takes[-1].resistance, _mean([one.resistance for one in takes[:-1]]))
    low, high = change.interval(coverage)
    size = show_pm(abs(change.value), (high - low) / 2, "Ω")
    way = "above" if change.value > 0 else "below"
    steady = low <= 0 <= high
    what = "which noise explains" if steady else "which is more than noise explains"
    return steady, f"it is {size} {way} the mean of the {count(len(takes) - 1, 'take')} before, {what}"


def _mean(found: Sequence[Estimated]) -> Estimated:
    """The plain mean: noise independent, errors of one source alike in all."""
    number = len(found)
    squares = [one.random**2 for one in found]
    spread = sum(square**2 / one.degrees for square, one in zip(squares, found, strict=True))
    names = dict.fromkeys(name for one in found for name in one.shared)
    return Estimated(
        sum(one.value for one in found) / number,
        math.sqrt(sum(squares)) / number,
        sum(squares) ** 2 / spread if spread > 0 else math.inf,
        {name: sum(one.shared.get(name, 0.0) for one in found) / number for name in names},
    )
