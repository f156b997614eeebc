"""Integer programs of a cutting plan, solved stage by stage: length missing, then scrap, then reels.

With *patterns* each way to cut a reel of one length is a variable that counts the reels cut so: no two plans differ by names of
reels alone, and scrap is known of each way before anything is solved. Where there are too many ways, each reel counts its own
pieces instead. Sources: GilmoreGomory (patterns), HuangfuHall (the solver).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from scipy import sparse
from scipy.optimize import Bounds, LinearConstraint, milp

from ohmsworth.cables.workshop.fitting import Counts, Room, Score, fewest_reels, fits, score_of, total

#: More ways to cut than this are not listed: the solver is then quicker with reels that count their own pieces.
MOST_PATTERNS = 1000
#: Sums are whole numbers: what the solver has above one by less than this is rounding.
_HALF, _ROUNDING = 0.5, 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class Program:
    """Variables from 0 to `upper`, whole numbers where `whole` is 1, with low <= matrix x <= high.

    `goals` are the three sums to make small, one after the other: the first two in `unit` millimetres. `read` turns a solution
    into pieces on reels.
    """

    matrix: sparse.csr_array
    low: np.ndarray
    high: np.ndarray
    upper: np.ndarray
    whole: np.ndarray
    goals: tuple[np.ndarray, np.ndarray, np.ndarray]
    unit: int
    read: Callable[[np.ndarray], Counts]


def best_program(
    lengths: Sequence[int], wanted: Sequence[int], room: Room, start: Counts, floor: Score, seconds: float
) -> tuple[Counts, Score]:
    """The best plan that is found in time, at least as good as `start`, and what no plan can be below.

    Parameters
    ----------
    lengths, wanted
        Millimetres of each kind of piece, and how many.
    room
        Millimetres and smallest useful rest of each reel, reels alike side by side.
    start
        A plan, pieces of each length on each reel.
    floor
        What no plan can be below, as far as it is seen without a search.
    seconds
        For the solver, in all.
    """
    best, score, least = start, score_of(start, lengths, wanted, room), list(floor)
    if score == floor or not lengths or not room:
        return best, floor
    program = _patterns(lengths, wanted, room) or _reel_by_reel(lengths, wanted, room)
    held: list[LinearConstraint] = []
    for stage, unit in enumerate((program.unit, program.unit, 1)):
        if score[stage] > least[stage]:
            x, bound = _solved(program, stage, held, seconds / 3)
            least[stage] = max(least[stage], unit * bound)
            found = best if x is None else program.read(x)
            new = score_of(found, lengths, wanted, room)
            if new < score and fits(found, lengths, wanted, room):
                best, score = found, new
        if stage == 0:  # where more is missing, fewer reels may do
            least[2] = fewest_reels(total(lengths, wanted) - score[0], room)
        held.append(LinearConstraint(program.goals[stage][None, :], -np.inf, score[stage] / unit + _HALF))
    return best, (least[0], least[1], least[2])


def _solved(
    program: Program, stage: int, held: Sequence[LinearConstraint], seconds: float
) -> tuple[np.ndarray | None, int]:
    """The best solution found, or None, and a whole number that its sum cannot be below."""
    result = milp(
        program.goals[stage],
        integrality=program.whole,
        bounds=Bounds(0, program.upper),
        constraints=[LinearConstraint(program.matrix, program.low, program.high), *held],
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    bound = result.get("mip_dual_bound")
    known = 0 if bound is None or not math.isfinite(bound) else max(math.ceil(bound - _ROUNDING), 0)
    return (None if result.x is None else np.asarray(result.x)), known


def _unit(lengths: Sequence[int], room: Room) -> int:
    """The largest length of which all are multiples: smaller numbers are easier to solve."""
    return math.gcd(*lengths, *(mm for pair in room for mm in pair))


def _patterns(lengths: Sequence[int], wanted: Sequence[int], room: Room) -> Program | None:
    """The program whose variables count reels of one kind cut in one way; None where there are too many ways."""
    kinds = list(dict.fromkeys(room))
    ways: list[tuple[int, tuple[int, ...]]] = []
    for kind, (whole, _) in enumerate(kinds):
        for way in _ways(lengths, wanted, whole):
            if len(ways) == MOST_PATTERNS:
                return None
            ways.append((kind, way))
    if not ways:
        return None
    unit, m, n = _unit(lengths, room), len(lengths), len(ways)
    made = np.array([way for _, way in ways], float).T
    of_kind = np.zeros((len(kinds), n))
    of_kind[[kind for kind, _ in ways], np.arange(n)] = 1.0
    there = np.array([list(room).count(kind) for kind in kinds], float)
    matrix = sparse.csr_array(np.block([[made, np.eye(m)], [of_kind, np.zeros((len(kinds), m))]]))
    rests = [(kinds[kind][0] - total(lengths, way), kinds[kind][1]) for kind, way in ways]
    scrap = np.array([rest if rest < useful else 0 for rest, useful in rests], float)
    nothing = np.zeros(m)
    goals = (
        np.concatenate([np.zeros(n), np.array(lengths) / unit]),
        np.concatenate([scrap / unit, nothing]),
        np.concatenate([np.ones(n), nothing]),
    )
    low = np.concatenate([np.array(wanted, float), np.zeros(len(kinds))])
    high = np.concatenate([np.array(wanted, float), there])
    upper = np.concatenate([there[[kind for kind, _ in ways]], np.array(wanted, float)])

    def read(x: np.ndarray) -> Counts:
        free = {kind: [k for k, one in enumerate(room) if one == kinds[kind]] for kind in range(len(kinds))}
        counts: list[tuple[int, ...]] = [(0,) * m for _ in room]
        for (kind, way), number in zip(ways, np.rint(x[:n]).astype(int).tolist(), strict=True):
            for _ in range(number):
                counts[free[kind].pop(0)] = way
        return tuple(counts)

    return Program(matrix, low, high, upper, np.ones(n + m), goals, unit, read)


def _ways(lengths: Sequence[int], wanted: Sequence[int], rest: int) -> Iterator[tuple[int, ...]]:
    """Every way to cut something from so many millimetres: the most of the longest first."""

    def further(i: int, rest: int) -> Iterator[tuple[int, ...]]:
        if i == len(lengths):
            yield ()
            return
        for number in range(min(wanted[i], rest // lengths[i]), -1, -1):
            for more in further(i + 1, rest - number * lengths[i]):
                yield (number, *more)

    return (way for way in further(0, rest) if any(way))


def _reel_by_reel(lengths: Sequence[int], wanted: Sequence[int], room: Room) -> Program:
    """The program in which each reel counts its own pieces.

    Its variables: pieces of each length on each reel; of each reel whether it is cut, whether its rest is kept, its scrap; and
    the pieces of each length that are missing.
    """
    unit, m, reels = _unit(lengths, room), len(lengths), len(room)
    mm = np.array(lengths, float) / unit
    whole, useful = (np.array(column, float) / unit for column in zip(*room, strict=True))
    each, one = sparse.eye_array(reels), np.ones((1, reels))
    used = sparse.kron(each, mm[None, :])
    nothing = sparse.csr_array((reels, m))
    full, keep = sparse.diags_array(whole), sparse.diags_array(useful)
    no = sparse.csr_array((reels, reels))
    alike = np.array([a == b for a, b in itertools.pairwise(room)] + [False])
    follow = sparse.diags_array(alike.astype(float)) @ (sparse.eye_array(reels, k=1) - each)
    matrix = sparse.block_array(
        [
            [sparse.kron(one, sparse.eye_array(m)), None, None, None, sparse.eye_array(m)],
            [used, -full, no, no, nothing],  # no more than there is, and nothing from one that is not cut
            [used, no, keep, no, nothing],  # kept only where the rest is useful
            [-used, full, -full, -each, nothing],  # else scrap
            [sparse.csr_array((reels, reels * m)), follow, no, no, nothing],  # of reels alike the first ones
        ],
        format="csr",
    )
    zero, infinite = np.zeros(reels), np.full(reels, np.inf)
    low = np.concatenate([np.array(wanted, float), *[-infinite] * 4])
    high = np.concatenate([np.array(wanted, float), zero, whole, zero, zero])
    most = np.minimum(np.array(wanted)[None, :], whole[:, None] // mm[None, :]).ravel()
    upper = np.concatenate([most, np.ones(2 * reels), whole, np.array(wanted, float)])
    kinds = np.concatenate([np.ones(reels * m + 2 * reels), zero, np.ones(m)])
    start, size = reels * m, reels * m + 3 * reels + m
    goals = tuple(np.zeros(size) for _ in range(3))
    goals[0][start + 3 * reels :] = mm
    goals[1][start + 2 * reels : start + 3 * reels] = 1.0
    goals[2][start : start + reels] = 1.0

    def read(x: np.ndarray) -> Counts:
        return tuple(map(tuple, np.rint(x[:start]).astype(int).reshape(reels, m).tolist()))

    return Program(matrix, low, high, upper, kinds, (goals[0], goals[1], goals[2]), unit, read)
