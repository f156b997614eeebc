"""plan.json: the exact tones, as they were played; what a later release analyses an older take by."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from ohmsworth.adapters.files.decode import read_text
from ohmsworth.errors import ArgumentFault, Fault, shorten
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.work.tone_files import PLAN

FORMAT = "ohmsworth tone plan 1"
_WHOLE = ("rate", "period", "periods", "run_in", "silence", "level", "gap", "mark")
_MEND = "Take plan.json from the folder in which drive.wav was written."
#: A number of samples beyond this is no plan of hours.
_MOST = 2**40


def plan_bytes(plan: TonePlan) -> bytes:
    """`plan` as JSON; the same plan, the same bytes."""
    data = {
        "format": FORMAT,
        "way": plan.way,
        **{name: getattr(plan, name) for name in _WHOLE},
        "cycles": plan.cycles.tolist(),
        "amplitudes": plan.amplitudes.tolist(),
        "phases": plan.phases.tolist(),
    }
    return (json.dumps(data, indent=1) + "\n").encode()


def read_plan_json(path: Path) -> tuple[TonePlan | None, list[Fault]]:
    """Read the file: the plan, or the faults that stand in the way."""
    text, faults = read_text(path, "Write it with 'ohmsworth tones FOLDER'.")
    if text is None:
        return None, faults
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        return None, [Fault(PLAN, "text that is not JSON", "what 'ohmsworth tones' wrote", _MEND)]
    found = data.get("format") if isinstance(data, dict) else None
    if found != FORMAT:
        told = shorten(str(found)) if found else "no format"
        mend = "Read it with the release that wrote it." if str(found).startswith(FORMAT[:-1]) else _MEND
        return None, [Fault(f"{PLAN}, key 'format'", told, f'"{FORMAT}"', mend)]
    return _plan(data)


def _plan(data: dict[str, Any]) -> tuple[TonePlan | None, list[Fault]]:
    faults = [
        Fault(f"{PLAN}, key '{name}'", shorten(str(data.get(name))), "a whole number above zero", _MEND)
        for name in _WHOLE
        if not _whole(data.get(name))
    ]
    if data.get("way") not in ("together", "in turn"):
        faults.append(
            Fault(f"{PLAN}, key 'way'", shorten(str(data.get("way"))), '"together" or "in turn"', _MEND)
        )
    columns = {name: data.get(name) for name in ("cycles", "amplitudes", "phases")}
    for name, values in columns.items():
        if not _numbers(values, name):
            faults.append(
                Fault(f"{PLAN}, key '{name}'", shorten(str(values)), "a list of numbers, one a tone", _MEND)
            )
    if faults:
        return None, faults
    arrays: dict[str, Any] = {
        name: np.array(values, np.int64 if name == "cycles" else float) for name, values in columns.items()
    }
    try:
        return TonePlan(**{name: data[name] for name in (*_WHOLE, "way")}, **arrays), []
    except ArgumentFault as fault:
        return None, [Fault(f"{PLAN}, key '{fault.name}'", str(fault), "tones that fit their period", _MEND)]


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 < value < _MOST


def _numbers(values: Any, name: str) -> bool:
    """Whether these are numbers that a plan may hold: cycles whole, amplitudes above zero and up to full scale."""
    if not isinstance(values, list) or not values:
        return False
    if name == "cycles":
        return all(_whole(value) for value in values)
    if not all(isinstance(value, int | float) and abs(value) < 1e3 for value in values):
        return False
    return name == "phases" or all(0 < value <= 1 for value in values)
