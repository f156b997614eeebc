"""Reading a TOML table key by key: every value held to its kind, every fault and unknown key reported."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import date, datetime
from typing import Any

from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.units import EXAMPLES, parse_quantity, show_typed, tidy

#: A text longer than this is no question, name or reason.
LONGEST_TEXT = 2000
#: A list of known keys is told whole up to so many.
MANY_KEYS = 15
_FILE = "study.toml"
_TOP = (_FILE, "above the first [table]")


def _under(*tables: str) -> tuple[tuple[str, str], ...]:
    return tuple((f"{_FILE}, {table}", f"under {table}") for table in tables)


_METERS = ("[bench.voltmeter]", "[bench.ammeter]", "[bench.ohmmeter]")
#: Where each key of a study that is easily put elsewhere belongs.
HOMES: dict[str, tuple[tuple[str, str], ...]] = {
    **dict.fromkeys(("question", "reference", "scale", "scatter", "coverage", "margin", "wires"), (_TOP,)),
    **dict.fromkeys(("plating", "keep", "history"), (_TOP,)),
    "temperature": (_TOP, *_under("[[use]]")),
    "resistance": _under("[limit]"),
    "source": _under("[limit]"),
    **dict.fromkeys(("open_circuit_voltage", "emf_allowance"), _under("[bench]")),
    **dict.fromkeys(("voltmeter", "ammeter", "ohmmeter"), _under("[bench]")),
    **dict.fromkeys(("percent_of_reading", "counts", "resolution", "accuracy"), _under(*_METERS)),
    **dict.fromkeys(("kind", "length", "contacts_near", "contacts_far"), _under("[[use]]")),
    **dict.fromkeys(("row", "reason"), _under("[[set_aside]]")),
    **dict.fromkeys(("value", "first"), _under("[check_standard]")),
    **dict.fromkeys(("specimens", "matings", "reversal", "seed"), _under("[sheet]")),
}


class Asked:
    """A TOML table being read; faults gather in `faults`, shared with the tables inside it."""

    def __init__(self, table: Mapping[str, Any], where: str, faults: list[Fault]) -> None:
        self.table = table
        self.where = where
        self.faults = faults
        self._known: list[str] = []

    def fault(self, key: str, found: str, expected: str, mend: str) -> None:
        """Note a fault at `key`."""
        self.faults.append(Fault(f"{self.where}, key {shorten(key)}", found, expected, mend))

    def _take(self, key: str) -> Any:
        self._known.append(key)
        return self.table.get(key)

    def text(self, key: str) -> str | None:
        """A text, or None when left out (or at fault)."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, str) or not value.strip():
            self.fault(key, found_value(value), "a text in quotation marks", f'Write {key} = "..."')
            return None
        if len(value) > LONGEST_TEXT:
            self.fault(
                key, f"a text of {len(value)} characters", f"at most {LONGEST_TEXT}", "Shorten the text."
            )
            return None
        return tidy(value)

    def day(self, key: str) -> date | None:
        """A day, or None when left out (or at fault)."""
        value = self._take(key)
        if value is None or isinstance(value, date):
            return value.date() if isinstance(value, datetime) else value
        if isinstance(value, str) and re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value.strip()):
            with suppress(ValueError):
                return date.fromisoformat(value.strip())
        self.fault(key, found_value(value), "a day such as 2026-03-01", "Write year, month and day so.")
        return None

    def choice(self, key: str, options: tuple[str, ...], default: str) -> str:
        """One of `options`."""
        value = self._take(key)
        if value is None:
            return default
        if value not in options:
            near = nearest_name(value, options) if isinstance(value, str) else None
            hint = f'Did you mean "{near}"?' if near else "Write one of these."
            self.fault(key, found_value(value), " or ".join(f'"{option}"' for option in options), hint)
            return default
        return str(value)

    def truth(self, key: str, default: bool) -> bool:
        """True or false."""
        value = self._take(key)
        if value is None:
            return default
        if not isinstance(value, bool):
            self.fault(key, found_value(value), "true or false", f"Write {key} = true or {key} = false.")
            return default
        return value

    def quantity(
        self, key: str, dimension: str, low: float = -1e15, high: float = 1e15, positive: bool = True
    ) -> float | None:
        """A quantity with its unit, in SI, from `low` to `high`."""
        value = self._take(key)
        if value is None:
            return None
        number = self._parsed(key, value, dimension)
        if number is None:
            return None
        if positive and number <= 0:
            self.fault(key, found_value(value), "more than zero", "Check the value.")
            return None
        if not low <= number <= high:
            expected = f"{show_typed(low, dimension)} to {show_typed(high, dimension)}"
            self.fault(key, found_value(value), expected, "Check value and unit.")
            return None
        return number

    def _parsed(self, key: str, value: Any, dimension: str) -> float | None:
        """The number of a quantity; a plain ratio needs no quotation marks."""
        if dimension == "plain ratio" and _is_number(value):
            return float(value)
        if not isinstance(value, str):
            expected = f'a {dimension} in quotation marks, such as "{EXAMPLES[dimension]}"'
            self.fault(key, f"{found_value(value)} without a unit", expected, "Write the unit too.")
            return None
        try:
            return parse_quantity(value, dimension)
        except QuantityFault as error:
            self.fault(key, error.found, error.expected, error.mend)
            return None

    def number(self, key: str, low: float, high: float, default: float, advice: str = "") -> float:
        """A plain number from `low` to `high`."""
        value = self._take(key)
        if value is None:
            return default
        if not _is_number(value) or not low <= value <= high:
            expected = f"a number from {low:g} to {high:g}"
            self.fault(key, found_value(value), expected, _bare(key, value, advice or "Check the value."))
            return default
        return float(value)

    def whole(self, key: str, low: int, high: int) -> int | None:
        """A whole number from `low` to `high`, or None when left out (or at fault)."""
        value = self._take(key)
        if value is None:
            return None
        if not _is_number(value) or not low <= value <= high or value != int(value):
            expected = f"a whole number from {low} to {high}"
            self.fault(key, found_value(value), expected, _bare(key, value, "Check the value."))
            return None
        return int(value)

    def inside(self, key: str) -> Asked | None:
        """A table inside this one."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.fault(
                key, found_value(value), f"a table headed [{key}]", f"Write [{key}] on a line of its own."
            )
            return None
        where = f"{self.where}, [{key}]" if "[" not in self.where else f"{self.where[:-1]}.{key}]"
        return Asked(value, where, self.faults)

    def several(self, key: str) -> list[Asked]:
        """Tables of an array ``[[key]]``."""
        value = self._take(key)
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.fault(key, found_value(value), f"tables headed [[{key}]]", f"Write [[{key}]] before each.")
            return []
        return [
            Asked(item, f"{self.where}, [[{key}]] number {i + 1}", self.faults)
            for i, item in enumerate(value)
        ]

    def items(self, key: str, kind: type, what: str) -> list[Any]:
        """A list of texts or whole numbers."""
        value = self._take(key)
        if value is None:
            return []
        listed = value if isinstance(value, list) else [value]
        bad = [item for item in listed if not isinstance(item, kind) or isinstance(item, bool)]
        if bad:
            self.fault(key, found_value(bad[0]), f"a list of {what}", "Check the list.")
            return []
        return listed

    def allow(self, key: str) -> None:
        """Take `key` for known, though it is read elsewhere."""
        self._known.append(key)

    def done(self) -> None:
        """Report the keys that nobody asked for, with the nearest known one."""
        for key in self.table:
            if key not in self._known:
                near = nearest_name(key, tuple(self._known))
                hint = f"Did you mean '{near}'?" if near else "Remove it, or correct its name."
                self.fault(key, "an unknown key", _listed(self._known), self._elsewhere(key) or hint)

    def _elsewhere(self, key: str) -> str | None:
        """Where a key belongs that stands in another table than its own; None for one that is known nowhere."""
        places = HOMES.get(key, ()) if self.where.startswith(_FILE) else ()
        if self.where in {place for place, _ in places}:
            return None
        return f"This key belongs {' or '.join(words for _, words in places)}." if places else None


def found_value(value: Any) -> str:
    """What stands in the file, in few words."""
    if isinstance(value, str):
        return shorten(value) if value.strip() else "an empty text"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, int) and abs(value) >= 10**18:
        return "a number of many digits"  # Python refuses to write the longest of them
    return shorten(str(value)).strip("'")


def _bare(key: str, value: Any, advice: str) -> str:
    """`advice`, or how to write a number that stands between quotation marks."""
    text = value.strip().replace(",", ".") if isinstance(value, str) else ""
    if not re.fullmatch(r"[+-]?[0-9]+(\.[0-9]+)?", text) or len(text) > 12:
        return advice
    return f"Write {key} = {text} without quotation marks."


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _listed(keys: list[str], room: int = 160) -> str:
    """All of `keys` where they are few, or as many as fit into `room` characters."""
    if len(keys) < MANY_KEYS:
        return f"one of {', '.join(keys)}"
    text = ""
    for key in keys:
        if len(text) + len(key) > room:
            return f"one of {text}and others"
        text += f"{key}, "
    return f"one of {text.removesuffix(', ')}"
