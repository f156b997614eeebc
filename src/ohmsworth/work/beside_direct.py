"""Tones beside direct current: where the same specimens were read both ways in the same condition."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.table import Labels
from ohmsworth.report.frequencies_answer import BesideDirectAnswer
from ohmsworth.resistance import REVERSAL, THREE, Resistances
from ohmsworth.resistance.impedance.against_dc import CAUSES, against_direct
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.of_contacts import resistances_at
from ohmsworth.work.results import Results
from ohmsworth.work.tone_results import OverTones

#: A scatter of differences needs so many specimens.
_FEWEST = 2
#: What stands for an uncertainty that nobody states, in ohm: nothing, beside any other.
_NOTHING = 1e-15


def beside_direct(results: Results, over: OverTones) -> tuple[BesideDirectAnswer, ...]:
    """Each condition that both have with two specimens or more, over the specimens that both have.

    Of specimen i with mean resistance t_i from tones at the lowest tone and d_i from direct current,

        difference = mean(t_i − d_i),    u² = s²(t_i − d_i)/n + u²_shared(tones) + u²_shared(direct)

    so that what specimens differ by takes no part; re-mating between the two does, and is in s.
    """
    if results.loaded is None or results.loaded.tone is not None:
        return ()
    found = over.loaded.found
    tones, direct = resistances_at(found, 0, over.used), results.resistances
    told = []
    for name in direct.condition.names:
        if name in tones.condition.names:
            one = _of_condition(results, tones, direct, name, float(found.frequency[0]))
            told += [one] if one is not None else []
    return tuple(told)


def without_direct(results: Results, over: OverTones) -> tuple[str, ...]:
    """What cannot be held beside direct current, in words."""
    if results.loaded is None or results.loaded.tone is not None:
        return ()
    there = {one.condition for one in beside_direct(results, over)}
    left = [f"'{name}'" for name in over.loaded.found.table.condition.names if name not in there]
    if not left:
        return ()
    told = (
        f"Tones and direct current are not held beside each other for {', '.join(left)}: that takes two specimens or more with "
        "the same names and the same condition in readings.csv and takes.csv."
    )
    return (told,)


def _of_condition(
    results: Results, tones: Resistances, direct: Resistances, condition: str, hertz: float
) -> BesideDirectAnswer | None:
    mine = [_rows(one.condition, condition) for one in (tones, direct)]
    means = [_means(one.take(rows)) for one, rows in zip((tones, direct), mine, strict=True)]
    both = [name for name in means[0] if name in means[1]]
    if len(both) < _FEWEST:
        return None
    t, d = (np.array([each[name] for name in both]) for each in means)
    apart = t - d
    random = float(apart.std(ddof=1) / np.sqrt(len(both)))
    kept = [
        rows[[one.specimen.names[c] in both for c in one.specimen.codes[rows]]]
        for one, rows in zip((tones, direct), mine, strict=True)
    ]
    shared = {name: float(part[kept[0]].mean()) for name, part in tones.shared.items()}
    meters = np.array([float(part[kept[1]].mean()) for part in direct.shared.values()])
    emf = float(direct.emf[kept[1]].mean())
    uncertainty = max(float(np.sqrt((meters**2).sum() + emf**2)), _NOTHING)
    voltage = results.table.voltage
    rows = direct.rows[kept[1]]
    most = None if voltage is None else float(np.abs(voltage[rows[rows >= 0]]).max())
    reversed_too = bool(np.isin(direct.form[kept[1]], (REVERSAL, THREE)).all())
    found = against_direct(
        Estimated(float(t.mean()), random, len(both) - 1.0, shared),
        float(d.mean()),
        uncertainty,
        voltage=most,
        reversed_too=reversed_too,
    )
    return BesideDirectAnswer(
        condition,
        len(both),
        hertz,
        float(t.mean()),
        float(d.mean()),
        found.difference.value,
        found.low,
        found.high,
        found.p_value,
        found.explained,
        tuple(CAUSES[cause] for cause in found.causes),
    )


def _rows(labels: Labels, name: str) -> np.ndarray:
    return np.flatnonzero(labels.codes == labels.names.index(name))


def _means(found: Resistances) -> dict[str, float]:
    """Mean resistance of each specimen."""
    count = np.bincount(found.specimen.codes, minlength=len(found.specimen.names))
    total = np.bincount(found.specimen.codes, found.value, len(found.specimen.names))
    return {found.specimen.names[c]: float(total[c] / count[c]) for c in np.flatnonzero(count).tolist()}
