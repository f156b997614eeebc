"""The design of a study as grouping factors: which readings share a specimen, a contact, a mating.

Random effects form a chain from the outside in (specimen, response, contact, mating, reading). *Response* is how differently
specimens answer to a change of condition; it exists where the same specimens are measured under several conditions, and where
their contacts are named alike under each, the contacts have a *contact response* too. Levels that cross stand on top of
the chain: plugs and sockets that are re-paired with each other, contacts with conditions, operators and days with specimens.

Levels that the data cannot tell apart (one mating a specimen, say) are merged, and the merger is named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ohmsworth.readings.table import Array, Codes, Labels, number_cells

#: Levels that are parts of a pair.
PARTS = ("plug", "socket")


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """A grouping factor: `node[i]` numbers the group of observation i; `merged` names levels inside it."""

    name: str
    node: Codes
    size: int
    merged: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Design:
    """Observations and how they hang together.

    Parameters
    ----------
    y
        Observations on the scale of analysis, shape (n,).
    condition
        Condition number of each, 0..k-1.
    conditions
        Number of conditions, k.
    fixed
        What the mean is made of, one row a coefficient, shape (p, n); by default the conditions' indicators.
    chain
        Nested levels, outermost first; the last is the residual ("reading"), one node an observation.
    crossed
        Levels on top of the chain that cross each other (plug, socket).
    nest
        What means are taken over: specimens within conditions ("cell"), then the levels inside them; the last is the residual.
    specimen
        Specimen number of each observation, whether or not specimens are a level that can be estimated.
    paired
        Whether specimens occur under more than one condition.
    units
        What a condition is judged by: the specimens, or the plugs and the sockets where these are re-paired; whether or not
        they are levels that can be estimated.
    independent
        Whether specimens share nothing with each other but their condition: no parts that are re-paired, no operator or day.
    """

    y: Array
    condition: Codes
    conditions: int
    fixed: Array
    chain: tuple[Level, ...]
    crossed: tuple[Level, ...]
    nest: tuple[Level, ...]
    specimen: Codes
    paired: bool
    units: tuple[Codes, ...]
    independent: bool

    @property
    def levels(self) -> tuple[Level, ...]:
        """All levels, the crossed ones first, then from the outside in."""
        return (*self.crossed, *self.chain)

    @property
    def repaired(self) -> bool:
        """Whether plugs and sockets are re-paired with each other."""
        return any(level.name in PARTS for level in self.crossed)

    @property
    def residual(self) -> Level:
        """The innermost level."""
        return self.chain[-1]


def build_design(
    y: Array,
    condition: Labels,
    specimen: Labels,
    contact: Labels | None = None,
    mating: Labels | None = None,
    plug: Labels | None = None,
    socket: Labels | None = None,
    others: Mapping[str, Labels] | None = None,
    factors: Mapping[str, Labels] | None = None,
) -> Design:
    """Find the levels that the labels hold and merge those that cannot be told apart.

    `others` are further levels that scatter (operator, day, meter), nested or crossed as their labels are. Where conditions are
    combinations of several `factors`, specimens may respond to each of these in their own way.
    """
    conditions = np.unique(condition.codes, return_inverse=True)[1].astype(np.int64)  # in the labels' order
    k = int(conditions.max()) + 1
    pair = number_cells([column.codes for column in (specimen, plug, socket) if column is not None])
    chain = _full_chain(conditions, pair, contact, mating, len(y))
    paired = chain[1].size > chain[0].size
    parts = _crossed(plug, socket, specimen, chain[0].size)
    units = tuple(level.node for level in parts) or (specimen.codes,)
    joining = parts + _labelled(others or {})
    shared = _shared_contacts(chain, contact)
    if shared:
        chain[2] = replace(chain[2], name="contact response")
    kept, joining = _estimable(chain, joining, conditions, k)
    further = shared + (_responses(chain, factors or {}) if paired else [])
    if further or others:
        arranged, crossed = arrange([*joining, *further, *kept[:-1]], kept[-1])
    else:
        arranged, crossed = _merge(kept), joining
    nest = (replace(chain[1], name="cell"), *_merge(chain[2:]))
    fixed = np.eye(k)[:, conditions]
    return Design(
        y, conditions, k, fixed, arranged, crossed, nest, specimen.codes, paired, units, not joining
    )


def _full_chain(
    condition: Codes, specimen: Codes, contact: Labels | None, mating: Labels | None, n: int
) -> list[Level]:
    node = specimen
    chain = [_level("specimen", node)]
    node = number_cells([node, condition])
    chain.append(_level("response", node))
    for name, column in (("contact", contact), ("mating", mating)):
        if column is not None:
            node = number_cells([node, column.codes])
            chain.append(_level(name, node))
    chain.append(Level("reading", np.arange(n), n))
    return chain


def _level(name: str, node: Codes) -> Level:
    return Level(name, node, int(node.max()) + 1)


def _labelled(others: Mapping[str, Labels]) -> tuple[Level, ...]:
    return tuple(_level(name, number_cells([labels.codes])) for name, labels in others.items())


def _shared_contacts(chain: list[Level], contact: Labels | None) -> list[Level]:
    """The contacts as such, where the same ones of a specimen are read under several conditions."""
    if contact is None:
        return []
    level = _level("contact", number_cells([chain[0].node, contact.codes]))
    return [level] if chain[0].size < level.size < chain[2].size else []


def _responses(chain: list[Level], factors: Mapping[str, Labels]) -> list[Level]:
    """How specimens respond to each factor that changes within them, where that is not their response to the condition."""
    specimen, response = chain[0], chain[1]
    found = []
    for name, labels in factors.items():
        level = _level(f"response to {name}", number_cells([specimen.node, labels.codes]))
        pieces = _components(specimen.node, specimen.size, labels.codes, len(labels.names))
        freedom = level.size - specimen.size - len(np.unique(labels.codes)) + pieces
        if specimen.size < level.size < response.size and freedom > 0:
            found.append(level)
    return found


def arrange(levels: list[Level], residual: Level) -> tuple[tuple[Level, ...], tuple[Level, ...]]:
    """A chain of nested levels from the residual outwards, as long as there is one, and the levels that cross.

    A level joins the chain when it cuts all that are left. Of levels that coincide the first in the list keeps its name.
    """
    left: list[Level] = []
    for level in levels:
        twin = next((i for i, one in enumerate(left) if _cuts(one, level) and _cuts(level, one)), None)
        if twin is None:
            left.append(level)
        else:
            left[twin] = _join(left[twin], level)
    chain = [residual]
    while finest := next((one for one in left if all(_cuts(one, other) for other in left)), None):
        chain.insert(0, finest)
        left = [level for level in left if level is not finest]
    return _merge(chain), tuple(left)


def _cuts(fine: Level, coarse: Level) -> bool:
    """Whether each group of `fine` lies in one group of `coarse`."""
    if fine.size < coarse.size:
        return False
    return fine is coarse or int(number_cells([coarse.node, fine.node]).max()) + 1 == fine.size


def _crossed(plug: Labels | None, socket: Labels | None, specimen: Labels, pairs: int) -> tuple[Level, ...]:
    """Plugs and sockets, unless each belongs to one mated pair only (then they are the specimen).

    Where only one of them has a column and it changes within specimens, the specimen is the other.
    """
    if plug is not None or socket is not None:
        plug, socket = plug or specimen, socket or specimen
    levels = [
        _level(name, number_cells([column.codes]))
        for name, column in (("plug", plug), ("socket", socket))
        if column is not None
    ]
    return tuple(level for level in levels if level.size < pairs)


def _estimable(
    chain: list[Level], crossed: tuple[Level, ...], condition: Codes, k: int
) -> tuple[list[Level], tuple[Level, ...]]:
    """Drop the levels whose scatter leaves no degree of freedom beside the conditions."""
    specimen, response = chain[0], chain[1]
    components = _components(specimen.node, specimen.size, condition, k)
    kept = list(chain)
    if response.size - (specimen.size + k - components) <= 0 and response.size > specimen.size:
        kept.remove(response)
    if specimen.size - components <= 0:
        kept.remove(specimen)
        if response in kept and response.size == k:
            kept.remove(response)
    crossed = tuple(
        level for level in crossed if level.size > _components(level.node, level.size, condition, k)
    )
    return kept, crossed


def _components(node: Codes, size: int, condition: Codes, k: int) -> int:
    """Number of connected pieces of the graph that joins groups and conditions."""
    graph = coo_array((np.ones(len(node)), (node, condition + size)), shape=(size + k, size + k))
    return int(connected_components(graph, directed=False)[0])


def _merge(chain: list[Level]) -> tuple[Level, ...]:
    merged: list[Level] = []
    for level in chain:
        if merged and merged[-1].size == level.size:
            merged[-1] = _join(merged[-1], level)
        else:
            merged.append(level)
    return tuple(merged)


def _join(outer: Level, inner: Level) -> Level:
    """One level for two that coincide, under the outer name; a change gives way to a name of the bench."""
    if _is_change(outer.name) and not outer.merged:
        name, others = inner.name, inner.merged
    else:
        told = () if _is_change(inner.name) else (inner.name,)
        name, others = outer.name, (*outer.merged, *told)
    return Level(name, inner.node, inner.size, others)


def _is_change(name: str) -> bool:
    """Whether a level names no thing on the bench: where it coincides with one that does, that name stays."""
    return name == "contact response" or name.startswith("response")
