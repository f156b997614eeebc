"""What analysed takes told, kept beside them, so that they are analysed once and can be answered without their sound.

Each entry stands under the digest of its own recordings, with the basis that it was made on (`ohmsworth.work.take_told`). The
SHA-256 of every recording stands there by its name, so that one that is no longer in the folder is known for what it was.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, cast

from ohmsworth.adapters.files.writing import write_file
from ohmsworth.errors import OutputFault
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.work.take_state import TakeState
from ohmsworth.work.take_told import curve_of, entry_of
from ohmsworth.work.tone_files import SERIES, Series

FILE = "takes.analysed.json"
FORMAT = "ohmsworth analysed takes 2"
_BLOCK = 1 << 20

Entry = tuple[Curve, TakeState]


@dataclass(frozen=True, slots=True, eq=False)
class KeptTake:
    """What the takes of a contact told: as plain data, on which basis, and when they were recorded, where that is known."""

    basis: str
    told: Mapping[str, Any]
    at: str = ""

    @property
    def entry(self) -> Entry:
        """The same as numbers."""
        return entry_of(self.told)


@dataclass(frozen=True, slots=True, eq=False)
class KeptStandard:
    """What the takes of short, load or open told, the digest of their recordings; basis and time where these are known."""

    digest: str
    told: Mapping[str, Any]
    basis: str = ""
    at: str = ""

    @property
    def curve(self) -> Curve:
        """The same as numbers."""
        return curve_of(self.told)


@dataclass(frozen=True, slots=True, eq=False)
class KeptTakes:
    """Everything that is kept: takes by digest, the SHA-256 of recordings by name, standards."""

    takes: Mapping[str, KeptTake] = field(default_factory=dict)
    recordings: Mapping[str, str] = field(default_factory=dict)
    standards: Mapping[Series, KeptStandard] = field(default_factory=dict)


def sha_of(path: Path) -> str:
    """SHA-256 of a file, read block by block.

    Raises
    ------
    OSError
        When it cannot be read.
    """
    found = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            found.update(block)
    return found.hexdigest()


def read_kept(folder: Path) -> KeptTakes:
    """What is kept; nothing where there is no such file, or none that can be read."""
    try:
        data = json.loads((folder / FILE).read_bytes())
        if data["format"] != FORMAT:
            return KeptTakes()
        kept = KeptTakes(
            {
                str(digest): KeptTake(str(one["basis"]), one["told"], _moment(one))
                for digest, one in data["takes"].items()
            },
            {str(name): str(sha) for name, sha in data["recordings"].items()},
            {
                cast(Series, series): KeptStandard(
                    str(one["digest"]), one["told"], str(one.get("basis", "")), _moment(one)
                )
                for series, one in data["standards"].items()
                if series in SERIES
            },
        )
        for take in kept.takes.values():
            entry_of(take.told)
        for standard in kept.standards.values():
            curve_of(standard.told)
        return kept
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return KeptTakes()  # it is made anew


def _moment(one: Mapping[str, Any]) -> str:
    """When it was recorded, as it is kept; "" where that is not told, or is no time with its zone."""
    try:
        at = datetime.fromisoformat(str(one.get("at", "")))
    except ValueError:
        return ""
    return at.isoformat() if at.tzinfo else ""


def kept_bytes(kept: KeptTakes) -> bytes:
    """The file: always the same for the same takes, a line each."""
    parts: dict[str, Mapping[str, Any]] = {
        "takes": {
            digest: {"basis": one.basis, "told": one.told, **({"at": one.at} if one.at else {})}
            for digest, one in kept.takes.items()
        },
        "recordings": kept.recordings,
        "standards": {
            series: {
                "digest": one.digest,
                "told": one.told,
                **{name: text for name, text in (("basis", one.basis), ("at", one.at)) if text},
            }
            for series, one in kept.standards.items()
        },
    }
    told = [f'"format": {json.dumps(FORMAT)}']
    for part, held in parts.items():
        lines = ",\n".join(f"{_plain(name)}: {_plain(held[name])}" for name in sorted(held))
        told.append(f'"{part}": {{\n{lines}\n}}' if held else f'"{part}": {{}}')
    return ("{\n" + ",\n".join(told) + "\n}\n").encode()


def _plain(value: Any) -> str:
    return json.dumps(value, sort_keys=True, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def keep(folder: Path, kept: KeptTakes) -> None:
    """Write the file; where that is not possible, everything is found again another time."""
    with suppress(OutputFault):
        write_file(folder / FILE, kept_bytes(kept))
