"""A slipped unit that no fellow reading shows: in a heading, a whole condition or a whole specimen."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ohmsworth.materials import METALS
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.home import Home, to_check_unit, to_keep
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.study import Limit, Study
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, distinct_pairs
from ohmsworth.units import show

#: Volts that no metallic contact carries for long where the plating is unknown: tin, silver and gold have melted.
_MELTED = 0.5
#: Amperes that no four-wire bench for small contacts sends.
_MOST_AMPERES = 50.0
#: A contact below this is a bolted bar, ohm; with a stated limit within a hundred times of it, it may be.
_LEAST = 20e-6
#: Below this a contact that is also far under its limit is worth a doubt, ohm.
_SMALL = 200e-6
_FAR_UNDER, _FAR_OVER = 100.0, 3000.0
#: How close (in decades) to a whole power of ten: ±20 %.
_CLOSE = 0.08
#: Decades beyond which no power of ten need be met: tarnish makes three to a hundred times.
_APART = 3 - _CLOSE
#: Robust standard deviations of the others that a specimen stands clear by; their least, in decades.
_CLEAR, _FINE = 6.0, 0.02
#: Other specimens that it takes to say so; for a thousand times two will do.
_OTHERS, _FEWEST = 3, 2
#: A contact as they are sold, ohm: of two conditions far apart the one farther from the limit or this is told.
_USUAL = 10e-3

_ALREADY = ("UNIT_SLIP", "SLIP_OR_FAULT", "SWAPPED", "TWO_WIRE")


def find_unlikely(
    table: ReadingTable, study: Study, told: Sequence[Doubt] = (), about_zero: bool = False
) -> list[Doubt]:
    """Doubts UNLIKELY_SCALE, WHOLE_CONDITION_OFF and WHOLE_SPECIMEN_OFF, for rows that `told` does not explain.

    Readings scattered `about_zero` have no decades to be off by.
    """
    known = {row for doubt in told if doubt.code in _ALREADY for row in doubt.rows}
    flowing = (table.polarity != OFF) & ~np.isin(table.line, list(known))
    if not flowing.any() or any(d.code in ("SWAPPED", "TWO_WIRE") and not d.rows for d in told):
        return []
    table = table.take(np.flatnonzero(flowing))
    if about_zero:
        return _unlikely(table, study, None, set())
    with np.errstate(divide="ignore", invalid="ignore"):
        decades = np.log10(np.abs(row_resistance(table)))
    decades[~np.isfinite(decades)] = np.nan
    middle = {int(c): _median(decades[table.condition.codes == c]) for c in np.unique(table.condition.codes)}
    middle = {c: value for c, value in middle.items() if np.isfinite(value)}
    off = _conditions_off(middle, study.limit)
    doubts = _unlikely(table, study, 10 ** np.array(list(middle.values())), set(off))
    doubts += [_condition_doubt(table, c, apart, study.home) for c, apart in off.items()]
    return doubts + _specimens_off(table, decades, study.home)


def _median(values: Array) -> float:
    known = values[np.isfinite(values)]
    return float(np.median(known)) if len(known) else np.nan


def _unlikely(table: ReadingTable, study: Study, ohm: Array | None, off: set[int]) -> list[Doubt]:
    """The study as a whole, by voltage, current, and the conditions' resistances `ohm`."""
    reasons, rows = [], np.zeros(len(table), bool)
    if table.current is not None and (usual := float(np.median(np.abs(table.current)))) > _MOST_AMPERES:
        reasons.append(f"a current of {show(usual, 'A')}")
        rows[:] = True
    if ohm is not None and len(ohm) and (reason := _unlikely_resistance(ohm, study.limit)):
        reasons.append(reason)
        rows[:] = True
    melting, names = _melting(study.plating)
    if table.voltage is not None:
        volts = np.abs(table.voltage)
        hot = [c for c in np.unique(table.condition.codes).tolist() if c not in off]
        hot = [c for c in hot if float(np.median(volts[table.condition.codes == c])) > melting]
        molten = np.isin(table.condition.codes, hot)
        if hot:
            usual = float(np.median(volts[molten]))
            reasons.append(f"{show(usual, 'V')} across contacts, which melts {names}")
            rows |= molten
    if not reasons:
        return []
    where = "beside the figures" if study.home.kept else "in a heading"
    words = f"{' and '.join(reasons)}: a slipped unit {where}, or contacts that are no contacts."
    return [Doubt("UNLIKELY_SCALE", words, _lines(table, rows), _mend(study.home))]


