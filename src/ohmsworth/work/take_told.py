"""What the recordings of a contact told, as plain data and back, and the digests that it is known by.

A row's takes go by a digest of its own recordings, ``SHA-256 of (kind, number of the file, SHA-256 of the file)``; names do not
matter. What they were analysed with has a digest of its own, the basis: tones.toml, plan.json, the takes of short, load and
open, and the number of the analysis.

Numbers stand as text, as everywhere in the records: the shortest that reads back as the very same number.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

import numpy as np

from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.work.take_log import Files
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.tone_files import KINDS, PLAN, SERIES, WISHES, Series

#: Goes up whenever the same recordings give other numbers.
ANALYSIS = 1
#: What is told of a contact since, and is not there in what was kept before.
_LATER = ("current", "open_circuit")


def digest_of(files: Files) -> str:
    """What the takes of a contact, or of a standard, are known by: 64 hexadecimal digits."""
    parts = [f"{kind} {n} {one.sha256}" for kind in KINDS for n, one in enumerate(files.get(kind, ()))]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def basis_of(wishes: bytes, plan: bytes, standards: Mapping[Series, str]) -> str:
    """What takes are analysed with: 64 hexadecimal digits.

    Parameters
    ----------
    wishes, plan
        tones.toml and plan.json.
    standards
        The digest of the takes of each standard that is taken off.
    """
    parts = [f"analysis {ANALYSIS}"]
    parts += [f"{name} {hashlib.sha256(data).hexdigest()}" for name, data in ((WISHES, wishes), (PLAN, plan))]
    parts += [f"{series} {standards[series]}" for series in SERIES if series in standards]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def told_of(curve: Curve, state: TakeState | None = None) -> dict[str, Any]:
    """What takes told as plain data, the same to the digit when read back; without a `state` it is that of a standard."""
    told: dict[str, Any] = {
        "frequency": _texts(curve.frequency),
        "value": _pairs(curve.value),
        "random": [[_texts(row) for row in one] for one in curve.random],
        "degrees": [repr(float(n)) if math.isfinite(n) else None for n in curve.degrees],
        "shared": {name: _pairs(curve.shared[name]) for name in sorted(curve.shared)},
    }
    if state is None:
        return told
    said = {
        **asdict(state),
        "gains": None if state.gains is None else repr(float(state.gains)),
        "voltage": repr(float(state.voltage)),
        "exceeded": list(state.exceeded),
        "doubts": [list(one) for one in state.doubts],
    }
    for name in _LATER:
        value = said.pop(name)
        said |= {} if value is None else {name: repr(float(value))}
    return {**told, "state": said}


def is_whole(told: Mapping[str, Any]) -> bool:
    """Whether the takes of a contact told all that they would tell today: what was kept earlier says less of them."""
    return all(name in told["state"] for name in _LATER)


def entry_of(told: Mapping[str, Any]) -> tuple[Curve, TakeState]:
    """What the takes of a contact told.

    Raises
    ------
    ValueError, KeyError, TypeError, AttributeError
        Where that is not what `told` holds.
    """
    said = told["state"]
    state = TakeState(
        bool(said["swapped"]),
        None if said["gains"] is None else _finite(said["gains"]),
        _finite(said["voltage"]),
        tuple(str(one) for one in said["exceeded"]),
        None if said["rest"] is None else str(said["rest"]),
        tuple((str(code), str(words), str(mend)) for code, words, mend in said["doubts"]),
        **{name: _finite(said[name]) for name in _LATER if name in said},
    )
    return curve_of(told), state


def curve_of(told: Mapping[str, Any]) -> Curve:
    """The impedance alone, as that of a standard; raises as `entry_of`."""
    frequency = np.array(told["frequency"], float)
    random = np.array(told["random"], float)
    degrees = np.array([np.inf if n is None else n for n in told["degrees"]], float)
    tones = len(frequency)
    if frequency.ndim != 1 or not np.isfinite(frequency).all():
        raise ValueError("no frequencies")
    if random.shape != (tones, 2, 2) or degrees.shape != (tones,) or not np.isfinite(random).all():
        raise ValueError("not one covariance a tone")
    shared = told["shared"]
    effects = {str(name): _column(shared[name], tones) for name in sorted(shared)}
    return Curve(frequency, _column(told["value"], tones), random, degrees, effects)


def _texts(values: Array) -> list[str]:
    return [repr(float(value)) for value in values]


def _pairs(values: Complex) -> list[list[str]]:
    return [[repr(float(z.real)), repr(float(z.imag))] for z in values]


def _finite(text: str) -> float:
    found = float(text)
    if not math.isfinite(found):
        raise ValueError("no number")
    return found


def _column(pairs: Any, tones: int) -> Complex:
    found: Array = np.array(pairs, float)
    if found.shape != (tones, 2) or not np.isfinite(found).all():
        raise ValueError("not one pair of numbers a tone")
    return np.asarray(found[:, 0] + 1j * found[:, 1])
