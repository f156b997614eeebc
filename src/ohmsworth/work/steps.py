"""Which reading comes next in a study of the records, and leaving a step out."""

from __future__ import annotations

from typing import cast

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.next_step import (
    NextStep,
    add_mating,
    first_open,
    free_step,
    partner_step,
    repeat_reading,
)
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_log import SKIPPED, StudyState


def step_for(state: StudyState, do: str = "", step: int | None = None) -> NextStep | None:
    """The reading to take.

    Parameters
    ----------
    state
        The study.
    do
        "" for what comes next: what the sheet says, and before it the partner of a reading beside the sheet; "sheet" for
        what the sheet says in any case; "repeat" for the last reading again, "mating" for one more mating of the last contact,
        "on" to go on beside the sheet, "free" for something else.
    step
        A step of the sheet that is to be shown whatever was read.

    Returns
    -------
    NextStep | None
        None where nothing leads: the sheet is done, or there is none and nothing was read yet.
    """
    entries = [one.entry for one in state.counted]
    last = entries[-1] if entries else None
    if do == "repeat":
        return repeat_reading(entries)
    if do == "mating" and last is not None:
        return add_mating(state.sheet, entries, last.specimen, last.condition, last.contact)[0]
    if do == "on" and last is not None:
        return step_for(state) if state.sheet else _partner(state) or step_for(state)
    if do == "free":
        return None
    done = {*state.answered, *state.skipped} - {step}
    open_rows = [row for row in state.sheet if row.step not in done]
    if step is not None:
        open_rows.sort(key=lambda row: row.step != step)
    led = first_open(open_rows, entries, rows=state.sheet) if open_rows else None
    if do == "" and step is None and state.sheet and last is not None and not _in_mating(led, last):
        beside = any(one.step is None and one.cell == last.cell for one in reversed(entries))
        led = (_partner(state) if beside else None) or led
    return led if state.sheet else free_step(entries)


def _in_mating(step: NextStep | None, last: Entry) -> bool:
    """Whether a step reads on in the mating of the last reading: then its own readings come first."""
    if step is None:
        return False
    row = step.row
    return (row.specimen, row.condition, step.contact, str(row.mating or "")) == last.cell


def _partner(state: StudyState) -> NextStep | None:
    """The current turned round, where the last mating has a reading without its partner and the study reads both ways."""
    entries = [one.entry for one in state.counted]
    both = any(row.polarity == "-" for row in state.sheet) or any(one.polarity == "-" for one in entries)
    return partner_step(entries) if both else None


def ahead(state: StudyState, most: int) -> tuple[NextStep, ...]:
    """The next steps of the sheet, as they will be said if each is read in its turn."""
    done = {*state.answered, *state.skipped}
    rows = [row for row in state.sheet if row.step not in done]
    several = {row.condition: row for row in state.sheet}  # one of each condition: whether it has to be said
    seen = {one.entry.specimen: one.entry for one in state.counted}
    if state.counted:
        seen[""] = state.counted[-1].entry
    entries = list(seen.values())
    found = []
    for row in rows[:most]:
        found.append(first_open([row, *several.values()], entries))
        entries = [one for one in entries if one.specimen != row.specimen]
        entries.append(Entry(row.specimen, row.condition, "", str(row.mating), cast(Sign, row.polarity)))
    return tuple(found)


def skip_step(shop: Shop, study: int, state: StudyState, step: int | None, by: str, key: str) -> None:
    """Leave a step of the sheet out.

    Raises
    ------
    InputRefused
        When the sheet has no such step, or the study is closed.
    """
    refuse_closed(state)
    if step not in {row.step for row in state.sheet}:
        fault = Fault(
            "skip", f"step {step}", "a step of the sheet", "Load the page again: the sheet was laid anew."
        )
        raise InputRefused((fault,))
    shop.records.add(study, by, [NewLine(key, SKIPPED, {"step": step}, reason="skipped at the bench")])
