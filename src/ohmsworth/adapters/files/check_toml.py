"""The table of study.toml that tells of the check standard."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.readings.check import CheckStandard


def read_check_standard(asked: Asked, believed: tuple[float, float]) -> CheckStandard:
    """The table ``[check_standard]``, or what holds without it; resistances within `believed`."""
    table = asked.inside("check_standard")
    if table is None:
        return CheckStandard()
    standard = CheckStandard(
        name=table.text("name") or CheckStandard().name,
        value=table.quantity("value", "resistance", *believed),
        standard_uncertainty=table.quantity("standard_uncertainty", "resistance", 1e-12, believed[1]),
        first=table.whole("first", 5, 10_000),
    )
    if ("value" in table.table) != ("standard_uncertainty" in table.table):
        mend = "State both as the calibration does, the uncertainty at k = 1, or neither."
        table.fault("value", "one of value and standard_uncertainty", "both, or neither", mend)
    table.done()
    return standard
