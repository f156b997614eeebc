"""Control charts of a check standard: limits, run lengths, and whether today's point lets the day begin."""

from ohmsworth.inference.control.charts import (
    Cusum,
    Ewma,
    Individuals,
    Limits,
    cusum,
    ewma,
    individuals,
    limits_from,
    moving_ranges,
)
from ohmsworth.inference.control.constants import c4, d2, d3
from ohmsworth.inference.control.run_length import (
    cusum_run_length,
    ewma_run_length,
    shewhart_run_length,
)
from ohmsworth.inference.control.verdict import FIT, LOOK, ControlResult, control

__all__ = [
    "FIT",
    "LOOK",
    "ControlResult",
    "Cusum",
    "Ewma",
    "Individuals",
    "Limits",
    "c4",
    "control",
    "cusum",
    "cusum_run_length",
    "d2",
    "d3",
    "ewma",
    "ewma_run_length",
    "individuals",
    "limits_from",
    "moving_ranges",
    "shewhart_run_length",
]
