"""Several factors: the condition of a reading as a combination of what its factors are at.

A study may ask about two things at once (the plug's condition and the socket's; before and after, on each contact). Each
combination of their levels that was measured is a condition like any other; this page says which levels it stands for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Labels, ReadingTable, number_cells

#: Columns that every table has a place for; other factors stand among the further columns of the table.
OWN_COLUMNS = ("condition", "contact", "plug", "socket")
#: Of those, what a contact is and stays: no treatment brings contact 1 to be contact 2.
PLACES = ("contact", "plug", "socket")
#: Where both have columns they are two factors, whether or not the study says so.
PART_CONDITIONS = ("plug condition", "socket condition")


def columns_of(table: ReadingTable) -> frozenset[str]:
    """Names of the columns that can be factors or scatter."""
    return frozenset(name for name in OWN_COLUMNS if getattr(table, name) is not None) | table.others.keys()


def as_asked(study: Study, table: ReadingTable) -> ReadingTable:
    """The table with the factors that the study names, else those of plugs and sockets; and what it says scatters."""
    factors = study.factors
    if not factors and all(name in table.others for name in PART_CONDITIONS):
        factors = PART_CONDITIONS
    if factors:
        table = with_factors(table, factors)
    kept = {name: labels for name, labels in table.others.items() if name in study.scatter_by}
    return replace(table, others=kept)


def confounded(table: ReadingTable, name: str) -> bool:
    """Whether what scatters cannot be told from the conditions: each operator (or day) read one condition, or so."""
    codes, condition = table.others[name].codes, table.condition.codes
    groups, k = len(np.unique(codes)), len(table.condition.names)
    if groups < 2 or k < 2:
        return False
    size = int(codes.max()) + 1
    graph = coo_array((np.ones(len(codes)), (codes, condition + size)), shape=(size + k, size + k))
    piece = connected_components(graph, directed=False)[1]
    used = np.unique(np.concatenate([codes, condition + size]))
    return groups <= len(np.unique(piece[used]))


def with_factors(table: ReadingTable, factors: Sequence[str]) -> ReadingTable:
    """The table with the combinations of the levels of `factors` as its conditions.

    `factors` name columns; those beyond OWN_COLUMNS stand in `table.others`, from which they are taken out.
    """
    columns = {name: _column(table, name) for name in factors}
    first = np.unique(number_cells([labels.codes for labels in columns.values()]), return_index=True)[1]
    cell = number_cells([labels.codes for labels in columns.values()])
    names = tuple(
        cell_words({name: labels.names[labels.codes[row]] for name, labels in columns.items()})
        for row in first.tolist()
    )
    if len(set(names)) < len(names):  # levels that hold their factor's name, or a comma: say all of it
        names = tuple(
            "; ".join(f"{name} = {labels.names[labels.codes[row]]}" for name, labels in columns.items())
            for row in first.tolist()
        )
    others = {name: labels for name, labels in table.others.items() if name not in factors}
    return replace(table, condition=Labels(cell, names), factors=columns, others=others)


def _column(table: ReadingTable, name: str) -> Labels:
    found = getattr(table, name) if name in OWN_COLUMNS else table.others[name]
    assert isinstance(found, Labels)
    return found


def cell_words(levels: Mapping[str, str]) -> str:
    """Name of a combination: ``tarnished plug, new socket``; ``before, contact 2``."""
    return ", ".join(level_words(name, level) for name, level in levels.items())


def level_words(factor: str, level: str) -> str:
    """A level with as much of its factor's name as it takes to know it by."""
    if factor == "condition":
        return level
    if factor in PART_CONDITIONS:
        return f"{level} {factor.split(maxsplit=1)[0]}"
    return level if factor in level else f"{factor} {level}"


def compared(study: Study, table: ReadingTable, reference: int) -> list[tuple[int, int]]:
    """Numbers of the conditions that are compared, each with the one that it is compared against.

    All with the reference; or every two, where the study says so. Combinations of several factors with their neighbours too,
    which differ from them in one factor alone and have the reference's level of it; and not with the reference where that is
    another place as well: contact 3 after says nothing beside contact 1 before.
    """
    number = len(table.condition.names)
    if not table.factors:
        pairs = [(of, reference) for of in range(number) if of != reference]
        rest = [of for of in range(number) if of != reference]
        return pairs + (list(combinations(rest[::-1], 2))[::-1] if study.compare == "all pairs" else [])
    levels = _levels_of(table)
    at = {cell: of for of, cell in enumerate(levels)}
    base, found = levels[reference], []
    places = [i for i, name in enumerate(table.factors) if name in PLACES]
    for of, cell in enumerate(levels):
        changed = [i for i, level in enumerate(cell) if level != base[i]]
        beside = [at.get((*cell[:i], base[i], *cell[i + 1 :])) for i in changed]
        if len(changed) > 1 and not set(changed) & set(places):
            beside.append(reference)
        found += [(of, against) for against in beside if against is not None]
    return found


def _levels_of(table: ReadingTable) -> list[tuple[int, ...]]:
    """The level of every condition under every factor."""
    first = np.unique(table.condition.codes, return_index=True)[1]
    columns = [labels.codes[first].tolist() for labels in table.factors.values()]
    return list(zip(*columns, strict=True))
