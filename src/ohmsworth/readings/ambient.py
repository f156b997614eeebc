"""The temperature at the bench: stated, else as read beside the readings, else room temperature."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable

#: 20 °C, at which wire tables are given (kelvin).
ROOM = 293.15


def ambient_temperature(study: Study, table: ReadingTable) -> float:
    """Temperature of the air at the bench (kelvin)."""
    if study.ambient is not None:
        return study.ambient
    if table.temperature is None or np.isnan(table.temperature).all():
        return ROOM
    return float(np.nanmean(table.temperature))
