"""Levels that cross: their random effects integrated out together, by dense algebra, block by block.

Groups that some observation joins, directly or over others, belong to one block; a specimen whose contacts are read under
several conditions is a block, plugs and sockets that are paired anew are mostly one. With W = Z' diag(p) Z and G = diag(t)
of a block,

    M = I + G W,    log|V| += log|M|,    Q -= S' M^-1 G S,    S = Z's

Blocks of nearly one size are worked at together, the smaller ones filled up with groups that have no member.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ohmsworth.inference.design import Level
from ohmsworth.inference.jet import Jet, inverse_of, logdet, matmul, solve, sum_by, variable
from ohmsworth.readings.table import Array, Codes

#: Stands for a variance of zero where it has to be divided by (variances are near one).
_LITTLE = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Blocks:
    """Blocks of one (filled up) size.

    Parameters
    ----------
    number, size
        How many blocks, and groups in each.
    member
        Numbers of the groups of the chain that lie in these blocks, shape (n,).
    block
        Block of each of them, shape (n,).
    place
        Place within the block of its group at each crossed level, shape (levels, n).
    level
        Crossed level of each place, shape (number, size); filled-up places count to the first.
    filled
        Which places are groups, shape (number, size).
    """

    number: int
    size: int
    member: Codes
    block: Codes
    place: Codes
    level: Codes
    filled: Array


def find_blocks(crossed: tuple[Level, ...], node: Codes, size: int) -> tuple[Blocks, ...]:
    """Cut the crossed levels into blocks.

    Parameters
    ----------
    crossed
        The levels, each with its group of every observation.
    node, size
        Group of every observation at the outermost level of the chain (which the crossed levels do not cut), and their number.
    """
    if not crossed:
        return ()
    group = np.empty((len(crossed), size), np.int64)
    starts = np.cumsum([0, *(level.size for level in crossed)])
    for row, level, start in zip(group, crossed, starts[:-1], strict=True):
        row[node] = level.node + start
    total = int(starts[-1])
    joined = coo_array(
        (np.ones(group[1:].size), (np.tile(group[0], len(crossed) - 1), group[1:].ravel())),
        shape=(total, total),
    )
    count, block_of = connected_components(joined, directed=False)
    sizes = np.bincount(block_of, minlength=count)
    within = _rank_within(block_of.astype(np.int64), sizes)
    level_of = np.repeat(np.arange(len(crossed)), [level.size for level in crossed])
    filled_up = 2 ** np.ceil(np.log2(sizes)).astype(np.int64) if count > 1 else sizes
    return tuple(
        _of_size(int(width), filled_up, group, block_of.astype(np.int64), within, level_of)
        for width in np.unique(filled_up)
    )


def _rank_within(block_of: Codes, sizes: Codes) -> Codes:
    order = np.argsort(block_of, kind="stable")
    rank = np.empty(len(block_of), np.int64)
    rank[order] = np.arange(len(block_of)) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    return rank


def _of_size(
    width: int, filled_up: Codes, group: Codes, block_of: Codes, within: Codes, level_of: Codes
) -> Blocks:
    chosen = np.flatnonzero(filled_up == width)
    number = np.full(len(filled_up), -1)
    number[chosen] = np.arange(len(chosen))
    member = np.flatnonzero(number[block_of[group[0]]] >= 0)
    mine = np.flatnonzero(number[block_of] >= 0)
    level = np.zeros((len(chosen), width), np.int64)
    filled = np.zeros((len(chosen), width))
    level[number[block_of[mine]], within[mine]] = level_of[mine]
    filled[number[block_of[mine]], within[mine]] = 1.0
    own = group[:, member]
    return Blocks(len(chosen), width, member, number[block_of[own[0]]], within[own], level, filled)


def eliminate_block(blocks: Blocks, variance: Array, first: int, p: Jet, s: Jet) -> tuple[Jet, Jet, int]:
    """What these blocks add to log|det V|, what they take from Q, and how many eigenvalues of V they turn negative.

    Parameters
    ----------
    blocks
        The blocks.
    variance
        All variance components; those of the crossed levels begin at `first`.
    p, s
        Precision and weighted sums of the groups of the chain.
    """
    m = len(variance)
    w = p.map(lambda a: _products(blocks, a[..., blocks.member]))
    sums = s.map(lambda a: _sums(blocks, a[..., blocks.member]))
    g = variable(variance, (first + blocks.level).ravel(), m).scale(blocks.filled.ravel())
    g = g.map(lambda a: a.reshape(*a.shape[:-1], blocks.number, blocks.size))
    gw = _rows(g) * w
    matrix = Jet(gw.v + np.eye(blocks.size), gw.g, gw.h)
    inverse = inverse_of(matrix)
    solved = solve(matrix, _rows(g) * sums.map(_turned), inverse)
    return logdet(matrix, inverse), _matmul_over_blocks(sums, solved), _turned_negative(g.v, w.v)


def _products(blocks: Blocks, a: Array) -> Array:
    """Z' diag(p) Z of every block, shape (..., number, size, size)."""
    size = blocks.size
    cells = blocks.number * size * size
    at = blocks.block * size
    total = np.zeros((*a.shape[:-1], cells))
    for row in blocks.place:
        for column in blocks.place:
            total += sum_by(a, (at + row) * size + column, cells)
    return total.reshape(*a.shape[:-1], blocks.number, size, size)


def _sums(blocks: Blocks, a: Array) -> Array:
    """Z's of every block, shape (..., number, k+1, size) for a of shape (..., k+1, n)."""
    cells = blocks.number * blocks.size
    total = np.zeros((*a.shape[:-1], cells))
    for row in blocks.place:
        total += sum_by(a, blocks.block * blocks.size + row, cells)
    return total.reshape(*a.shape[:-1], blocks.number, blocks.size).swapaxes(-2, -3)


def _turned_negative(g: Array, w: Array) -> int:
    """How many eigenvalues of V become negative by these groups.

    Of [[R, Z], [Z', −1/G]], taken apart by either corner: as many as 1/G + Z'R⁻¹Z has positive ones beyond those of G.
    """
    if (g >= 0).all():
        return 0
    inverse = 1 / np.where(g == 0, _LITTLE, g)
    values = np.linalg.eigvalsh(w + inverse[..., None] * np.eye(g.shape[-1]))
    return int((values > 0).sum() - (g >= 0).sum())


def _rows(jet: Jet) -> Jet:
    """A jet of numbers, to multiply the rows of matrices with."""
    return Jet(jet.v[..., None], jet.g[..., None], jet.h[..., None])


def _turned(a: Array) -> Array:
    return a.swapaxes(-1, -2)


def _matmul_over_blocks(a: Jet, b: Jet) -> Jet:
    """Sum over blocks of a b: a of shape (number, k+1, size), b of shape (number, size, k+1)."""

    def side(x: Array) -> Array:
        return x.swapaxes(-2, -3).reshape(*x.shape[:-3], x.shape[-2], -1)

    left = a.map(side)
    right = b.map(lambda x: x.reshape(*x.shape[:-3], -1, x.shape[-1]))
    return matmul(left, right)
