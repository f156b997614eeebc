"""The uncertainty budget of a condition: every contribution, largest first, with what would reduce it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.inference.measured import Measured

REMEDIES = {
    "specimen": "measure more specimens",
    "response": "treat and measure more specimens",
    "plug": "use more plugs",
    "socket": "use more sockets",
    "contact": "measure more contacts of each specimen",
    "contact response": "measure more contacts of each specimen",
    "operator": "let more people read",
    "day": "read on more days",
    "meter": "read with more meters",
    "mating": "mate and measure each specimen more often",
    "reading": "take more readings in each mating, with a larger current if the film allows it",
    "voltmeter gain": "use a voltmeter with a smaller % of reading, or have it calibrated",
    "ammeter gain": "use an ammeter or shunt with a smaller % of reading, or have it calibrated",
    "ohmmeter gain": "use a meter with a smaller % of reading, or have it calibrated",
    "voltmeter calibration": "use a voltmeter calibrated to less",
    "ammeter calibration": "use an ammeter or shunt calibrated to less",
    "ohmmeter calibration": "use a meter calibrated to less",
    "thermal EMF": "reverse the current and read both polarities",
    "meter counts": "use a range with a finer last digit, or a larger current within the dry-circuit limit",
    "noise of the takes": "give the tones more time: four times halves it",
    "shunt": "use a better calibrated shunt, or takes of a known resistor",
    "shunt's inductance": "use a shunt of little or known inductance, or takes of a known resistor",
    "crosstalk in step": "add takes with the contact's sense leads exchanged",
    "crosstalk a quarter off": "add takes with the contact's sense leads exchanged",
    "inputs' gain": "add takes with the inputs exchanged",
    "inputs' phase": "add takes with the inputs exchanged",
    "load": "use a better calibrated resistor as load",
    "load's inductance": "use a load of little or known inductance",
    **{
        f"noise of the {series} {way}": f"give the takes of the {series} more time"
        for series in ("short", "load", "open")
        for way in ("in step", "a quarter off")
    },
}


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One contribution: standard uncertainty in ohm, its share of the variance, and what would reduce it."""

    source: str
    contribution: float
    share: float
    remedy: str


def budget(measured: Measured, result: ConditionResult) -> tuple[BudgetLine, ...]:
    """Split the variance of a condition's median or mean by source; shares add to 1."""
    parts = {part.source: part.uncertainty**2 for part in result.parts}
    parts.update(_scatter_parts(measured, result))
    total = sum(parts.values())
    unit = result.value if measured.scale == "log" else 1.0
    lines = [
        BudgetLine(name, float(np.sqrt(v)) * abs(unit), v / total, remedy(name))
        for name, v in parts.items()
        if v > 0
    ]
    return tuple(sorted(lines, key=lambda line: -line.share))


def remedy(source: str) -> str:
    """What would reduce a contribution."""
    name = source.removesuffix(" scatter")
    return REMEDIES["response" if name.startswith("response") else name]


def _scatter_parts(measured: Measured, result: ConditionResult) -> dict[str, float]:
    """Each level's part of the estimate's variance, scaled so that they add up to it."""
    if measured.engine is None or result.estimate is None:
        return {}
    fit, design = measured.engine.fit, measured.design
    member = np.flatnonzero(design.condition == result.condition)
    raw = {
        level.name: fit.of(level.name, result.condition) / len(np.unique(level.node[member]))
        for level in design.levels
    }
    whole = sum(raw.values())
    if whole == 0:
        return {}
    return {f"{name} scatter": v / whole * result.estimate.variance for name, v in raw.items()}
