"""What the meters said, on its way into a study: judged and kept as what is typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.readings.entry import Entry
from ohmsworth.work.meter_run import Keeper
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_entry import Sending, Taken, take_entry


def keeper(shop: Shop, desk: Desk, study: int, by: str) -> Keeper:
    """Keeps the readings of one sequence; each answers its own step of the sheet."""

    def keep(entry: Entry, key: str, read_by: Mapping[str, str]) -> Taken:
        if entry.step is not None:
            entry = replace(entry, step=open_step(desk.state(study), entry))
        return take_entry(shop, desk, study, desk.state(study), entry, Sending(by, key, read_by=read_by))

    return keep


def open_step(state: StudyState, entry: Entry) -> int | None:
    """The step of the sheet that asks for this reading: the one that was led to, or one that has none yet."""
    done = {*state.answered, *state.skipped}
    wanted = (entry.specimen, entry.condition, entry.mating, entry.polarity)
    open_rows = [
        row.step
        for row in state.sheet
        if row.step not in done
        and (row.specimen, row.condition, str(row.mating or ""), row.polarity) == wanted
    ]
    return entry.step if entry.step in open_rows else next(iter(open_rows), None)
