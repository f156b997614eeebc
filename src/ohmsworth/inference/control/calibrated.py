"""Whether the check standard reads what its calibration says."""

from __future__ import annotations

import math

from ohmsworth.inference.control.charts import WIDTH


def agrees(value: float, uncertainty: float, calibrated: tuple[float, float], width: float = WIDTH) -> bool:
    """Whether `value` and the calibration differ by no more than `width` times both uncertainties together.

    Parameters
    ----------
    value, uncertainty
        What was read, with its standard uncertainty (meters and scatter), ohm.
    calibrated
        Value and standard uncertainty of the calibration, ohm.
    width
        As of chart limits, so that a false alarm is as rare.

    Examples
    --------
    >>> agrees(1.005e-3, 2e-6, (1.000e-3, 1e-6)), agrees(1.007e-3, 2e-6, (1.000e-3, 1e-6))
    (True, False)
    """
    return abs(value - calibrated[0]) <= width * math.hypot(uncertainty, calibrated[1])
