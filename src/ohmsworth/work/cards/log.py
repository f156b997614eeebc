"""What a card's log says now. Every kind of line that such a log may hold is named here or with its kind's steps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from ohmsworth.errors import Fault
from ohmsworth.work.cards.kinds import CALIBRATED, JOB_OVER, KINDS, RETEST, TREATED, Kind
from ohmsworth.work.cards.said import AnyCard, CheckStandardCard, MeterCard, SpecimenCard
from ohmsworth.work.cards.typed import read_typed
from ohmsworth.work.marks import card_mark, name_mark
from ohmsworth.work.records import CardKind, Face, Line, MakeFace

WRITTEN = "card written"
PUT_AWAY = "card put away"
TAKEN_UP = "card taken up again"
NOTE = "note written"
CALIBRATION_WITHDRAWN = "calibration withdrawn"
TREATMENT_WITHDRAWN = "treatment withdrawn"

AWAY = "put away"
NO_NAME = "A card without a name"


@dataclass(frozen=True, slots=True)
class Calibration:
    """A calibration as it was written in line `number`.

    `accuracy` is what was stated then, as typed; where nothing was, `ranges` are those that the card had. `value` and
    `uncertainty` are a check standard's, as typed.
    """

    number: int
    on: date | None
    due: date | None
    certificate: str
    by_whom: str
    accuracy: str
    ranges: tuple[Mapping[str, str], ...]
    value: str
    uncertainty: str
    withdrawn: str = ""


@dataclass(frozen=True, slots=True)
class Treatment:
    """What was done to a specimen, as written in line `number`.

    `what` is the name of a remedy, `read_as` the condition of what was read afterwards; `by` did it.
    """

    number: int
    on: date | None
    what: str
    read_as: str
    by: str
    note: str
    withdrawn: str = ""


@dataclass(frozen=True, slots=True)
class CardState:
    """What the log of a card amounts to.

    `texts` are its fields as typed; `said` is what they mean, or None where they cannot be read, and `faults` say why.
    `written` is the number of the line that wrote it last, `last` that of the last line.
    """

    kind: Kind
    texts: Mapping[str, Any]
    said: AnyCard | None
    faults: tuple[Fault, ...]
    away: bool
    calibrations: tuple[Calibration, ...] = ()
    treatments: tuple[Treatment, ...] = ()
    retest: date | None = None
    retest_why: str = ""
    notes: tuple[Line, ...] = ()
    written: int = 0
    last: int = 0
    lines: tuple[Line, ...] = field(default=(), repr=False)

    @property
    def title(self) -> str:
        """What a list shows of it."""
        return self.kind.title(self.texts) or NO_NAME


def fold_card(kind: CardKind, lines: Sequence[Line]) -> CardState:
    """Read the log of a card that is no study."""
    spec = KINDS[kind]
    ended = (CALIBRATION_WITHDRAWN, TREATMENT_WITHDRAWN)
    withdrawn = {line.about: line.reason for line in lines if line.kind in ended}
    state = CardState(spec, {}, None, (), False, lines=tuple(lines))
    for line in lines:
        state = _taken(state, line, withdrawn)
    read = read_typed(spec.asks, state.texts)
    faults = (*read.faults, *spec.check(read.values))
    said = None if faults else _with_steps(spec.make(**read.values), state)
    return replace(state, said=said, faults=faults)


def _taken(state: CardState, line: Line, withdrawn: Mapping[int | None, str]) -> CardState:
    state = replace(state, last=line.number)
    if line.kind == WRITTEN:
        return replace(state, texts=dict(line.fields), written=line.number)
    if line.kind in (PUT_AWAY, TAKEN_UP):
        return replace(state, away=line.kind == PUT_AWAY)
    if line.kind == NOTE:
        return replace(state, notes=(*state.notes, line))
    if line.kind == RETEST:
        by = read_typed(_step_asks(state.kind, RETEST), line.fields).values.get("by")
        return replace(state, retest=by, retest_why=line.reason)
    if line.kind == CALIBRATED:
        return _calibrated(state, line, withdrawn)
    if line.kind == TREATED:
        return _treated(state, line, withdrawn)
    return state


def _step_asks(kind: Kind, wanted: str) -> tuple[Any, ...]:
    return next((step.asks for step in kind.steps if step.kind == wanted), ())


def _calibrated(state: CardState, line: Line, withdrawn: Mapping[int | None, str]) -> CardState:
    read = read_typed(_step_asks(state.kind, CALIBRATED), line.fields)
    ranges = state.texts.get("ranges")
    one = Calibration(
        line.number,
        read.values.get("on"),
        read.values.get("due"),
        read.kept.get("certificate", ""),
        read.kept.get("by_whom", ""),
        read.kept.get("accuracy", ""),
        tuple(row for row in ranges if isinstance(row, Mapping)) if isinstance(ranges, list) else (),
        read.kept.get("value", ""),
        read.kept.get("uncertainty", ""),
        _withdrawn(line, withdrawn),
    )
    earlier = state.calibrations
    state = replace(state, calibrations=tuple(sorted((*earlier, one), key=_order)))
    if one.withdrawn or _last_calibration(state.calibrations) is not one or not one.value:
        return state
    # A new value makes the old uncertainty that of another one.
    return replace(state, texts={**state.texts, "value": one.value, "uncertainty": one.uncertainty})


def _treated(state: CardState, line: Line, withdrawn: Mapping[int | None, str]) -> CardState:
    read = read_typed(_step_asks(state.kind, TREATED), line.fields)
    one = Treatment(
        line.number,
        read.values.get("on"),
        read.kept.get("what", ""),
        read.kept.get("read_as", ""),
        read.kept.get("by_whom", "") or line.by,
        read.kept.get("note", ""),
        _withdrawn(line, withdrawn),
    )
    return replace(state, treatments=tuple(sorted((*state.treatments, one), key=_order)))


def _withdrawn(line: Line, withdrawn: Mapping[int | None, str]) -> str:
    return (withdrawn[line.number] or "withdrawn") if line.number in withdrawn else ""


def _order(one: Calibration | Treatment) -> tuple[date, int]:
    return one.on or date.min, one.number


def _last_calibration(calibrations: Sequence[Calibration]) -> Calibration | None:
    return next((one for one in reversed(calibrations) if not one.withdrawn), None)


def _with_steps(said: AnyCard, state: CardState) -> AnyCard:
    if isinstance(said, SpecimenCard):
        return replace(said, retest=state.retest)
    last = _last_calibration(state.calibrations)
    if last is not None and isinstance(said, MeterCard | CheckStandardCard):
        return replace(said, calibrated=last.on, due=last.due, certificate=last.certificate)
    return said


def face_of(kind: CardKind) -> MakeFace:
    """What makes the face of a card of `kind`."""

    def face(lines: Sequence[Line]) -> Face:
        return card_face(fold_card(kind, lines))

    return face


def card_face(state: CardState) -> Face:
    """What a list shows of a card."""
    spec, texts = state.kind, state.texts
    over = spec.kind == "job" and texts.get("state") in JOB_OVER
    words = [text for value in texts.values() for text in _words(value)]
    words += [
        card_mark(number) for ask in spec.asks if ask.of and isinstance(number := texts.get(ask.key), int)
    ]
    words += [str(note.fields.get("text", "")) for note in state.notes]
    words += [one.certificate for one in state.calibrations]
    if spec.only_one:
        words.append(name_mark(str(texts.get(spec.only_one, ""))))
    due, due_for = (None, "") if state.away or over else _due(state)
    shown = AWAY if state.away else "closed" if over else "open"
    words += [one.what for one in state.treatments]
    text = "\n".join(word for word in words if word)
    return Face(state.title, shown, text, due, due_for, _figures(state) if spec.kind == "specimen" else {})


def _figures(state: CardState) -> dict[str, Any]:
    """What a specimen is told apart from others by, where many are followed over the years."""
    read = read_typed(state.kind.asks, state.texts).values
    made = read.get("made") or read.get("received")
    return {
        **{key: str(read.get(key) or "") for key in ("part", "what", "plating", "lot")},
        "made": None if made is None else made.isoformat(),
        "treated": [
            [one.on.isoformat(), one.what, one.read_as]
            for one in state.treatments
            if one.on is not None and not one.withdrawn
        ],
    }


def _words(value: object) -> list[str]:
    if isinstance(value, str):
        return [value]
    if isinstance(value, list):
        return [
            text
            for row in value
            if isinstance(row, Mapping)
            for text in row.values()
            if isinstance(text, str)
        ]
    return []


def _due(state: CardState) -> tuple[date | None, str]:
    if state.kind.kind == "specimen":
        return (state.retest, "re-test") if state.retest else (None, "")
    if state.kind.kind == "job":
        by = read_typed(state.kind.asks, state.texts).values.get("promised_by")
        return (by, "promised to the customer") if by else (None, "")
    last = _last_calibration(state.calibrations)
    return (last.due, "calibration") if last is not None and last.due else (None, "")
