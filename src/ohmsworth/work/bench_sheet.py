"""The bench sheet of a plan: every reading in the order in which it is to be taken, drawn from a seed."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.plan_request import BEFORE_AND_AFTER, SEPARATE, PlanRequest
from ohmsworth.readings.study import Study
from ohmsworth.report.plan_answer import DesignAnswer, PlanAnswer
from ohmsworth.report.sheet import SheetRow

#: A sheet of more rows than this is no work for a bench.
MOST_SHEET_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class _Mating:
    specimen: str
    condition: str
    mating: int


#: A mating and who takes it.
_Handed = tuple[_Mating, str]


def draw_sheet(study: Study, answer: PlanAnswer) -> tuple[SheetRow, ...]:
    """Draw the sheet of the cheapest plan from the seed in `answer`.

    Matings come in rounds in which every condition has its turn, so that a bench that drifts does so for all of them;
    every second turn runs the other way round. Days and operators share the rounds evenly. Where specimens are
    treated in between, all of the first condition come first, for there is no going back.

    Raises
    ------
    InputRefused
        When there is no plan, or one too long for a sheet.
    """
    request, design = study.plan, answer.best
    if request is None or design is None:
        mend = "Ask for less chance or a larger effect, or allow more specimens; then draw the sheet."
        raise InputRefused(
            (Fault("study.toml, [plan]", "no plan with the chance that is wanted", "a plan", mend),)
        )
    if design.rows > MOST_SHEET_ROWS:
        found = f"a plan of {design.rows} rows"
        raise InputRefused(
            (Fault("study.toml, [plan]", found, f"at most {MOST_SHEET_ROWS}", "Ask for less."),)
        )
    chance = random.Random(answer.seed)  # noqa: S311 - which contact comes next is no secret
    names = _specimens(request, answer.conditions, design)
    turns = _turns(request, answer.conditions, names, design, chance)
    rows: list[SheetRow] = []
    checks = 0
    for day, matings in enumerate(_shared(turns, request), start=1):
        for row in _day(matings, design, study.check.name, checks):
            rows.append(replace(row, step=len(rows) + 1, day=day))
        checks += 3
    return tuple(rows)


def _specimens(
    request: PlanRequest, conditions: tuple[str, ...], design: DesignAnswer
) -> dict[str, list[str]]:
    """Names for the specimens of each condition; the same ones where they serve all."""
    if request.assignment == SEPARATE and len(conditions) > 1:
        return {c: [f"{c} {i}" for i in range(1, design.specimens + 1)] for c in conditions}
    return {c: [f"S{i}" for i in range(1, design.specimens + 1)] for c in conditions}


def _turns(
    request: PlanRequest,
    conditions: tuple[str, ...],
    names: dict[str, list[str]],
    design: DesignAnswer,
    chance: random.Random,
) -> list[list[_Mating]]:
    """Turns that are not to be torn apart: one mating of each condition, or one mating alone where treatment intervenes."""
    if request.assignment == BEFORE_AND_AFTER:
        order = [chance.sample(range(design.specimens), design.specimens) for _ in range(design.matings)]
        return [
            [_Mating(names[condition][i], condition, number)]
            for condition in conditions
            for number, shuffled in enumerate(order, start=1)
            for i in shuffled
        ]
    turns: list[list[_Mating]] = []
    for number in range(1, design.matings + 1):
        shuffled = chance.sample(range(design.specimens), design.specimens)
        partner = dict.fromkeys(conditions, shuffled)
        if request.assignment == SEPARATE:
            partner = {c: chance.sample(range(design.specimens), design.specimens) for c in conditions}
        for place in range(design.specimens):
            turns.append([_Mating(names[c][partner[c][place]], c, number) for c in conditions])
    return _to_and_fro(turns, chance)


def _to_and_fro(turns: list[list[_Mating]], chance: random.Random) -> list[list[_Mating]]:
    """Conditions in a drawn order in every first turn, and the other way round in every second."""
    ordered: list[list[_Mating]] = []
    order: list[int] = []
    for i, turn in enumerate(turns):
        order = order[::-1] if i % 2 else chance.sample(range(len(turn)), len(turn))
        ordered.append([turn[k] for k in order])
    return ordered


def _shared(turns: list[list[_Mating]], request: PlanRequest) -> Iterator[list[_Handed]]:
    """For each day its matings with who takes them: in even shares, no turn torn apart."""
    operators = request.operators or ("",)
    for day in range(request.days):
        own = _share(turns, day, request.days)
        if request.assignment == BEFORE_AND_AFTER:
            yield _by_specimen(own, operators)
            continue
        shares = [(name, _share(own, o, len(operators))) for o, name in enumerate(operators)]
        yield [(m, name) for name, share in shares for turn in share for m in turn]


def _by_specimen(turns: list[list[_Mating]], operators: tuple[str, ...]) -> list[_Handed]:
    """Each specimen stays with one operator before and after, or the operators' difference would be the treatment's."""
    matings = [m for turn in turns for m in turn]
    hand = {m.specimen: operators[(int(m.specimen[1:]) - 1) % len(operators)] for m in matings}
    return [
        (m, name)
        for condition in dict.fromkeys(m.condition for m in matings)
        for name in operators
        for m in matings
        if m.condition == condition and hand[m.specimen] == name
    ]


def _share(turns: list[list[_Mating]], which: int, of: int) -> list[list[_Mating]]:
    return turns[which * len(turns) // of : (which + 1) * len(turns) // of]


def _day(matings: list[_Handed], design: DesignAnswer, check: str | None, checks: int) -> Iterator[SheetRow]:
    """One day's rows: the check standard first, in the middle and last."""
    middle = len(matings) // 2
    first_hand, last_hand = (matings[0][1], matings[-1][1]) if matings else ("", "")
    middle_hand = matings[middle][1] if matings else ""

    def checked(number: int, place: str, hand: str) -> Iterator[SheetRow]:
        if check:
            mating = _Mating(check, check, checks + number)
            yield from _rows(mating, hand, 1, f"check standard, {place}")

    yield from checked(1, "first", first_hand)
    for i, (mating, hand) in enumerate(matings):
        if i == middle:
            yield from checked(2, "middle", middle_hand)
        yield from _rows(mating, hand, design.readings, "")
    yield from checked(3, "last", last_hand)


def _rows(mating: _Mating, operator: str, readings: int, note: str) -> Iterator[SheetRow]:
    for _ in range(readings):
        for polarity in ("+", "-"):
            yield SheetRow(0, 0, operator, mating.specimen, mating.condition, mating.mating, polarity, note)
