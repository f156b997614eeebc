"""Circuits to ask about: those of a file, or kinds by name with values as they are typed."""

from __future__ import annotations

import os.path
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.adapters.files.uses import own_cables, read_use
from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.errors import Fault, InputRefused, QuantityFault, nearest_name, shorten
from ohmsworth.materials import Construction
from ohmsworth.readings.study import UseRequest
from ohmsworth.units import parse_number

_MISSING = 'Write [[use]] and under it kind = "balanced line", as in a study.'


def load_uses(path: Path) -> tuple[UseRequest, ...]:
    """The circuits of a file with ``[[use]]`` tables, or of a study's folder; its other keys are left alone.

    Raises
    ------
    InputRefused
        With every fault of the file, or when it has no circuit.
    """
    if not os.path.lexists(path):
        expected = "a file with [[use]] tables, or a study's folder"
        raise InputRefused(
            (Fault(shorten(str(path), 200), "no such file or folder", expected, "Check the name."),)
        )
    file = path / STUDY if os.path.isdir(path) else path
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
    """Circuits by kind, each once, the values of the only one as ``KEY=VALUE``; the shop's own cables stand in `folder`.

    Raises
    ------
    InputRefused
        With every fault of what was typed.
    """
    faults: list[Fault] = []
    named = tuple(dict.fromkeys(kinds))
    given = _given(values, faults)
    if given and len(named) != 1:
        found = f"{len(named)} circuits" if named else "no circuit"
        mend = "Name one circuit with --use, or write several into a file for --circuits."
        faults.append(Fault("--set", found, "one circuit, whose values are set", mend))
        given = {}
    cables, of_cables = own_cables(folder) if "cable" in given else ((), [])
    faults += of_cables
    uses = [_typed(kind, given, folder, cables, faults) for kind in named]
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(use for use in uses if use is not None)


def _given(values: Sequence[str], faults: list[Fault]) -> dict[str, str]:
    """The values by key, each key once."""
    given: dict[str, str] = {}
    for text in values:
        key, mark, value = (part.strip() for part in text.partition("="))
        if not (mark and key and value):
            mend = "Write for example --set length='50 m'."
            faults.append(Fault("--set", shorten(text, 60), "KEY=VALUE", mend))
        elif key in given:
            faults.append(
                Fault(f"--set, key {shorten(key)}", "it twice", "each key once", "Leave one of them out.")
            )
        else:
            given[key] = value
    return given


def _typed(
    kind: str,
    given: Mapping[str, str],
    folder: Path,
    cables: tuple[Construction, ...] | None,
    faults: list[Fault],
) -> UseRequest | None:
    if kind not in USE_KINDS:
        near = nearest_name(kind, USE_KINDS)
        mend = f"Did you mean '{near}'?" if near else "Name one of these."
        faults.append(Fault("--use", found_value(kind), f"one of: {', '.join(USE_KINDS)}", mend))
        return None
    if "kind" in given:
        mend = "Leave it out: the kind is what --use names."
        faults.append(Fault("--set, key 'kind'", found_value(given["kind"]), "a value of the circuit", mend))
        return None
    whole = {setting.key for setting in settings_of(kind) if setting.dimension == "number"}
    table: dict[str, Any] = {"kind": kind}
    table |= {key: _whole(value) if key in whole else value for key, value in given.items()}
    return read_use(Asked(table, "--set", faults), folder, cables)


def filled_use(kind: str, values: Mapping[str, str], own_cables: Sequence[Construction] = ()) -> UseRequest:
    """A circuit of `kind` out of a form: `values` by key as they were filled in, `own_cables` the shop's.

    Raises
    ------
    InputRefused
        With every fault; each says which key it is about: "the circuit, key 'length'".
    """
    faults: list[Fault] = []
    if kind not in USE_KINDS:
        faults.append(
            Fault("the circuit", found_value(kind), f"one of: {', '.join(USE_KINDS)}", "Choose one of these.")
        )
        raise InputRefused(tuple(faults))
    whole = {setting.key for setting in settings_of(kind) if setting.dimension == "number"}
    table: dict[str, Any] = {key: _whole(value) if key in whole else value for key, value in values.items()}
    use = read_use(Asked({**table, "kind": kind}, "the circuit", faults), Path(), tuple(own_cables))
    if use is None:
        raise InputRefused(tuple(faults))
    return use


def _whole(text: str) -> float | str:
    """A plain number as a file would hold it, without quotation marks; anything else stays text."""
    try:
        return parse_number(text)
    except QuantityFault:
        return text
