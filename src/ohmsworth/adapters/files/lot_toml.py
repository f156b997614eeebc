"""The table ``[lot]`` of study.toml."""

from __future__ import annotations

from typing import cast

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.paper_toml import line_of_text
from ohmsworth.errors import shorten
from ohmsworth.readings.lot_request import (
    DEFAULT_RISKS,
    GUARDS,
    METHODS,
    MOST_PIECES,
    SAMPLING,
    LotRequest,
    Method,
)
from ohmsworth.readings.names import clean_name

RECORD = ("accepted", "rejected")
#: Longest texts, in characters: what a label and a certificate have room for.
_ROOM = {"name": 60, "number": 40, "drawn": 200}


def read_lot(asked: Asked) -> LotRequest | None:
    """Read the table; None without one, or without both shares."""
    table = asked.inside("lot")
    if table is None:
        return None
    before = len(table.faults)
    good, bad = _share(table, "acceptable", "1 %"), _share(table, "rejectable", "6 %")
    request = LotRequest(
        shares=(good or 0.0, bad or 0.0),
        risks=(
            _risk(table, "producer_risk", DEFAULT_RISKS[0]),
            _risk(table, "consumer_risk", DEFAULT_RISKS[1]),
        ),
        size=table.whole("size", 2, MOST_PIECES),
        method=cast(Method, table.choice("method", METHODS, "attributes")),
        double=table.choice("sampling", SAMPLING, "single") == "double",
        record=_record(table),
        guard=_guard(table),
        condition=clean_name(table.text("condition") or "") or None,
        **{key: line_of_text(table, key, room) for key, room in _ROOM.items()},
    )
    if len(table.faults) == before:
        _together(table, request)
    table.done()
    return request if len(table.faults) == before else None


def _share(table: Asked, key: str, example: str) -> float | None:
    if key not in table.table:
        table.fault(
            key, "no such key", f'a share of pieces over the limit, such as {key} = "{example}"', "Add it."
        )
    return table.quantity(key, "ratio", 1e-5, 0.5)


def _risk(table: Asked, key: str, default: float) -> float:
    found = table.quantity(key, "ratio", 1e-4, 0.4)
    return default if found is None else found


def _record(table: Asked) -> tuple[bool, ...]:
    """Past lots, oldest first."""
    words = table.items("record", str, f'past lots, oldest first, each "{RECORD[0]}" or "{RECORD[1]}"')
    bad = [word for word in words if word not in RECORD]
    if bad:
        mend = f'Write "{RECORD[0]}" or "{RECORD[1]}" for each lot, oldest first.'
        table.fault("record", shorten(bad[0]), f'"{RECORD[0]}" or "{RECORD[1]}"', mend)
    return tuple(word == RECORD[0] for word in words)


def _guard(table: Asked) -> str | float:
    """A policy by its name, or a risk."""
    value = table.table.get("guard")
    if isinstance(value, str) and value.strip().endswith("%"):
        return table.quantity("guard", "ratio", 1e-6, 0.2) or GUARDS[0]
    return table.choice("guard", GUARDS, GUARDS[0])


def _together(table: Asked, request: LotRequest) -> None:
    good, bad = request.shares
    if good >= bad:
        found, mend = (
            f"{100 * good:g} %, and rejectable {100 * bad:g} %",
            "A worse lot has to be the rejectable one.",
        )
        table.fault("acceptable", found, "less than the rejectable share", mend)
    if request.double and request.method == "variables":
        mend = 'Remove the key, or write method = "attributes".'
        table.fault("sampling", "two samples for a plan that measures", "a single sample", mend)