def _unlikely_resistance(ohm: Array, limit: Limit | None) -> str:
    """What is unlikely about the resistances of all conditions; "" when nothing is."""
    middle = float(np.median(ohm))
    size = f"a resistance of {show(middle, 'Ω')}"
    if middle < _LEAST and (limit is None or limit.resistance > _FAR_UNDER * middle):
        return size
    if limit is None:
        return ""
    under, over = limit.resistance / ohm, ohm / limit.resistance
    if float(under.min()) > _FAR_UNDER and middle < _SMALL:
        return f"{size}, every condition more than {_FAR_UNDER:.0f} times under the limit"
    return f"{size}, every condition more than 3 000 times over the limit" if over.min() > _FAR_OVER else ""


def _melting(plating: str | None) -> tuple[float, str]:
    """Volts that melt the contact spots, and of which metals."""
    return (METALS[plating].melting_voltage, plating) if plating else (_MELTED, "tin, silver and gold")


def _conditions_off(middle: dict[int, float], limit: Limit | None) -> dict[int, float]:
    """Conditions a thousand times or more from every other one, with the decades from the nearest."""
    found = {}
    for c, value in middle.items():
        apart = [value - other for d, other in middle.items() if d != c]
        if apart and min(map(abs, apart)) > _APART:
            found[c] = min(apart, key=abs)
    if len(middle) == 2 and len(found) == 2:  # either may be the one that is off
        usual = np.log10(limit.resistance if limit else _USUAL)
        worst = max(found, key=lambda c: abs(middle[c] - usual))
        return {worst: found[worst]}
    return found


def _condition_doubt(table: ReadingTable, condition: int, apart: float, home: Home) -> Doubt:
    return Doubt(
        "WHOLE_CONDITION_OFF",
        f"the '{table.condition.names[condition]}' contacts read {_factor(apart)} than those of any other condition: "
        "a slipped unit, or contacts that are really so.",
        _lines(table, table.condition.codes == condition),
        _mend(home),
    )


def _specimens_off(table: ReadingTable, decades: Array, home: Home) -> list[Doubt]:
    """Specimens a whole power of ten (or more than a thousand times) from their fellows, clear of their scatter."""
    unique, pair = distinct_pairs(table.condition.codes, table.specimen.codes)
    value = _group_medians(decades, pair, len(unique))
    found = []
    for c in np.unique(unique[:, 0]):
        mine = np.flatnonzero((unique[:, 0] == c) & np.isfinite(value))
        for i in mine[np.abs(value[mine] - np.median(value[mine])) > 0.5] if len(mine) > _FEWEST else []:
            apart = _off(float(value[i]), value[mine[mine != i]])
            if apart:
                found.append(_specimen_doubt(table, pair == i, apart, home))
    return found


def _group_medians(values: Array, group: Codes, groups: int) -> Array:
    order = np.argsort(group, kind="stable")
    parts = np.split(values[order], np.cumsum(np.bincount(group, minlength=groups))[:-1])
    return np.array([_median(part) for part in parts])


def _off(value: float, others: Array) -> float:
    """Decades by which a specimen is off from `others`; 0 when it is not."""
    centre = float(np.median(others))
    spread = max(1.4826 * float(np.median(np.abs(others - centre))), _FINE)
    apart = value - centre
    power = round(apart)
    if abs(apart) <= _CLEAR * spread:
        return 0.0
    whole = len(others) >= _OTHERS and power != 0 and abs(apart - power) < _CLOSE
    return apart if whole or abs(apart) > _APART else 0.0


def _specimen_doubt(table: ReadingTable, rows: np.ndarray, apart: float, home: Home) -> Doubt:
    specimen = table.specimen.names[table.specimen.codes[rows][0]]
    return Doubt(
        "WHOLE_SPECIMEN_OFF",
        f"{specimen}: every reading is {_factor(apart)} than those of its fellows: a slipped unit, or a contact that "
        "is really so.",
        _lines(table, rows),
        f"Read that contact again; correct the unit, or {to_keep(home, True)} if it is right.",
    )


def _mend(home: Home) -> str:
    return f"{to_check_unit(home)}; correct it, or {to_keep(home, True)} if it is right."


def _factor(apart: float) -> str:
    """A distance in decades as a factor with two digits: ``about 3 200 times more``."""
    size = 10 ** abs(apart)
    digits = 1 - int(np.floor(np.log10(size)))
    told = f"{round(size, digits):,.0f}".replace(",", " ")
    return f"about {told} times {'more' if apart > 0 else 'less'}"


def _lines(table: ReadingTable, chosen: np.ndarray) -> tuple[int, ...]:
    return tuple(table.line[chosen].tolist())
