"""What a bench can tell: repeatability and reproducibility, and what they leave of a limit."""

from ohmsworth.inference.gauge.ability import (
    Ability,
    Told,
    ability,
    chances,
    smallest_difference,
)
from ohmsworth.inference.gauge.anova import AnovaRow, crossed_anova, nested_anova
from ohmsworth.inference.gauge.levels import level_deviations, pooled_deviation
from ohmsworth.inference.gauge.study import GaugeResult, gauge

__all__ = [
    "Ability",
    "AnovaRow",
    "GaugeResult",
    "Told",
    "ability",
    "chances",
    "crossed_anova",
    "gauge",
    "level_deviations",
    "nested_anova",
    "pooled_deviation",
    "smallest_difference",
]
