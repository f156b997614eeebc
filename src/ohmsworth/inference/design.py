"""The design of a study as grouping factors: which readings share a specimen, a contact, a mating.

Random effects form a chain from the outside in (specimen, response, contact, mating, reading); plugs and
sockets that are re-paired with each other cross on top of it. *Response* is how differently specimens answer
to a change of condition; it exists where the same specimens are measured under several conditions.

Levels that the data cannot tell apart (one mating a specimen, say) are merged, and the merger is named.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ohmsworth.readings.table import Array, Codes, Labels, number_cells


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
    chain
        Nested levels, outermost first; the last is the residual ("reading"), one node an observation.
    crossed
        Levels crossed with each other on top of the chain (plug, socket).
    specimen
        Specimen number of each observation, whether or not specimens are a level that can be estimated.
    paired
        Whether specimens occur under more than one condition.
    """

    y: Array
    condition: Codes
    conditions: int
    chain: tuple[Level, ...]
    crossed: tuple[Level, ...]
    specimen: Codes
    paired: bool

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
) -> Design:
    """Find the levels that the labels hold and merge those that cannot be told apart."""
    conditions = np.unique(condition.codes, return_inverse=True)[1].astype(np.int64)  # in the labels' order
    k = int(conditions.max()) + 1
    pair = number_cells([column.codes for column in (specimen, plug, socket) if column is not None])
    chain = _full_chain(conditions, pair, contact, mating, len(y))
    paired = chain[1].size > chain[0].size
    crossed = _crossed(plug, socket, specimen, chain[0].size)
    chain, crossed = _estimable(chain, crossed, conditions, k)
    return Design(y, conditions, k, _merge(chain), crossed, specimen.codes, paired)


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
    """One level for two that coincide, under the outer name; "response" gives way to a name of the bench."""
    if outer.name == "response" and not outer.merged:
        name, others = inner.name, inner.merged
    else:
        told = () if inner.name == "response" else (inner.name,)
        name, others = outer.name, (*outer.merged, *told)
    return Level(name, inner.node, inner.size, others)
