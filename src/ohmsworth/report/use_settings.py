"""The values of a circuit as people write them, so that they can be typed again."""

from __future__ import annotations

from ohmsworth.consequence import settings_of
from ohmsworth.consequence.use import Setting
from ohmsworth.report.document import Table
from ohmsworth.report.tables import table
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.units import show_typed


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
    return show_typed(value, setting.dimension)
