"""A balanced line between two pieces of equipment at line level."""

from __future__ import annotations

from ohmsworth.consequence.rule import Kind
from ohmsworth.consequence.use import Setting
from ohmsworth.consequence.uses.balanced import BALANCED_PATH
from ohmsworth.consequence.uses.balanced_rules import balanced_curves, balanced_rules
from ohmsworth.consequence.uses.balanced_settings import check_balanced, with_defaults

LINE_SETTINGS: tuple[Setting, ...] = with_defaults(
    {
        "source_impedance": 100.0,
        "load_impedance": 20e3,
        "load_common": 10e3,
        # About −98 dBu: a quiet line output.
        "source_noise": 10e-6,
    },
    {},
)

BALANCED_LINE = Kind(
    "balanced line",
    LINE_SETTINGS,
    check_balanced,
    balanced_rules,
    balanced_curves,
    cable="pair",
    path=BALANCED_PATH,
)
