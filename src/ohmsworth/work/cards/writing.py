"""What may be done to a card: making it, changing it, writing a step on it, putting it away. Each adds lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from threading import Lock
from typing import Any

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.names import twin_key
from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.kinds import CALIBRATED, KINDS, Kind, Step, calibration_days
from ohmsworth.work.cards.log import (
    CALIBRATION_WITHDRAWN,
    NOTE,
    PUT_AWAY,
    TAKEN_UP,
    TREATMENT_WITHDRAWN,
    WRITTEN,
    CardState,
    face_of,
    fold_card,
)
from ohmsworth.work.cards.reasons import long_reason_faults, reason_faults
from ohmsworth.work.cards.typed import Read, clean_text, read_typed
from ohmsworth.work.marks import name_mark
from ohmsworth.work.records import CardKind, NewLine, NoSuchCard, Records
from ohmsworth.work.shop import Shop

#: Looking whether a name is taken and taking it are one act.
_TAKING = Lock()
LONGEST_NOTE = 5000


def read_card(records: Records, number: int) -> CardState:
    """What a card that is no study says now.

    Raises
    ------
    NoSuchCard
        When there is none of that number, or it is a study.
    """
    card = records.card(number)
    if card.kind not in KINDS:
        raise NoSuchCard(f"Card no. {number} is a {card.kind}: look at it on its own page.")
    return fold_card(card.kind, records.lines(number))


def open_card(shop: Shop, kind: CardKind, given: Mapping[str, Any], by: str, key: str) -> int:
    """Make a card out of what was typed, and return its number; the same `key` twice makes it once.

    Raises
    ------
    InputRefused
        With everything that is wrong with the fields, each fault named by the field's label.
    """
    spec = KINDS[kind]
    read, lines = _read_all(shop.records, spec, given), []
    lines.append(NewLine(key, WRITTEN, read.kept))
    faults = list(read.faults)
    for step in spec.steps:
        if step.with_new and any(clean_text(given.get(ask.key)) for ask in _own(step)):
            more = _read_step(step, {ask.key: given.get(ask.key) for ask in _own(step)})
            faults += more.faults
            lines.append(NewLine(f"{key}.{step.slug}", step.kind, more.kept))
    with _TAKING:
        taken, known = _name_taken(shop.records, spec, read.kept, None, key)
        if known is not None:
            return known
        if faults or taken:
            raise InputRefused((*taken, *faults))
        return shop.records.open_card(kind, by, lines, face_of(kind))


def _own(step: Step) -> tuple[Ask, ...]:
    """What the form of a new card asks of a step."""
    return tuple(ask for ask in step.asks if not ask.later)


def step_asks_when_new(spec: Kind) -> tuple[tuple[Step, tuple[Ask, ...]], ...]:
    """The steps that a new card's form asks for, each with its fields there."""
    return tuple((step, _own(step)) for step in spec.steps if step.with_new)


def write_card(
    shop: Shop, number: int, given: Mapping[str, Any], reason: str, seen: int, by: str, key: str
) -> bool:
    """Write a card anew; `seen` is the line that had written it when the form was drawn. False when nothing differs.

    Raises
    ------
    InputRefused
        With everything that is wrong: fields, a missing reason for a change of what was written, a change by somebody
        else since the form was drawn.
    """
    state = read_card(shop.records, number)
    if any(line.key == key for line in state.lines):
        return True
    read = _read_all(shop.records, state.kind, given)
    with _TAKING:
        taken, _ = _name_taken(shop.records, state.kind, read.kept, number, key)
        faults = [*taken, *read.faults, *_meanwhile(state, seen), *_reasoned(state, read.kept, reason)]
        if faults:
            raise InputRefused(tuple(faults))
        if all(_same(state.texts.get(k), v) for k, v in read.kept.items()):
            return False
        line = NewLine(key, WRITTEN, read.kept, reason=clean_text(reason))
        shop.records.add(number, by, [line], face_of(state.kind.kind))
    return True


def _same(old: Any, new: Any) -> bool:
    return bool((old or "") == (new or ""))


def _meanwhile(state: CardState, seen: int) -> list[Fault]:
    if seen >= state.written:
        return []
    line = next(line for line in state.lines if line.number == state.written)
    found = f"changed by {line.by} since this form was opened"
    mend = "Look at what stands there now; send yours again if it still holds."
    return [Fault("this card", found, "the card as the form showed it", mend)]


def _reasoned(state: CardState, kept: Mapping[str, Any], reason: str) -> list[Fault]:
    changed = [
        ask.label
        for ask in state.kind.asks
        if state.texts.get(ask.key) and not _same(state.texts.get(ask.key), kept.get(ask.key))
    ]
    return (
        reason_faults(reason, f"why this was changed: {', '.join(changed)}")
        if changed
        else long_reason_faults(reason)
    )


def _read_all(records: Records, spec: Kind, given: Mapping[str, Any]) -> Read:
    """The fields, the rules between them, and the cards that they name."""
    read = read_typed(spec.asks, given)
    faults = [*read.faults, *spec.check(read.values)]
    for ask in spec.asks:
        other = read.values.get(ask.key) if ask.of else None
        if other is not None and not _is_card(records, other, ask.of):
            faults.append(Fault(ask.label, f"card no. {other}", f"a {ask.of}", "Choose one of the list."))
    return Read(read.kept, read.values, tuple(faults))


