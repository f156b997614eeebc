"""The bench sheet of a plan: every reading in the order in which it is to be taken, drawn from a seed."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.plan_request import BEFORE_AND_AFTER, SEPARATE, Assignment, PlanRequest
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


@dataclass(frozen=True, slots=True)
class _Layout:
    """What is to be read: each condition's specimens by name, how often, by whom, and on how many days."""

    names: dict[str, list[str]]
    matings: int
    readings: int
    assignment: Assignment
    polarities: tuple[str, ...] = ("+", "-")
    days: int = 1
    operators: tuple[str, ...] = ()
    check: str | None = None


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
    _refuse_long("study.toml, [plan]", f"a plan of {design.rows} rows", design.rows)
    layout = _Layout(
        _specimens(request, answer.conditions, design),
        design.matings,
        design.readings,
        request.assignment,
        days=request.days,
        operators=request.operators,
        check=study.check.name,
    )
    return _draw(layout, answer.seed)


def simple_sheet(
    conditions: Sequence[str],
    specimens: Sequence[str] | Mapping[str, Sequence[str]],
    matings: int,
    reversal: bool = True,
    check_standard: str | None = None,
    seed: int = 1,
    *,
    readings: int = 1,
    assignment: Assignment | None = None,
) -> tuple[SheetRow, ...]:
    """Draw the sheet of a study that has no plan, as it is asked for on a plain form.

    Parameters
    ----------
    conditions
        Their names, in the order of treatment.
    specimens
        Names of the specimens that are read under every condition; or of each condition's own.
    matings, readings
        Matings of each specimen under each condition, and readings of each mating.
    reversal
        Whether each reading is taken with the current forward and reversed.
    check_standard
        Name of the check standard that is read first, in the middle and last; None without one.
    seed
        The same seed draws the same sheet.
    assignment
        Where the same specimens serve all conditions: "before and after" a treatment, as is taken to be, or in "either order".

    Raises
    ------
    InputRefused
        When nothing is to be read, or more than a bench can do.
    """
    if isinstance(specimens, Mapping):
        names, usual = {c: list(specimens.get(c, ())) for c in conditions}, SEPARATE
    else:
        names, usual = {c: list(specimens) for c in conditions}, BEFORE_AND_AFTER
    layout = _Layout(
        names,
        matings,
        readings,
        (assignment or usual) if len(names) > 1 else SEPARATE,
        ("+", "-") if reversal else ("+",),
        check=check_standard,
    )
    for listed in (list(conditions), *names.values()):
        if twice := [name for name in dict.fromkeys(listed) if listed.count(name) > 1]:
            mend = "Give each a name of its own."
            raise InputRefused((Fault("bench sheet", f"{twice[0]!r} twice", "each name once", mend),))
    rows = sum(map(len, names.values())) * matings * readings * len(layout.polarities)
    if rows < 1:
        mend = "State at least one condition, one specimen, one mating and one reading."
        raise InputRefused((Fault("bench sheet", "nothing to read", "at least one reading", mend),))
    _refuse_long("bench sheet", f"{rows} readings", rows)
    return _draw(layout, seed)


def _refuse_long(where: str, found: str, rows: int) -> None:
    if rows > MOST_SHEET_ROWS:
        raise InputRefused((Fault(where, found, f"at most {MOST_SHEET_ROWS}", "Ask for less."),))


def _draw(layout: _Layout, seed: int) -> tuple[SheetRow, ...]:
    chance = random.Random(seed)  # noqa: S311 - which contact comes next is no secret
    turns = _turns(layout, chance)
    rows: list[SheetRow] = []
    checks = 0
    for day, matings in enumerate(_shared(turns, layout), start=1):
        for row in _day(matings, layout, checks):
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


