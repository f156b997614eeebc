"""The cells of the study of coverage: designs and true scatter that span what a small bench does.

Corners by name, and a seeded Latin hypercube of the inside. A cell fixes who was measured how often (its own seed draws what
is missing) and the true variances, in units of the reading's; the studies of a cell differ in their random effects alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from zlib import crc32

import numpy as np
from scipy.stats import qmc

SEED = 2026
KINDS = ("separate", "paired", "crossed", "wider")
#: Standard deviation of ln R between readings of one mating.
READING = 0.03


@dataclass(frozen=True)
class Cell:
    """One design with its true scatter.

    Parameters
    ----------
    kind
        "separate": each condition has specimens of its own; "paired": all are read under every condition; "crossed": plugs
        belong to a condition and meet every socket; "wider": separate, the last condition scatters `wider` times more.
    units
        Specimens (crossed: plugs) in each condition.
    matings, readings
        Of each specimen or pair, and of each mating; the most there are where `gaps`.
    gaps
        Whether matings and readings are missing: each specimen has 1 to `matings`, each mating 1 to `readings`; crossed: a
        fifth of the pairs was not read.
    unit
        Variance of specimens (crossed: of plugs), in that of a reading.
    response
        Variance of the specimens' response to a condition (crossed: of the pair beyond its plug and socket).
    mating, socket
        Variances of matings and of sockets.
    sockets
        How many each plug meets; 0 unless crossed.
    wider
        Factor on the standard deviation of specimens and matings under the last condition.
    lost
        Whether the first specimen is missing under the last condition (paired).
    """

    kind: str
    units: tuple[int, ...]
    matings: int
    readings: int
    gaps: bool
    unit: float
    response: float = 0.0
    mating: float = 0.0
    socket: float = 0.0
    sockets: int = 0
    wider: float = 1.0
    lost: bool = False

    @property
    def design(self) -> str:
        """The design in words."""
        several = "mating" if self.kind != "crossed" else "reading"
        if self.kind == "paired":
            who = f"{self.units[0]} under {len(self.units)}" + (", one lost" if self.lost else "")
        elif self.kind == "crossed":
            who = f"{' + '.join(map(str, self.units))} plugs × {self.sockets} sockets"
        else:
            who = " + ".join(map(str, self.units))
        each = f"{self.matings} × {self.readings}" if several == "mating" else str(self.readings)
        return f"{who}, {each}{', gaps' if self.gaps else ''}"

    @property
    def truth(self) -> str:
        """The true variances in words."""
        if self.kind == "crossed":
            return f"{self.unit:.2g} : {self.socket:.2g} : {self.response:.2g} : 1"
        parts = [self.unit, self.mating, 1.0]
        if self.kind == "paired":
            parts.insert(1, self.response)
        wider = f", last {self.wider:g} times" if self.wider != 1 else ""
        return " : ".join(f"{p:.2g}" for p in parts) + wider

    @property
    def seed(self) -> tuple[int, int]:
        """Seed that depends on the cell alone, whatever others are run."""
        return SEED, crc32(repr(self).encode())


#: Specimen, mating variance in that of a reading: no specimen scatter with large and with small re-mating scatter, specimens
#: ten times both, ten times the reading and hardly the re-mating, as much as everything else.
_RATIOS = ((0.0, 25.0), (0.0, 0.1), (10.0, 1.0), (10.0, 100.0), (1.0, 1.0))
_SHAPES = ((1, 1, False), (5, 5, False), (5, 5, True))


def separate_corners() -> Iterator[Cell]:
    for units, (m, r, gaps) in product(((2, 2), (10, 10), (2, 10)), _SHAPES):
        ratios = _RATIOS[::2] if m == 1 else _RATIOS
        for unit, mating in ratios:
            yield Cell("separate", units, m, r, gaps, unit, mating=mating)


def paired_corners() -> Iterator[Cell]:
    for count, (m, r, gaps), response in product((2, 10), _SHAPES, (0.0, 10.0)):
        yield Cell("paired", (count, count), m, r, gaps, 10.0, response, 25.0 if response == 0 else 1.0)
    for count, response in product((3, 6), (0.0, 10.0)):
        yield Cell("paired", (count, count), 3, 2, False, 10.0, response, 1.0, lost=True)


def crossed_corners() -> Iterator[Cell]:
    for plugs, sockets, readings, unit in product((2, 5), (2, 10), (1, 3), (0.0, 10.0)):
        yield Cell("crossed", (plugs, plugs), 1, readings, False, unit, 1.0, 0.0, 10.0 - unit, sockets)


def wider_corners() -> Iterator[Cell]:
    for units in ((2, 2), (3, 3), (8, 2), (2, 8), (6, 6)):
        yield Cell("wider", units, 3, 2, False, 1.0, mating=1.0, wider=3.0)
    for units in ((3, 3), (6, 6), (3, 6)):
        yield Cell("wider", units, 5, 5, True, 1.0, mating=1.0, wider=3.0)


def _draws(count: int, columns: int) -> np.ndarray:
    return qmc.LatinHypercube(columns, seed=np.random.default_rng([SEED, columns, count])).random(count)


def _ratio(u: float) -> float:
    """Zero for a fifth of the draws, else 0.1 to 10, evenly by logarithm."""
    return 0.0 if u < 0.2 else float(round(10 ** (-1 + 2 * (u - 0.2) / 0.8), 2))


def _whole(u: float, low: int, high: int) -> int:
    return low + int(u * (high - low + 1))


def _nested(u: np.ndarray) -> tuple[float, float]:
    """Specimen and mating variance from draws of the ratios of specimens to readings and to matings."""
    unit, to_mating = _ratio(u[0]), _ratio(u[1])
    if unit == 0 or to_mating == 0:
        return 0.0, round(0.1 * 100 ** u[1], 2)
    return unit, round(unit / to_mating, 2)


def inside(kind: str, count: int) -> Iterator[Cell]:
    """`count` cells of one kind, spread over the inside."""
    for u in _draws(count, 10):
        conditions = 3 if u[0] < 0.3 else 2
        unit, mating = _nested(u[1:3])
        m, r, gaps = _whole(u[3], 1, 5), _whole(u[4], 1, 5), bool(u[5] < 0.6)
        if kind == "separate":
            units = tuple(_whole(v, 2, 10) for v in u[6 : 6 + conditions])
            yield Cell(kind, units, m, r, gaps, unit, mating=mating)
        elif kind == "paired":
            units = (_whole(u[6], 2, 10),) * conditions
            yield Cell(kind, units, m, r, gaps, 10.0 * u[8] + 0.1, unit, mating, lost=bool(u[7] < 0.15))
        else:
            units = tuple(_whole(v, 2, 5) for v in u[6 : 6 + conditions])
            socket, pair = _ratio(u[1]), _ratio(u[2]) / 5
            sockets = _whole(u[9], 2, 10)
            yield Cell(kind, units, 1, _whole(u[4], 1, 3), gaps, unit, pair, 0.0, socket, sockets)


def all_cells() -> list[Cell]:
    """Every cell, by kind; no two alike."""
    cells = [
        *separate_corners(), *inside("separate", 24),
        *paired_corners(), *inside("paired", 20),
        *crossed_corners(), *inside("crossed", 12),
        *wider_corners(),
    ]  # fmt: skip
    return list(dict.fromkeys(cells))
