"""The past studies that a study names under `history`, or everything that is wrong with them."""

from __future__ import annotations

import os.path
from collections.abc import Callable
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.readings.study import Study
from ohmsworth.work.ports import LoadedStudy

WHERE = "study.toml, key 'history'"


def load_history(
    folder: Path, study: Study, load: Callable[[Path], LoadedStudy]
) -> tuple[tuple[str, LoadedStudy], ...]:
    """Read them with `load`.

    Raises
    ------
    InputRefused
        With every fault: a folder that is missing, at fault, named twice or the study itself, another scale of analysis.
    """
    faults: list[Fault] = []
    found: list[tuple[str, LoadedStudy]] = []
    seen = {_resolved(folder)}
    for name in study.history:
        past = folder / name
        place = _resolved(past)
        if place in seen:
            faults.append(_repeated(name, place == _resolved(folder)))
            continue
        seen.add(place)
        if not os.path.isdir(past):
            faults.append(_nowhere(name))
            continue
        try:
            loaded = load(past)
        except InputRefused as refused:
            faults += [_inside(name, fault) for fault in refused.faults]
            continue
        faults += _other_scale(name, study, loaded.study)
        found.append((name, loaded))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(found)


def _resolved(folder: Path) -> Path:
    try:
        return folder.resolve()
    except (OSError, RuntimeError, ValueError):  # told where it is opened
        return folder


def _inside(name: str, fault: Fault) -> Fault:
    return Fault(f"{WHERE}, {shorten(name)}: {fault.where}", fault.found, fault.expected, fault.mend)


def _nowhere(name: str) -> Fault:
    mend = "Check the name: it is read from this study's own folder."
    return Fault(WHERE, f"{shorten(name, 200)}, which is no folder", "folders of past studies", mend)


def _repeated(name: str, itself: bool) -> Fault:
    if itself:
        mend = "Name studies that were read before this one."
        return Fault(WHERE, f"{shorten(name)}, which is this study", "folders of past studies", mend)
    return Fault(WHERE, f"{shorten(name)} a second time", "each past study once", "Remove one of the two.")


def _other_scale(name: str, study: Study, past: Study) -> list[Fault]:
    if past.scale == study.scale:
        return []
    expected = f'a past study with scale = "{study.scale}", as this one'
    mend = "Scatter in per cent and scatter in ohm cannot be compared: give both studies one scale."
    return [Fault(WHERE, f'{shorten(name)} with scale = "{past.scale}"', expected, mend)]