def _turns(layout: _Layout, chance: random.Random) -> list[list[_Mating]]:
    """Turns that are not to be torn apart: one mating of each condition, or one mating alone where treatment intervenes."""
    names = layout.names
    shared = list(next(iter(names.values())))  # by all conditions, unless these have their own
    if layout.assignment == BEFORE_AND_AFTER:
        order = [chance.sample(range(len(shared)), len(shared)) for _ in range(layout.matings)]
        return [
            [_Mating(names[condition][i], condition, number)]
            for condition in names
            for number, shuffled in enumerate(order, start=1)
            for i in shuffled
        ]
    turns: list[list[_Mating]] = []
    for number in range(1, layout.matings + 1):
        shuffled = chance.sample(range(len(shared)), len(shared))
        partner = dict.fromkeys(names, shuffled)
        if layout.assignment == SEPARATE:
            partner = {c: chance.sample(range(len(own)), len(own)) for c, own in names.items()}
        for place in range(max(map(len, names.values()))):
            turns.append(
                [_Mating(own[partner[c][place]], c, number) for c, own in names.items() if place < len(own)]
            )
    return _to_and_fro(turns, chance)


def _to_and_fro(turns: list[list[_Mating]], chance: random.Random) -> list[list[_Mating]]:
    """Conditions in a drawn order in every first turn, and the other way round in every second."""
    ordered: list[list[_Mating]] = []
    order: list[int] = []
    for i, turn in enumerate(turns):
        back = i % 2 and len(order) == len(turn)  # where one condition has run out the order is drawn anew
        order = order[::-1] if back else chance.sample(range(len(turn)), len(turn))
        ordered.append([turn[k] for k in order])
    return ordered


def _shared(turns: list[list[_Mating]], layout: _Layout) -> Iterator[list[_Handed]]:
    """For each day its matings with who takes them: in even shares, no turn torn apart."""
    operators = layout.operators or ("",)
    for day in range(layout.days):
        own = _share(turns, day, layout.days)
        if layout.assignment == BEFORE_AND_AFTER:
            yield _by_specimen(own, operators, layout)
            continue
        shares = [(name, _share(own, o, len(operators))) for o, name in enumerate(operators)]
        yield [(m, name) for name, share in shares for turn in share for m in turn]


def _by_specimen(turns: list[list[_Mating]], operators: tuple[str, ...], layout: _Layout) -> list[_Handed]:
    """Each specimen stays with one operator before and after, or the operators' difference would be the treatment's."""
    matings = [m for turn in turns for m in turn]
    shared = next(iter(layout.names.values()))
    hand = {name: operators[i % len(operators)] for i, name in enumerate(shared)}
    return [
        (m, name)
        for condition in dict.fromkeys(m.condition for m in matings)
        for name in operators
        for m in matings
        if m.condition == condition and hand[m.specimen] == name
    ]


def _share(turns: list[list[_Mating]], which: int, of: int) -> list[list[_Mating]]:
    return turns[which * len(turns) // of : (which + 1) * len(turns) // of]


def _day(matings: list[_Handed], layout: _Layout, checks: int) -> Iterator[SheetRow]:
    """One day's rows: the check standard first, in the middle and last."""
    check, middle = layout.check, len(matings) // 2
    first_hand, last_hand = (matings[0][1], matings[-1][1]) if matings else ("", "")
    middle_hand = matings[middle][1] if matings else ""

    def checked(number: int, place: str, hand: str) -> Iterator[SheetRow]:
        if check:
            mating = _Mating(check, check, checks + number)
            yield from _rows(mating, hand, 1, layout.polarities, f"check standard, {place}")

    yield from checked(1, "first", first_hand)
    for i, (mating, hand) in enumerate(matings):
        if i == middle:
            yield from checked(2, "middle", middle_hand)
        yield from _rows(mating, hand, layout.readings, layout.polarities, "")
    yield from checked(3, "last", last_hand)


def _rows(
    mating: _Mating, operator: str, readings: int, polarities: tuple[str, ...], note: str
) -> Iterator[SheetRow]:
    for _ in range(readings):
        for polarity in polarities:
            yield SheetRow(0, 0, operator, mating.specimen, mating.condition, mating.mating, polarity, note)
