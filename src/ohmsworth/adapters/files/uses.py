"""The circuits of a study: each ``[[use]]`` held to the settings of its kind."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.consequence import USE_KINDS, make_use, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.errors import ArgumentFault, Fault
from ohmsworth.readings.study import UseRequest


def read_use(table: Asked) -> UseRequest | None:
    """Read one use; None when it is at fault."""
    before = len(table.faults)
    kind = table.choice("kind", USE_KINDS, "")
    if not kind:
        if "kind" not in table.table:
            expected = "one of " + ", ".join(f'"{kind}"' for kind in USE_KINDS)
            table.fault("kind", "no such key", expected, 'Add kind = "..."')
        return None
    name = table.text("name") or ""
    settings = settings_of(kind)
    given = {setting.key: _value(table, setting) for setting in settings}
    table.done()
    if len(table.faults) > before:
        return None
    values = {key: value for key, value in given.items() if value is not None}
    try:
        make_use(kind, name, values)
    except ArgumentFault as error:
        table.faults.append(_conflict(table, error))
        return None
    return UseRequest(kind, name, values)


def _value(table: Asked, setting: Setting) -> float | str | None:
    if setting.dimension == "text":
        if setting.choices and setting.key in table.table:
            return table.choice(setting.key, setting.choices, "") or None
        return table.text(setting.key)
    if setting.dimension == "number":
        return table.whole(setting.key, int(setting.lowest), int(setting.highest))
    return table.quantity(setting.key, setting.dimension, setting.lowest, setting.highest, positive=False)


def _conflict(table: Asked, error: ArgumentFault) -> Fault:
    """Settings that are each acceptable and do not go together."""
    found = (
        found_value(table.table[error.name]) if error.name in table.table else "the value taken by default"
    )
    expected = str(error).partition(", wanted ")[2].partition(" (")[0]
    return Fault(f"{table.where}, key '{error.name}'", found, expected, "Correct it, or what it depends on.")
