"""One reading taken at the bench: judged, then kept, or asked about and not kept yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry
from ohmsworth.report.judgement import Judgement
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.judge_entry import judge_entry
from ohmsworth.work.own_times import in_own_way
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import QUESTIONED, READ_BY, TAKEN, TYPED_BY, StudyState
from ohmsworth.work.taken_reading import TakenReading

#: What stands as the reason of a reading that had to wait until the bench answered, and is doubtful.
WAITED = "sent later, when nobody could be asked"
#: Doubts about the hand that types; a meter that the program asks has none.
OF_HANDS = ("CURRENT_AS_VOLTAGE",)


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of an entry: `number` is the line that keeps it, None while it is asked about.

    `after` is what the study's log says then.
    """

    number: int | None
    judgement: Judgement
    after: StudyState

    @property
    def also(self) -> tuple[TakenReading, ...]:
        """Other readings of the same step of the sheet, as when two people read it at the same time."""
        ones = self.after.twice.values() if self.number is not None else ()
        mates = next((group for group in ones if any(one.number == self.number for one in group)), ())
        return tuple(one for one in mates if one.number != self.number)

    @property
    def notes(self) -> tuple[str, ...]:
        """What is worth a word and need not be answered."""
        read = tuple(
            f"Step {one.entry.step} was read by {one.entry.operator or one.by} as well: reading {one.nth}. Both are kept."
            for one in self.also
        )
        return (*read, *self.judgement.notes)


@dataclass(frozen=True, slots=True)
class Sending:
    """Who sends an entry under which key.

    `anyway` is why it is kept in spite of doubts, "" where nobody said so; `waited` says that it was typed while the bench did
    not answer, so that nobody can be asked: it is kept, and its doubts stand beside it for the answer. `read_by` names the meter
    by quantity where the program itself asked it; it stands in the record. `typed_by` is who typed it, where
    that was somebody else.
    """

    by: str
    key: str
    anyway: str = ""
    waited: bool = False
    read_by: Mapping[str, str] = field(default_factory=dict)
    typed_by: str = ""


def take_entry(
    shop: Shop, desk: Desk, study: int, state: StudyState, entry: Entry, sending: Sending
) -> Taken:
    """Judge `entry` after `state` and keep it unless something has to be answered first; a key that is known is kept once.

    Raises
    ------
    InputRefused
        When it cannot be kept at all, or the study is closed; with every fault.
    """
    known = next((one for one in state.readings if one.key == sending.key), None)
    if known is None:
        refuse_closed(state)
    if entry.time is not None:
        entry = replace(entry, time=in_own_way(entry.time, [one.entry for one in state.counted]))
    question = desk.question(study, state)
    before = [one for one in state.counted if one is not known]
    asked = next((row for row in state.sheet if row.step == entry.step), None)
    used = [one for one in before if one.state == "used"]
    earlier = [one.entry for one in used]
    kept = [i for i, one in enumerate(used) if one.kept is not None]
    judgement = judge_entry(question, earlier, entry, asked, kept)
    if "voltage" in sending.read_by:
        judgement = _without(judgement, OF_HANDS)
    if known is not None:
        return Taken(known.number, judgement, state)
    if judgement.faults:
        raise InputRefused(judgement.faults)
    doubts: dict[str, Any] = {}
    if judgement.doubts:
        doubts["doubts"] = [doubt.code for doubt in judgement.doubts]
    if judgement.doubts and not sending.anyway and not sending.waited:
        _note_question(shop, study, entry, sending, doubts)
        return Taken(None, judgement, desk.state(study))
    reason = sending.anyway if judgement.doubts else ""
    if sending.waited and judgement.doubts:
        doubts["waited"] = [WAITED]
    if sending.read_by:
        doubts[READ_BY] = dict(sending.read_by)
    if sending.typed_by:
        doubts[TYPED_BY] = sending.typed_by
    line = NewLine(
        sending.key,
        TAKEN,
        doubts,
        reason=reason,
        entry=entry,
        specimen=state.specimens.get(entry.specimen),
    )
    added = shop.records.add(study, sending.by, [line])
    return Taken(added[0].number, judgement, desk.after(study, state, added))


def _without(judgement: Judgement, codes: tuple[str, ...]) -> Judgement:
    return replace(judgement, doubts=tuple(doubt for doubt in judgement.doubts if doubt.code not in codes))


def _note_question(shop: Shop, study: int, entry: Entry, sending: Sending, doubts: Mapping[str, Any]) -> None:
    """Keep what was typed and asked about: whoever types it anew leaves a trace of what it was."""
    written = {
        name: f"{typed.text} {typed.unit}"
        for name in ("voltage", "current", "resistance")
        if (typed := getattr(entry, name)) is not None
    }
    fields = {
        **doubts,
        **written,
        "specimen": entry.specimen,
        "condition": entry.condition,
        "mating": entry.mating,
    }
    shop.records.add(study, sending.by, [NewLine(f"{shop.new_key()}.asked", QUESTIONED, fields)])
