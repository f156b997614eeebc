"""What analysed takes told, kept beside them, so that they are analysed once.

Each entry stands under a digest of everything that it was made of: the recordings, those of short, load and open, plan.json,
tones.toml and the number of the analysis. A recording that changed has another digest, and its entry is not found.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np

from ohmsworth.adapters.files.writing import write_file
from ohmsworth.errors import OutputFault
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.work.take_state import TakeState

FILE = "takes.analysed.json"
FORMAT = "ohmsworth analysed takes 1"
#: Goes up whenever the same recordings give other numbers.
ANALYSIS = 1
_BLOCK = 1 << 20

Entry = tuple[Curve, TakeState]


def digest_of(parts: Iterable[tuple[str, Path]], begin: str = "") -> str:
    """SHA-256 of files and of what each is, after the digest `begin`.

    Raises
    ------
    OSError
        When one cannot be read.
    """
    made = hashlib.sha256(f"{FORMAT} {ANALYSIS} {begin}".encode())
    for name, path in parts:
        own = hashlib.sha256()
        with path.open("rb") as file:
            while block := file.read(_BLOCK):
                own.update(block)
        made.update(f"\n{name} {own.hexdigest()}".encode())
    return made.hexdigest()


def read_kept(folder: Path) -> dict[str, Entry]:
    """Entries by digest; none where there is no such file, or none that can be read."""
    try:
        data = json.loads((folder / FILE).read_bytes())
        if data["format"] != FORMAT:
            return {}
        frequency = np.array(data["frequency"], float)
        return {digest: _entry(frequency, one) for digest, one in data["takes"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}  # it is made anew


def keep(folder: Path, entries: Mapping[str, Entry]) -> None:
    """Write the entries; where that is not possible they are computed again another time."""
    frequency = next(iter(entries.values()))[0].frequency
    data = {
        "format": FORMAT,
        "frequency": frequency.tolist(),
        "takes": {digest: _plain(curve, state) for digest, (curve, state) in entries.items()},
    }
    with suppress(OutputFault):
        write_file(folder / FILE, (json.dumps(data, indent=1, allow_nan=False) + "\n").encode())


def _plain(curve: Curve, state: TakeState) -> dict[str, Any]:
    return {
        "value": _pairs(curve.value),
        "random": curve.random.tolist(),
        "degrees": [float(n) if math.isfinite(n) else None for n in curve.degrees],
        "shared": {name: _pairs(effect) for name, effect in curve.shared.items()},
        "state": asdict(state),
    }


def _pairs(values: np.ndarray) -> list[list[float]]:
    return [[float(z.real), float(z.imag)] for z in values]


def _entry(frequency: np.ndarray, data: Mapping[str, Any]) -> Entry:
    """An entry, or ValueError where its columns do not fit."""
    tones = len(frequency)

    def column(pairs: Any) -> np.ndarray:
        found = np.array(pairs, float)
        if found.shape != (tones, 2) or not np.isfinite(found).all():
            raise ValueError("not one pair of numbers a tone")
        return np.asarray(found[:, 0] + 1j * found[:, 1])

    random = np.array(data["random"], float)
    degrees = np.array([np.inf if n is None else n for n in data["degrees"]], float)
    if random.shape != (tones, 2, 2) or degrees.shape != (tones,) or not np.isfinite(random).all():
        raise ValueError("not one covariance a tone")
    shared = {str(name): column(effect) for name, effect in data["shared"].items()}
    said = dict(data["state"])
    doubts = tuple((str(code), str(words), str(mend)) for code, words, mend in said["doubts"])
    state = TakeState(**{**said, "exceeded": tuple(said["exceeded"]), "doubts": doubts})
    return Curve(frequency, column(data["value"]), random, degrees, shared), state
