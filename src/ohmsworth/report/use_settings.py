"""The values of a circuit as people write them."""

from __future__ import annotations

from ohmsworth.consequence import settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.report.document import Table
from ohmsworth.report.tables import table
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.units import show_stated

#: Unit without prefix in which a dimension is told.
_UNITS = {
    "resistance": "Ω",
    "voltage": "V",
    "current": "A",
    "length": "m",
    "frequency": "Hz",
    "capacitance": "F",
    "capacitance per length": "F/m",
    "resistance per length": "Ω/m",
    "inductance": "H",
    "inductance per length": "H/m",
    "level difference": "dB",
    "time": "s",
    "power": "W",
}


def settings_table(use: UseAnswer) -> Table:
    """Every value that the circuit of `use` was reckoned with."""
    rows = [
        (setting.words, f"{setting.key}", told)
        for setting in settings_of(use.kind)
        if (told := setting_value(setting, use.settings[setting.key]))
    ]
    return table(f"{use.name}: the circuit", ("what", "in study.toml", "value"), tuple(rows), (2,))


def setting_value(setting: Setting, value: float | str) -> str:
    """`value` (SI or text) of `setting`, with a unit.

    Examples
    --------
    >>> length = Setting("length", "l", "length", 1.0, "", "practice")
    >>> setting_value(length, 0.02)
    '20 mm'
    """
    if isinstance(value, str):
        return value
    if setting.dimension == "number":
        return f"{value:g}"
    if setting.dimension == "temperature":
        return f"{value - 273.15:.4g} °C".replace("-", "−")
    if setting.dimension == "ratio":
        return f"{100 * value:.4g} %"
    return show_stated(value, _UNITS[setting.dimension])
