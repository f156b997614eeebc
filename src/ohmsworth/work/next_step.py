"""What comes next at the bench: from the sheet, or, without one, from what came before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from ohmsworth.readings.entry import Entry
from ohmsworth.readings.plan_request import DEFAULT_MINUTES
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED
from ohmsworth.report.sheet import SheetRow
from ohmsworth.report.step_words import (
    CHECK,
    FIRST,
    NEW_MATING,
    NEXT_CONDITION,
    NEXT_CONTACT,
    NEXT_SPECIMEN,
    REPEAT,
    TURN,
    left_words,
    short_words,
    step_words,
)
from ohmsworth.resistance.sequence import SINGLE, group_rows

_FLOWS = {"+": FORWARD, "-": REVERSED, "0": OFF}
#: A pause longer than this between two readings was no part of the work (seconds).
_PAUSE = 900.0
#: Readings that show how fast the bench works, and so many of the last at most.
_PACE, _LATEST = 6, 200
#: Readings of a mating where none shows how many are usual.
_USUAL = 2


@dataclass(frozen=True, slots=True)
class NextStep:
    """A reading to take.

    Parameters
    ----------
    row
        The step; its number is 0 outside of the sheet.
    contact
        Contact of the specimen, where contacts are told apart.
    change
        What is other than in the reading before: "turn the current round", "new mating", "next specimen" ...
    words
        What to connect.
    left, minutes
        Readings of the sheet that are left, this one included, and roughly how long they take; None without a sheet.
    left_words
        The same in words; "" without a sheet.
    short
        What to do, where the specimen's name stands above it already.
    partner
        Whether it is asked for because a reading beside the sheet has none with the current the other way.
    """

    row: SheetRow
    contact: str
    change: str
    words: str
    left: int | None = None
    minutes: float | None = None
    left_words: str = ""
    short: str = ""
    partner: bool = False


def next_step(
    rows: Sequence[SheetRow],
    entries: Sequence[Entry],
    skipped: Collection[int] = (),
    minutes: tuple[float, float, float] = DEFAULT_MINUTES,
) -> NextStep | None:
    """The first step of the sheet that is neither read nor skipped; None when the sheet is done.

    Parameters
    ----------
    rows
        The sheet.
    entries
        The accepted entries in their order; `Entry.step` says which step each one answers.
    skipped
        Steps that are left out.
    minutes
        For each specimen, mating and reading, as long as the bench has not shown its own pace.
    """
    done = {entry.step for entry in entries} | set(skipped)
    open_rows = [row for row in rows if row.step not in done]
    if not open_rows:
        return None
    return first_open(open_rows, entries, minutes, rows)


def first_open(
    open_rows: Sequence[SheetRow],
    entries: Sequence[Entry],
    minutes: tuple[float, float, float] = DEFAULT_MINUTES,
    rows: Sequence[SheetRow] = (),
) -> NextStep:
    """The first of the steps that are still open, at least one, as it is said after `entries`; `rows` is the whole sheet."""
    names = {one.condition for one in rows or open_rows if not one.note}
    step = _step(open_rows[0], "", entries, len(names) > 1)
    took = _minutes(open_rows, entries, minutes)
    return replace(step, left=len(open_rows), minutes=took, left_words=left_words(len(open_rows), took))


def repeat_reading(entries: Sequence[Entry]) -> NextStep | None:
    """The last reading once more, outside of the sheet; None before there is one."""
    if not entries:
        return None
    last = entries[-1]
    return _step(_like(last, last.mating, last.polarity), last.contact, entries, _several(entries))


def add_mating(
    rows: Sequence[SheetRow], entries: Sequence[Entry], specimen: str, condition: str, contact: str = ""
) -> tuple[NextStep, ...]:
    """One more mating of a specimen, outside of the sheet: its readings with the current to and fro as usual.

    Its number is the next one that neither the sheet nor an entry has.
    """
    known = [str(row.mating) for row in rows if (row.specimen, row.condition) == (specimen, condition)]
    known += [one.mating for one in entries if (one.specimen, one.condition) == (specimen, condition)]
    number = _next_number(known)
    polarities = _usual_polarities(rows, entries)
    steps, before = [], list(entries)
    for polarity in polarities:
        row = SheetRow(0, 0, "", specimen, condition, number, polarity, "")
        steps.append(_step(row, contact, before, _several(entries)))
        before.append(Entry(specimen, condition, contact, str(number), polarity))  # type: ignore[arg-type]
    return tuple(steps)


def asked_step(entries: Sequence[Entry], entry: Entry) -> NextStep:
    """A reading beside the sheet that is asked for already, as it is said after `entries`; `entry` says what of."""
    return _step(_like(entry, entry.mating, entry.polarity), entry.contact, entries, _several(entries))


def partner_step(entries: Sequence[Entry]) -> NextStep | None:
    """The reading with the current the other way that the last mating lacks; None where every reading has its partner.

    Readings are paired as `ohmsworth.resistance.sequence` does. One that is left alone keeps its thermal EMF, though its mating
    has been read both ways: so a reading taken again is half of a pair.
    """
    last = entries[-1]
    own = [one for one in entries if one.specimen == last.specimen and one.cell == last.cell]
    signs = np.array([_FLOWS.get(one.polarity, UNSTATED) for one in own], np.int8)
    groups = group_rows(np.zeros(len(own), np.int64), signs, None)
    alone = groups.rows[groups.form == SINGLE, 0].tolist()
    wanted = {"+": "-", "-": "+"}.get(own[alone[-1]].polarity) if alone else None
    if wanted is None:
        return None
    step = _step(_like(last, last.mating, wanted), last.contact, entries, _several(entries))
    return replace(step, partner=True)


def free_step(entries: Sequence[Entry]) -> NextStep | None:
    """What is likely to come next without a sheet; None before there is an entry to go on from.

    The current is turned round until the mating has as many readings as matings have as a rule; then comes the specimen
    that followed this one in the round before, else a new mating of the same one.
    """
    if not entries:
        return None
    last = entries[-1]
    matings = _matings(entries)
    current = matings[-1]
    if len(current) < _usual_readings(matings[:-1]):
        turned = {"+": "-", "-": "+"}.get(last.polarity, last.polarity)
        return _step(_like(last, last.mating, turned), last.contact, entries, _several(entries))
    follower = _follower(matings)
    model = follower or last
    known = [one.mating for one in entries if one.cell[:3] == model.cell[:3]]
    first = current[0].polarity or "+"
    row = replace(_like(model, "", first), mating=_next_number(known))
    return _step(row, model.contact, entries, _several(entries))


def _step(row: SheetRow, contact: str, entries: Sequence[Entry], several: bool) -> NextStep:
    change = _change(row, contact, entries)
    seen = any(one.specimen == row.specimen for one in entries)
    mating = str(row.mating) if row.mating else ""
    words = step_words(
        change, _called(row, contact), row.condition, mating, row.polarity, seen=seen, several=several
    )
    short = short_words(change, row.condition, mating, row.polarity, seen=seen)
    return NextStep(row, contact, change, words, short=short)


def _called(row: SheetRow, contact: str) -> str:
    return f"{row.specimen}, contact {contact}" if contact else row.specimen


def _change(row: SheetRow, contact: str, entries: Sequence[Entry]) -> str:
    last = entries[-1] if entries else None
    same_mating = last is not None and last.cell == (row.specimen, row.condition, contact, _mating_name(row))
    if last is not None and same_mating:
        return REPEAT if last.polarity == row.polarity else TURN
    if row.note.startswith("check standard"):
        return CHECK
    if last is None:
        return FIRST
    if last.specimen == row.specimen and last.condition == row.condition:
        return NEW_MATING if last.contact == contact else NEXT_CONTACT
    before = [one.condition for one in entries if one.specimen == row.specimen]
    if before and before[-1] != row.condition:
        return NEXT_CONDITION
    return NEXT_SPECIMEN


def _mating_name(row: SheetRow) -> str:
    return str(row.mating) if row.mating else ""


def _like(entry: Entry, mating: str, polarity: str) -> SheetRow:
    number = int(mating) if mating.isdecimal() and len(mating) < 9 else 0
    return SheetRow(0, 0, entry.operator, entry.specimen, entry.condition, number, polarity, "")


def _several(entries: Sequence[Entry]) -> bool:
    return len({one.condition for one in entries}) > 1


def _next_number(known: Sequence[str]) -> int:
    return max((int(name) for name in known if name.isdecimal() and len(name) < 9), default=0) + 1


def _matings(entries: Sequence[Entry]) -> list[list[Entry]]:
    """The entries cut where the mating changes."""
    found: list[list[Entry]] = []
    for entry in entries:
        if found and found[-1][-1].cell == entry.cell:
            found[-1].append(entry)
        else:
            found.append([entry])
    return found


def _usual_readings(matings: Sequence[Sequence[Entry]]) -> int:
    """How many readings a mating has as a rule; the later ones show it."""
    sizes = Counter(len(mating) for mating in matings[-9:])
    return sizes.most_common(1)[0][0] if sizes else _USUAL


def _usual_polarities(rows: Sequence[SheetRow], entries: Sequence[Entry]) -> list[str]:
    """The polarities of a mating as the sheet, or the last whole mating, has them."""
    if rows:
        contacts = [row for row in rows if not row.note] or list(rows)
        first = contacts[0]
        key = (first.specimen, first.condition, first.mating)
        return [r.polarity for r in contacts if (r.specimen, r.condition, r.mating) == key]
    if not entries:
        return ["+", "-"]
    longest = max(_matings(entries)[-9:], key=len)
    return [one.polarity for one in longest]


def _follower(matings: Sequence[Sequence[Entry]]) -> Entry | None:
    """What followed the present contact when it was read before, or None."""
    own = matings[-1][-1].cell[:3]
    for earlier, after in reversed(list(pairwise(matings))):
        if earlier[-1].cell[:3] == own and after is not matings[-1] and after[0].cell[:3] != own:
            return after[0]
    return None


def _minutes(
    rows: Sequence[SheetRow], entries: Sequence[Entry], minutes: tuple[float, float, float]
) -> float:
    """How long `rows` take: at the pace of the entries, else by the minutes that are planned."""
    times = [one.time for one in entries[-_LATEST:] if one.time is not None]
    gaps = [(b - a).total_seconds() for a, b in pairwise(times) if _same_clock(a, b)]
    gaps = [gap for gap in gaps if 0 < gap < _PAUSE]
    if len(gaps) >= _PACE:
        return len(rows) * sum(gaps) / len(gaps) / 60
    per_specimen, per_mating, per_reading = minutes
    known = {one.specimen for one in entries}
    specimens = {row.specimen for row in rows} - known
    matings = {(row.specimen, row.condition, row.mating) for row in rows}
    # A planned reading is one of both polarities.
    return len(specimens) * per_specimen + len(matings) * per_mating + len(rows) / 2 * per_reading


def _same_clock(a: object, b: object) -> bool:
    """Whether both times state a zone, or neither."""
    return (getattr(a, "tzinfo", None) is None) == (getattr(b, "tzinfo", None) is None)
