"""Circuits to ask about: those of a file, or kinds by name with values as they are typed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.adapters.files.uses import own_cables, read_use
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.materials import Construction
from ohmsworth.readings.study import UseRequest

_MISSING = 'Write [[use]] and under it kind = "balanced line", as in a study.'


def load_uses(path: Path) -> tuple[UseRequest, ...]:
    """The circuits of a file with ``[[use]]`` tables, or of a study's folder; its other keys are left alone.

    Raises
    ------
    InputRefused
        With every fault of the file, or when it has no circuit.
    """
    file = path / STUDY if path.is_dir() else path
    table, faults = read_toml(file, _MISSING)
    if table is None:
        raise InputRefused(tuple(faults))
    cables, of_cables = own_cables(file.parent)
    asked = Asked(table, file.name, faults)
    uses = [use for each in asked.several("use") if (use := read_use(each, file.parent, cables))]
    faults += of_cables
    if not uses and not faults:
        faults.append(Fault(file.name, "no [[use]]", "at least one circuit", _MISSING))
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(uses)


def typed_uses(kinds: Sequence[str], values: Sequence[str], folder: Path) -> tuple[UseRequest, ...]:
    """Circuits by kind, the values of the only one as ``KEY=VALUE``; the shop's own cables stand in `folder`.

    Raises
    ------
    InputRefused
        With every fault of what was typed.
    """
    faults: list[Fault] = []
    cables, of_cables = own_cables(folder) if values else ((), [])
    if values and len(kinds) != 1:
        found = f"{len(kinds)} circuits" if kinds else "no circuit"
        mend = "Name one circuit with --use, or write several into a file for --circuits."
        faults.append(Fault("--set", found, "one circuit, whose values are set", mend))
    given = dict(_split(value, faults) for value in values)
    uses = [_typed(kind, given if len(kinds) == 1 else {}, folder, cables, faults) for kind in kinds]
    faults += of_cables
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(use for use in uses if use is not None)


def _split(text: str, faults: list[Fault]) -> tuple[str, str]:
    key, mark, value = text.partition("=")
    if not mark or not key.strip() or not value.strip():
        faults.append(Fault("--set", f"'{text[:60]}'", "KEY=VALUE", "Write for example --set length='50 m'."))
    return key.strip(), value.strip()


def _typed(
    kind: str, given: dict[str, str], folder: Path, cables: tuple[Construction, ...], faults: list[Fault]
) -> UseRequest | None:
    table: dict[str, Any] = {"kind": kind}
    whole = {s.key for s in settings_of(kind) if s.dimension == "number"} if kind in USE_KINDS else set()
    for key, value in given.items():
        table[key] = int(value) if key in whole and value.isascii() and value.isdecimal() else value
    return read_use(Asked(table, "--use" if not given else "--set", faults), folder, cables)
