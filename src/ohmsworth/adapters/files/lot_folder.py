"""A study folder that asks about a lot, before or after its sample was measured."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.folder import load_study, refuse_no_folder
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.study_toml import read_study
from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.study import Study
from ohmsworth.work.ports import LoadedLot, LoadedStudy

_EXAMPLE = '[lot] with acceptable = "1 %" and rejectable = "6 %"'


def load_lot(folder: Path) -> LoadedLot:
    """Read the study in `folder`; its readings only when there are any.

    Raises
    ------
    InputRefused
        With every fault; nothing was written.
    """
    refuse_no_folder(folder)
    if (folder / READINGS).exists():
        loaded = load_study(folder)
        faults = [*_asked(loaded.study), *_condition(loaded)]
        if faults:
            raise InputRefused(tuple(faults))
        return LoadedLot(loaded.study, loaded)
    study, faults = read_study(folder / STUDY)
    if study is not None:
        known = {fault.where.partition(",")[2] for fault in faults}
        faults += [
            fault for fault in _asked(study) if not any(fault.where.split("'")[1] in place for place in known)
        ]
    if faults or study is None:
        raise InputRefused(tuple(faults))
    return LoadedLot(study, None)


def _asked(study: Study) -> list[Fault]:
    """What the question lacks."""
    faults = []
    if study.lot is None:
        mend = "Say which share over the limit is still acceptable, and which is not."
        faults.append(Fault(f"{STUDY}, key 'lot'", "no such table", _EXAMPLE, mend))
    if study.limit is None:
        mend = "A lot is judged by the pieces over a limit: add it, with its source."
        faults.append(Fault(f"{STUDY}, key 'limit'", "no such table", "[limit] with a resistance", mend))
    return faults


def _condition(loaded: LoadedStudy) -> list[Fault]:
    """Which of several conditions is the lot."""
    lot, names = loaded.study.lot, loaded.table.condition.names
    if lot is None or (lot.condition is None and len(names) == 1):
        return []
    some = "one of " + ", ".join(shorten(name, 30) for name in names[:6])
    where = f"{STUDY}, [lot], key 'condition'"
    if lot.condition is None:
        return [Fault(where, f"none among {len(names)} conditions", some, "Say which of them is the lot.")]
    if clean_name(lot.condition) in names:
        return []
    near = nearest_name(lot.condition, names)
    mend = f"Did you mean {shorten(near)}?" if near else "Write it as in readings.csv."
    return [Fault(where, shorten(lot.condition), some, mend)]
