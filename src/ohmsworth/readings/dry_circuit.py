"""Is it a dry-circuit reading: voltage, current and spot temperature against what film and metal stand."""

from __future__ import annotations

import numpy as np

from ohmsworth.materials import DRY_VOLTAGE, HIGHEST_SPOT_VOLTAGE, METALS, spot_temperature
from ohmsworth.readings.ambient import ambient_temperature
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Array, ReadingTable
from ohmsworth.units import show

#: IEC 60512-2-1, from memory: at most 100 mA.
DRY_CURRENT = 0.100
#: Rise of the contact spot above the bench that is worth a word, kelvin.
_WARM = 10.0
#: What contacts are plated with as a rule, where nothing is stated.
_SOLD = ("tin", "silver", "gold")
_MOLTEN = (
    "The reading made a new, welded contact, or a film carries the voltage, or a unit is wrong: check the unit; "
    "use far less current, on a fresh mating."
)


def find_wet(table: ReadingTable, study: Study) -> list[Doubt]:
    """Doubts OVER_DRY_VOLTAGE, OVER_DRY_CURRENT, OPEN_CIRCUIT, SOFTENING and SPOT_WARM."""
    doubts = _source(study)
    if table.voltage is None or table.current is None:
        return doubts
    volts, amperes = np.abs(table.voltage), np.abs(table.current)
    # Half a percent over is a set-up at its limit, not beyond it.
    if (over := volts > 1.005 * DRY_VOLTAGE).any():
        doubts.append(_over_voltage(table, over, float(volts.max())))
    if (over := amperes > 1.005 * DRY_CURRENT).any():
        doubts.append(_over_current(table, over, float(amperes.max())))
    return doubts + _hot(table, volts, study)


def _source(study: Study) -> list[Doubt]:
    volts = study.bench.open_circuit_voltage
    if volts is None or volts <= DRY_VOLTAGE:
        return []
    return [
        Doubt(
            "OPEN_CIRCUIT",
            f"the source can put {show(volts, 'V')} on an open contact; a dry circuit allows 20 mV.",
            (),
            "A film may have been broken through before the first reading; limit the source, or say so.",
        )
    ]


def _over_voltage(table: ReadingTable, over: np.ndarray, most: float) -> Doubt:
    return Doubt(
        "OVER_DRY_VOLTAGE",
        f"up to {show(most, 'V')} across the contact; a dry-circuit reading has 20 mV at most.",
        tuple(table.line[over].tolist()),
        "The film, if any, may have been broken through: use less current for a signal contact.",
    )


def _over_current(table: ReadingTable, over: np.ndarray, most: float) -> Doubt:
    return Doubt(
        "OVER_DRY_CURRENT",
        f"up to {show(most, 'A')}; a dry-circuit reading has 100 mA at most.",
        tuple(table.line[over].tolist()),
        "This shows how the contact carries that current, not how it treats a small signal: "
        "repeat at 100 mA or less.",
    )


def _hot(table: ReadingTable, volts: Array, study: Study) -> list[Doubt]:
    most = float(volts.max())
    softening = METALS[study.plating].softening_voltage if study.plating else None
    doubts = []
    if softening is not None and most >= softening:
        doubts.append(
            Doubt(
                "SOFTENING",
                f"{show(most, 'V')} softens the contact spots of {study.plating} "
                f"(from {show(softening, 'V', 2)} on).",
                tuple(table.line[volts >= softening].tolist()),
                "The reading itself changed the contact: use less current, on a fresh mating.",
            )
        )
    return doubts + _spots(table, volts, study)


def _spots(table: ReadingTable, volts: Array, study: Study) -> list[Doubt]:
    """How warm the contact spots run, or that they melt: none is hotter than its melting point."""
    most = float(volts.max())
    ambient = ambient_temperature(study, table)
    kelvin = float(spot_temperature(min(most, HIGHEST_SPOT_VOLTAGE), ambient))
    if kelvin - ambient <= _WARM:
        return []
    metals = [METALS[name] for name in ((study.plating,) if study.plating else _SOLD)]
    molten = [m.name for m in metals if most >= m.melting_voltage or kelvin >= m.melting_point]
    spots, warm = "the contact spots", f"about {kelvin - ambient:.0f} K above the bench"
    told, mend = f"{spots} run {warm}", "Expect the value at a small signal to differ; use less current."
    if molten:
        some = f"spots of {' and '.join(molten)} melt, others run {warm}"
        told, mend = f"{spots} melt" if len(molten) == len(metals) else some, _MOLTEN
    if study.plating and molten:
        told = f"{spots} of {study.plating} melt"
    return [
        Doubt("SPOT_WARM", f"at {show(most, 'V')} {told}.", tuple(table.line[volts == most].tolist()), mend)
    ]
