"""The tables ``[[recorded]]`` of cable.toml: tests made with other equipment, such as of the insulation."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.cables.recorded import RecordedTest
from ohmsworth.errors import shorten

#: What is believed, in SI: beyond lies a slip of the unit.
_VOLTAGE, _INSULATION = (1.0, 50e3), (1.0, 1e15)
#: Longest text of each key, in characters.
_ROOM = {"test": 60, "between": 120, "instrument": 80, "by": 80}


def read_recorded(asked: Asked) -> tuple[RecordedTest, ...]:
    """Every test that was recorded."""
    return tuple(found for table in asked.several("recorded") if (found := _recorded(table)) is not None)


def _recorded(table: Asked) -> RecordedTest | None:
    before = len(table.faults)
    said = {key: _text(table, key, room) for key, room in _ROOM.items()}
    voltage = table.quantity("voltage", "voltage", *_VOLTAGE)
    resistance = table.quantity("resistance", "resistance", *_INSULATION)
    at_least = table.quantity("at_least", "resistance", *_INSULATION)
    held = table.truth("held", True) if "held" in table.table else None
    on = table.day("on")
    if "test" not in table.table:
        table.fault("test", "no such key", 'test = "insulation"', "Say what was tested.")
    if not {"resistance", "held"} & set(table.table):
        mend = "Write what the equipment showed, or held = false where it did not hold."
        table.fault("resistance", "no such key", 'resistance = "200 MΩ", or held = true', mend)
    if "at_least" in table.table and "resistance" not in table.table:
        mend = "Write the resistance that was found, or leave at_least out."
        table.fault("at_least", "no resistance beside it", "both of them", mend)
    table.done()
    if len(table.faults) > before:
        return None
    return RecordedTest(
        said["test"],
        said["between"],
        voltage,
        resistance,
        at_least,
        held,
        said["instrument"],
        said["by"],
        on,
    )


def _text(table: Asked, key: str, room: int) -> str:
    text = table.text(key) or ""
    if len(text) > room:
        table.fault(key, f"a text of {len(text)} characters", f"at most {room}", "Shorten the text.")
    elif not text.isprintable():
        table.fault(key, shorten(text), "text on one line", "Take out line breaks and control characters.")
    return text
