"""Readings of the check standard among a study's: set aside from the answer, and told."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.resistance import reduce_readings
from ohmsworth.units import show, show_percent


def check_standard_read(study: Study, check: ReadingTable | None) -> tuple[list[Doubt], frozenset[int]]:
    """What the check standard showed, as a remark beside the answer, and the lines it stands on."""
    if check is None or study.check_condition is None:
        return [], frozenset()
    rows = tuple(int(line) for line in check.line)
    value = reduce_readings(check, study.bench, np.arange(len(check))).value
    words = f"the check standard '{study.check_condition}' is no contact of this study and not in the answer."
    if len(value):
        mean = float(value.mean())
        words = f"{words[:-1]}: {show(mean, 'Ω', 4)} on average of {len(value)}"
        if len(value) > 1 and mean > 0:
            words += f", {show_percent(float(np.ptp(value)) / mean)} between the highest and the lowest"
            last = float(value[-1] / value[0] - 1)
            words += (
                f", the last {100 * abs(last):.2g} % {'above' if last > 0 else 'below'} the first"
                if last
                else ""
            )
        words += "."
    return [Doubt("CHECK_STANDARD", words, rows, "Nothing, if that is what it always shows.")], frozenset(
        rows
    )
