"""prices.toml: what a shop asks for parts, wire and time, in decimal numbers as they were typed."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.cables.workshop.estimate import Prices
from ohmsworth.cables.workshop.needs import STEPS
from ohmsworth.errors import Fault, QuantityFault
from ohmsworth.readings.names import clean_name
from ohmsworth.units import plain_digits, tidy

_NEW = "Write it as on the manual's page on the workshop."
#: A price, a rate or minutes beyond this are a slip.
_MOST = 1_000_000
_MOST_DECIMALS = 4


def read_prices(path: Path) -> tuple[Prices | None, list[Fault]]:
    """The prices (None when anything is at fault), and all faults."""
    table, faults = read_toml(path, _NEW)
    if table is None:
        return None, faults
    asked = Asked(table, path.name, faults)
    currency = asked.text("currency")
    if "currency" not in table:
        asked.fault("currency", "no such key", 'currency = "€", or another', "Add it.")
    decimals = asked.whole("decimals", 0, _MOST_DECIMALS)
    rate = _money(asked, "hourly_rate")
    percents = [_percent(asked, key) for key in ("surcharge", "tax")]
    parts, wires = (_named(asked.inside(key)) for key in ("parts", "wires"))
    minutes = _minutes(asked.inside("minutes"))
    asked.done()
    if faults or currency is None:
        return None, faults
    return Prices(currency, 2 if decimals is None else decimals, parts, wires, minutes, rate, *percents), []


def _money(table: Asked, key: str, what: str = "a price") -> Decimal | None:
    """A number from 0, typed as a number or as a text; a text may have a decimal comma."""
    table.allow(key)
    value = table.table.get(key)
    if value is None:
        return None
    expected, mend = f"{what} such as 4.20, without the currency", f"Write {_key(key)} = 4.20"
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        table.fault(key, found_value(value), expected, mend)
        return None
    try:
        amount = Decimal(plain_digits(str(value)))
    except QuantityFault as error:
        table.fault(key, error.found, expected, mend if isinstance(value, float) else error.mend)
        return None
    if not 0 <= amount <= _MOST:
        table.fault(key, found_value(value), f"{what} from 0 to {_MOST}", "Check the number.")
        return None
    return amount


def _key(key: str) -> str:
    return key if key.isidentifier() else f'"{key}"'


def _percent(asked: Asked, key: str) -> Decimal | None:
    """A number before a percent sign."""
    text = asked.text(key)
    if text is None:
        return None
    number = tidy(text).removesuffix("%").strip()
    try:
        percent = Decimal(plain_digits(number)) if tidy(text).endswith("%") else None
    except QuantityFault:
        percent = None
    if percent is None or not 0 <= percent <= 1000:
        asked.fault(key, found_value(text), 'a percentage such as "20 %"', f'Write {key} = "20 %"')
        return None
    return percent


def _named(table: Asked | None) -> dict[str, Decimal]:
    """A price for each name; names that look alike are one."""
    found: dict[str, Decimal] = {}
    if table is None:
        return found
    for name in table.table:
        price, clean = _money(table, name), clean_name(name)
        if clean in found:
            table.fault(name, "the same name a second time", "names that differ", "Remove one of the two.")
        elif price is not None:
            found[clean] = price
    return found


def _minutes(table: Asked | None) -> dict[str, Decimal]:
    """Minutes of each step that is stated."""
    if table is None:
        return {}
    found = {step: value for step in STEPS if (value := _money(table, step, "minutes")) is not None}
    table.done()
    return found
