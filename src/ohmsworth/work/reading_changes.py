"""What may be done to a reading that was taken: each adds a line, none changes one."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.entry_faults import find_correction_faults
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import KEPT, PUT_BACK, SET_ASIDE, WITHDRAWN, StudyState
from ohmsworth.work.study_tones import refuse_other_tones, tones_of
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.take_told import curve_of
from ohmsworth.work.taken_reading import CORRECTED, ReadingState, TakenReading
from ohmsworth.work.uploads import refuse_copies

#: What a person asks for, and the line that it adds.
CHANGES = {"withdraw": WITHDRAWN, "put back": PUT_BACK, "keep": KEPT, "set aside": SET_ASIDE}
#: What can be asked for a reading in each state.
OFFERED: dict[ReadingState, tuple[str, ...]] = {
    "used": ("correct", "set aside", "keep", "withdraw"),
    "set aside": ("put back", "correct", "withdraw"),
    "withdrawn": ("put back",),
}


def reading_of(state: StudyState, number: int) -> TakenReading:
    """The reading of a line, or that of takes.

    Raises
    ------
    InputRefused
        When the line took no reading.
    """
    ones = (*state.readings, *(take.reading for take in state.takes))
    found = next((one for one in ones if one.number == number), None)
    if found is None:
        fault = Fault(
            f"line {number}", "no reading", "a reading of this study", "Choose it on the page of readings."
        )
        raise InputRefused((fault,))
    return found


def take_of(state: StudyState, number: int) -> RecordedTake | None:
    """The takes of a line; None for a line that took a reading of direct current."""
    return next((one for one in state.takes if one.reading.number == number), None)


def change_reading(
    shop: Shop, study: int, state: StudyState, number: int, change: str, reason: str, by: str, key: str
) -> None:
    """Withdraw a reading, put it back, keep it in spite of a warning, or set it aside.

    Raises
    ------
    InputRefused
        When the change is none of these or not for a reading in that state, or says no reason; or the study is closed.
    """
    reading = reading_of(state, number)
    if _is_done(reading, key):
        return
    refuse_closed(state)
    take = take_of(state, number)
    _refuse(reading, change, reason, _word(take))
    if take is not None and reading.state == "withdrawn":
        what = f"take {reading.nth}"
        refuse_copies(state, take.files, what)
        refuse_other_tones(tones_of(shop, study, state), curve_of(take.told).frequency.tolist(), what)
    shop.records.add(study, by, [NewLine(key, CHANGES[change], about=number, reason=reason.strip())])


def correct_reading(
    shop: Shop,
    desk: Desk,
    study: int,
    state: StudyState,
    number: int,
    entry: Entry,
    reason: str,
    by: str,
    key: str,
) -> None:
    """Write a reading anew: what it was stays in its history.

    Raises
    ------
    InputRefused
        When there is nothing to correct, no reason is given, or no file could hold what it would be; or the study is closed.
    """
    reading = reading_of(state, number)
    if _is_done(reading, key):
        return
    refuse_closed(state)
    take = take_of(state, number)
    _refuse(reading, "correct", reason, _word(take))
    if replace(entry, time=reading.entry.time) == reading.entry:
        fault = Fault(
            f"{_word(take)} {reading.nth}",
            "nothing that differs",
            "a correction",
            "Change what was wrong, or leave it.",
        )
        raise InputRefused((fault,))
    alike = state.counted if take is None else tuple(one.reading for one in state.counted_takes)
    others = [one.entry for one in alike if one.number != number]
    faults = find_correction_faults(desk.question(study, state), others, entry)
    if take is not None and _figures(entry) != _figures(reading.entry):
        mend = "Correct the names alone; where the recordings were others, withdraw the take and send those."
        faults.append(Fault("resistance", "another one", "what the recordings told", mend))
    if faults:
        raise InputRefused(tuple(faults))
    shop.records.add(
        study,
        by,
        [
            NewLine(
                key,
                CORRECTED,
                about=number,
                reason=reason.strip(),
                entry=entry,
                specimen=state.specimens.get(entry.specimen),
            )
        ],
    )


def undo_last(
    shop: Shop, study: int, state: StudyState, wanted: int | None, by: str, key: str
) -> TakenReading:
    """Withdraw the reading `wanted`, else the last one that counts.

    The page names the reading that it shows as the last: meanwhile somebody else may have taken another, or withdrawn it.

    Raises
    ------
    InputRefused
        When there is none, or `wanted` counts no more; or the study is closed.
    """
    every = (*state.readings, *(take.reading for take in state.takes))
    done = next((one for one in every if _is_done(one, key)), None)
    if done is not None:
        return done
    refuse_closed(state)
    if wanted is not None and (shown := reading_of(state, wanted)).state == "withdrawn":
        mend = "Look at the last readings, then undo again if one of them is wrong."
        raise InputRefused(
            (
                Fault(
                    "undo",
                    f"{_word(take_of(state, wanted))} {shown.nth}, withdrawn already",
                    "one that counts",
                    mend,
                ),
            )
        )
    counted = state.counted
    if wanted is not None:  # the page names a take as well
        counted += tuple(take.reading for take in state.counted_takes)
    if not counted:
        fault = Fault("undo", "no reading", "a reading that was taken", "There is nothing to undo.")
        raise InputRefused((fault,))
    last = max(counted, key=lambda one: (one.number == wanted, one.number))
    shop.records.add(study, by, [NewLine(key, WITHDRAWN, about=last.number, reason="undone at the bench")])
    return last


def _figures(entry: Entry) -> tuple[Typed | None, ...]:
    return entry.voltage, entry.current, entry.resistance


def _is_done(reading: TakenReading, key: str) -> bool:
    """Whether the line with `key` is in the log: it was sent again because its answer had not come."""
    return any(line.key == key for line in reading.changes)


def _word(take: RecordedTake | None) -> str:
    """What it is called in a sentence."""
    return "reading" if take is None else "take"


def _refuse(reading: TakenReading, change: str, reason: str, word: str) -> None:
    faults = []
    offered = OFFERED[reading.state]
    if change not in offered:
        mend = f"Look at the {word} again: it has been changed meanwhile."
        faults.append(
            Fault(
                f"{word} {reading.nth}",
                f"'{change}' of a {word} that is {reading.state}",
                f"one of {', '.join(offered)}",
                mend,
            )
        )
    if not reason.strip():
        mend = f"Say in a few words why: it stands in the record beside the {word}."
        faults.append(Fault("the reason", "nothing", f"why the {word} is changed", mend))
    if faults:
        raise InputRefused(tuple(faults))
