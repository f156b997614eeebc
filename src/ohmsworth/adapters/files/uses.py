"""The circuits of a study: each ``[[use]]`` held to the settings of its kind."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.cables import FILE as CABLES
from ohmsworth.adapters.files.cables import read_cables
from ohmsworth.adapters.files.touchstone import read_touchstone
from ohmsworth.consequence import USE_KINDS, TwoPort, make_use, settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.errors import ArgumentFault, Fault, InputRefused, UnknownName
from ohmsworth.materials import Construction
from ohmsworth.readings.lead import MeasuredLead
from ohmsworth.readings.study import UseRequest


def own_cables(folder: Path) -> tuple[tuple[Construction, ...] | None, list[Fault]]:
    """The shop's own cables beside a study, none where there is no such file; None, with the faults, of a file at fault."""
    path = folder / CABLES
    try:
        return (read_cables(path) if path.exists() else ()), []
    except InputRefused as refused:
        return None, list(refused.faults)


def read_use(table: Asked, folder: Path, cables: tuple[Construction, ...] | None = ()) -> UseRequest | None:
    """Read one use; None when it is at fault.

    Files that it names stand in `folder`; `cables` are the shop's own, None where their file is at fault itself.
    """
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
    lead = _lead(table, folder, str(values["touchstone"])) if "touchstone" in values else None
    if len(table.faults) > before:
        return None
    try:
        make_use(kind, name, values, cables or (), lead)
    except ArgumentFault as error:
        table.faults.append(_conflict(table, error))
        return None
    except UnknownName as error:  # a cable: keys and kinds are held to their lists above
        if cables is None:  # it may well stand there
            return None
        table.fault(
            "cable", found_value(values["cable"]), f"one of: {', '.join(error.known)}", _nearest(table, error)
        )
        return None
    return UseRequest(kind, name, values, cables or (), lead)


def _value(table: Asked, setting: Setting) -> float | str | None:
    if setting.dimension == "text":
        if setting.choices and setting.key in table.table:
            return table.choice(setting.key, setting.choices, "") or None
        return table.text(setting.key)
    if setting.dimension == "number":
        return table.whole(setting.key, int(setting.lowest), int(setting.highest))
    return table.quantity(setting.key, setting.dimension, setting.lowest, setting.highest, positive=False)


def _lead(table: Asked, folder: Path, name: str) -> MeasuredLead | None:
    """The measured lead that a use names, or its faults."""
    try:
        network = read_touchstone(folder / name).network
    except InputRefused as refused:
        table.faults += refused.faults
        return None
    if isinstance(network, TwoPort):
        return MeasuredLead(network.frequency, network.chain)
    table.fault(
        "touchstone", "a file of one port", "a file of two ports, .s2p", "Measure the lead from end to end."
    )
    return None


def _nearest(table: Asked, error: UnknownName) -> str:
    place = "in this folder" if table.where.startswith("--") else "beside the study"
    own = f"write the cable into {CABLES} {place}"
    return f"Did you mean '{error.nearest}'? Or {own}." if error.nearest else f"Name one of these, or {own}."


def _conflict(table: Asked, error: ArgumentFault) -> Fault:
    """Settings that are each acceptable and do not go together."""
    found = (
        found_value(table.table[error.name]) if error.name in table.table else "the value taken by default"
    )
    expected = str(error).partition(", wanted ")[2].partition(" (")[0]
    return Fault(f"{table.where}, key '{error.name}'", found, expected, "Correct it, or what it depends on.")