def _is_card(records: Records, number: int, kind: CardKind | None) -> bool:
    try:
        return records.card(number).kind == kind
    except NoSuchCard:
        return False


def _name_taken(
    records: Records, spec: Kind, kept: Mapping[str, Any], own: int | None, key: str
) -> tuple[list[Fault], int | None]:
    """A fault where another card has the name; and the card that `key` has made already."""
    name = str(kept.get(spec.only_one) or "") if spec.only_one else ""
    if not name:
        return [], None
    ask = next(ask for ask in spec.asks if ask.key == spec.only_one)
    if len(name) > ask.most:
        return [], None  # told with the field itself
    for card in records.cards(spec.kind, search=name_mark(name), most=20):
        lines = records.lines(card.number)
        if own is None and lines and lines[0].key == key:
            return [], card.number
        theirs = str(fold_card(spec.kind, lines).texts.get(spec.only_one) or "")
        if card.number != own and twin_key(theirs) == twin_key(name):
            found = f"{shorten(name)}, which card no. {card.number} has ({card.face.state})"
            mend = "Look at that card, or tell the two apart by a letter."
            return [Fault(ask.label, found, "one that no other card has", mend)], None
    return [], None


def add_step(
    shop: Shop, number: int, slug: str, given: Mapping[str, Any], reason: str, by: str, key: str
) -> None:
    """Write a step on a card: a calibration, a re-test that is wanted.

    Raises
    ------
    InputRefused
        With everything that is wrong with its fields, or when the card has no such step.
    """
    state = read_card(shop.records, number)
    step = next((one for one in state.kind.steps if one.slug == slug), None)
    if step is None:
        fault = Fault(
            "this card", f"a {state.kind.one}", f"a card with a {shorten(slug)}", "Go back to the card."
        )
        raise InputRefused((fault,))
    read = _read_step(step, given)
    faults = [*read.faults, *long_reason_faults(reason)]
    if faults:
        raise InputRefused(tuple(faults))
    line = NewLine(key, step.kind, read.kept, reason=clean_text(reason))
    shop.records.add(number, by, [line], face_of(state.kind.kind))


def _read_step(step: Step, given: Mapping[str, Any]) -> Read:
    read = read_typed(step.asks, given)
    more = calibration_days(read.values) if step.kind == CALIBRATED else ()
    return Read(read.kept, read.values, (*read.faults, *more))


def withdraw_calibration(shop: Shop, number: int, line: int, reason: str, by: str, key: str) -> None:
    """Say that a calibration does not hold, or was written by mistake.

    Raises
    ------
    InputRefused
        When the line is no calibration that holds, or no reason is given.
    """
    state = read_card(shop.records, number)
    held = {one.number for one in state.calibrations if not one.withdrawn}
    new = NewLine(key, CALIBRATION_WITHDRAWN, about=line, reason=clean_text(reason))
    _withdraw(shop, number, state, "calibration", line in held, new, by)


def withdraw_treatment(shop: Shop, number: int, line: int, reason: str, by: str, key: str) -> None:
    """Say that a specimen was not treated as was written; refused as a calibration is."""
    state = read_card(shop.records, number)
    held = {one.number for one in state.treatments if not one.withdrawn}
    new = NewLine(key, TREATMENT_WITHDRAWN, about=line, reason=clean_text(reason))
    _withdraw(shop, number, state, "treatment", line in held, new, by)


def _withdraw(
    shop: Shop, number: int, state: CardState, what: str, holds: bool, line: NewLine, by: str
) -> None:
    faults = reason_faults(line.reason, "why it does not hold")
    if not holds:
        mend = "Choose it on the card's page."
        faults.append(Fault(what, f"line {line.about}", f"a {what} that holds", mend))
    _add(shop, number, state, faults, line, by)


def write_note(shop: Shop, number: int, text: str, by: str, key: str) -> None:
    """Write a note on a card; raises InputRefused when it is empty or too long."""
    state, clean = read_card(shop.records, number), clean_text(text, several_lines=True)
    faults = [] if clean else [Fault("note", "nothing", "a text", "Write it, or leave it.")]
    if len(clean) > LONGEST_NOTE:
        found = f"a text of {len(clean)} characters"
        faults.append(Fault("note", found, f"at most {LONGEST_NOTE}", "Write two notes."))
    _add(shop, number, state, faults, NewLine(key, NOTE, {"text": clean}), by)


def put_away(shop: Shop, number: int, reason: str, by: str, key: str) -> None:
    """Put a card away: no list offers it and nothing is due for it; raises InputRefused without a reason."""
    state = read_card(shop.records, number)
    faults = reason_faults(reason, "why it is put away")
    _add(shop, number, state, faults, NewLine(key, PUT_AWAY, reason=clean_text(reason)), by)


def take_up(shop: Shop, number: int, reason: str, by: str, key: str) -> None:
    """Take a card up again."""
    state = read_card(shop.records, number)
    _add(
        shop, number, state, long_reason_faults(reason), NewLine(key, TAKEN_UP, reason=clean_text(reason)), by
    )


def _add(shop: Shop, number: int, state: CardState, faults: Sequence[Fault], line: NewLine, by: str) -> None:
    if faults:
        raise InputRefused(tuple(faults))
    shop.records.add(number, by, [line], face_of(state.kind.kind))
