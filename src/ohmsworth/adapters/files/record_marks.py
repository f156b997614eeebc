"""The marks of study.toml (rows kept, rows set aside) brought to what the records say, its remarks left in place."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from ohmsworth.adapters.files.toml_keys import put
from ohmsworth.units import tidy

KEEP, SET_ASIDE = "keep", "set_aside"


def with_marks(toml: str, kept: Sequence[int], set_aside: Mapping[int, str]) -> str:
    """`toml` exactly as written where its marks are these already, or cannot be read; else with these marks."""
    table = parsed(toml)
    if table is None:
        return toml
    old_keep, old_aside = marks_in(table)
    if old_keep == set(kept) and old_aside == _tidied(set_aside):
        return toml
    import tomlkit

    document = tomlkit.parse(toml)
    if old_keep != set(kept):
        document.remove(KEEP) if KEEP in document else None
        if kept:
            rows = tomlkit.array()
            rows.extend(sorted(kept))
            put(document, KEEP, rows)
    if old_aside != _tidied(set_aside):
        document.remove(SET_ASIDE) if SET_ASIDE in document else None
        if set_aside:
            put(document, SET_ASIDE, _listed(set_aside))
    return tomlkit.dumps(document)


def parsed(toml: str) -> dict[str, Any] | None:
    """The table of a text; None where it is no TOML."""
    try:
        return tomllib.loads(toml)
    except (ValueError, RecursionError):
        return None


def marks_in(table: Mapping[str, Any]) -> tuple[set[int], dict[int, str]]:
    """Rows kept and rows set aside with their reasons, as far as they can be read."""
    listed = table.get(KEEP, [])
    keep = listed if isinstance(listed, list) else [listed]
    tables = table.get(SET_ASIDE, [])
    aside = {
        one["row"]: tidy(str(one.get("reason", "")))
        for one in (tables if isinstance(tables, list) else [])
        if isinstance(one, dict) and isinstance(one.get("row"), int)
    }
    return {row for row in keep if isinstance(row, int)}, aside


def _tidied(set_aside: Mapping[int, str]) -> dict[int, str]:
    return {row: tidy(reason) for row, reason in set_aside.items()}


def _listed(set_aside: Mapping[int, str]) -> Any:
    import tomlkit

    rows = tomlkit.array()
    for row, reason in sorted(set_aside.items()):
        one = tomlkit.inline_table()
        one.update({"row": row, "reason": reason})
        rows.append(one)
    return rows.multiline(True)


def with_history(toml: str, names: Mapping[str, str]) -> str:
    """`toml` with the past studies that it names called otherwise."""
    import tomlkit

    document = tomlkit.parse(toml)
    listed = document.get("history", [])
    for i, name in enumerate(listed):
        if tidy(str(name)) in names:
            listed[i] = names[tidy(str(name))]
    return tomlkit.dumps(document)
