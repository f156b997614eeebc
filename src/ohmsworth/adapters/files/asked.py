"""Reading a TOML table key by key: every value held to its kind, every fault and unknown key reported."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.units import EXAMPLES, parse_quantity


class Asked:
    """A TOML table being read; faults gather in `faults`, shared with the tables inside it."""

    def __init__(self, table: Mapping[str, Any], where: str, faults: list[Fault]) -> None:
        self.table = table
        self.where = where
        self.faults = faults
        self._known: list[str] = []

    def fault(self, key: str, found: str, expected: str, mend: str) -> None:
        """Note a fault at `key`."""
        self.faults.append(Fault(f"{self.where}, key '{key}'", found, expected, mend))

    def _take(self, key: str) -> Any:
        self._known.append(key)
        return self.table.get(key)

    def text(self, key: str) -> str | None:
        """A text, or None when left out (or at fault)."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, str) or not value.strip():
            self.fault(key, _found(value), "a text in quotation marks", f'Write {key} = "..."')
            return None
        return value.strip()

    def choice(self, key: str, options: tuple[str, ...], default: str) -> str:
        """One of `options`."""
        value = self._take(key)
        if value is None:
            return default
        if value not in options:
            near = nearest_name(value, options) if isinstance(value, str) else None
            hint = f'Did you mean "{near}"?' if near else f'Leave it out for "{default}".'
            self.fault(key, _found(value), " or ".join(f'"{option}"' for option in options), hint)
            return default
        return str(value)

    def quantity(self, key: str, dimension: str, positive: bool = True) -> float | None:
        """A quantity with its unit, in SI."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, str):
            self.fault(
                key,
                f"{_found(value)} without a unit",
                f'a {dimension} in quotation marks, such as "{EXAMPLES[dimension]}"',
                "Write the unit too.",
            )
            return None
        try:
            number = parse_quantity(value, dimension)
        except QuantityFault as error:
            self.fault(key, error.found, error.expected, error.mend)
            return None
        if positive and number <= 0:
            self.fault(key, shorten(value), "more than zero", "Check the value.")
            return None
        return number

    def number(self, key: str, low: float, high: float, default: float, advice: str = "") -> float:
        """A plain number from `low` to `high`."""
        value = self._take(key)
        if value is None:
            return default
        good = isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high
        if not good:
            self.fault(key, _found(value), f"a number from {low:g} to {high:g}", advice or "Check the value.")
            return default
        return float(value)

    def inside(self, key: str) -> Asked | None:
        """A table inside this one."""
        value = self._take(key)
        if value is None:
            return None
        if not isinstance(value, dict):
            self.fault(key, _found(value), f"a table headed [{key}]", f"Write [{key}] on a line of its own.")
            return None
        where = f"{self.where}, [{key}]" if "[" not in self.where else f"{self.where[:-1]}.{key}]"
        return Asked(value, where, self.faults)

    def several(self, key: str) -> list[Asked]:
        """Tables of an array ``[[key]]``."""
        value = self._take(key)
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.fault(key, _found(value), f"tables headed [[{key}]]", f"Write [[{key}]] before each.")
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
        if not all(isinstance(item, kind) and not isinstance(item, bool) for item in listed):
            self.fault(key, _found(value), f"a list of {what}", "Check the list.")
            return []
        return listed

    def done(self) -> None:
        """Report the keys that nobody asked for, with the nearest known one."""
        for key in self.table:
            if key not in self._known:
                near = nearest_name(key, tuple(self._known))
                hint = f"Did you mean '{near}'?" if near else "Remove it."
                self.fault(key[:40], "an unknown key", f"one of {', '.join(self._known)}", hint)


def _found(value: Any) -> str:
    if isinstance(value, str):
        return shorten(value) if value.strip() else "an empty text"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return shorten(str(value)).strip("'")
