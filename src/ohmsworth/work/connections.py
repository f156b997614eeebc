"""Which instruments are connected at a bench, as a person stated it, and as it is remembered from day to day."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any, Literal

Role = Literal["voltmeter", "ammeter", "ohmmeter", "source"]
ROLES: tuple[Role, ...] = ("voltmeter", "ammeter", "ohmmeter", "source")
#: What the meters of each role read; the source reads nothing.
QUANTITIES: dict[Role, str] = {"voltmeter": "voltage", "ammeter": "current", "ohmmeter": "resistance"}
#: How each role is called.
WORDS: dict[Role, str] = {
    "voltmeter": "voltmeter",
    "ammeter": "ammeter",
    "ohmmeter": "milliohm meter",
    "source": "current source",
}


@dataclass(frozen=True, slots=True)
class Connection:
    """One instrument; every text as typed.

    Parameters
    ----------
    profile, address
        How it is spoken to, and where.
    range_number
        Of the profile's ranges, counted from 0; None lets the meter choose.
    card
        Number of the meter's card.
    turns
        False for an ammeter that shows the same sign both ways.
    most_current, most_voltage, reason
        Limits of a source, and why they are beyond a dry circuit.
    level
        The current that a source sends while the meters are read.
    settle
        Time from turning the current to reading.
    """

    profile: str
    address: str
    range_number: int | None = None
    card: int | None = None
    turns: bool = True
    most_current: str = ""
    most_voltage: str = ""
    reason: str = ""
    level: str = ""
    settle: str = ""


def setting_name(machine: str) -> str:
    """Under which the shop's settings keep what is connected to a machine."""
    return f"instruments at {machine}"


def as_text(connections: Mapping[Role, Connection]) -> str:
    """As it is remembered."""
    return json.dumps({role: asdict(connections[role]) for role in sorted(connections)}, ensure_ascii=False)


def from_text(text: str) -> dict[Role, Connection]:
    """What was remembered; whatever cannot be read is not connected."""
    try:
        said = json.loads(text)
    except ValueError:
        return {}
    if not isinstance(said, dict):
        return {}
    found = {role: _connection(said[role]) for role in ROLES if role in said}
    return {role: one for role, one in found.items() if one is not None}


def _connection(said: Any) -> Connection | None:
    if not isinstance(said, dict) or not {"profile", "address"} <= set(said):
        return None
    kinds: dict[str, type | tuple[type, ...]] = {
        "range_number": (int, type(None)),
        "card": (int, type(None)),
        "turns": bool,
    }
    given = {one.name: said[one.name] for one in fields(Connection) if one.name in said}
    if any(not isinstance(value, kinds.get(name, str)) for name, value in given.items()):
        return None
    return Connection(**given)
