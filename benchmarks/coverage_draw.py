"""Studies of one cell: the layout once, then random effects for each study."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from coverage_cells import READING, Cell

from ohmsworth.inference.design import Design, build_design
from ohmsworth.readings import Labels

Row = dict[str, str]


@dataclass(frozen=True)
class Effect:
    """A random effect: which group each observation belongs to, and each group's standard deviation."""

    group: np.ndarray
    deviation: np.ndarray


@dataclass(frozen=True)
class Layout:
    """The design of a cell, without observations, and the effects that make them."""

    design: Design
    effects: tuple[Effect, ...]

    def study(self, rng: np.random.Generator) -> Design:
        """One study; ln R has the same true mean under every condition."""
        y = sum(
            ((e.deviation * rng.standard_normal(len(e.deviation)))[e.group] for e in self.effects),
            np.zeros(len(self.design.y)),
        )
        return replace(self.design, y=y)


def layout(cell: Cell) -> Layout:
    """Draw what is missing, and number the groups."""
    rng = np.random.default_rng(cell.seed)
    rows = _pairs(cell, rng) if cell.kind == "crossed" else _specimens(cell, rng)
    columns = {name: [row[name] for row in rows] for name in rows[0]}
    labels = {name: Labels.of(column) for name, column in columns.items()}
    design = build_design(np.arange(len(rows), dtype=float), **labels)
    last = np.array([row["condition"] == str(len(cell.units) - 1) for row in rows])
    factor = np.where(last, cell.wider, 1.0)
    names = {
        ("specimen",): (cell.unit if cell.kind != "crossed" else cell.response, factor),
        ("specimen", "condition"): (cell.response if cell.kind == "paired" else 0.0, factor),
        ("plug",): (cell.unit, factor),
        ("socket",): (cell.socket, np.ones(len(rows))),
        ("specimen", "condition", "mating"): (cell.mating, factor),
    }
    effects = [_effect(columns, key, v, f) for key, (v, f) in names.items() if set(key) <= set(columns)]
    effects.append(Effect(np.arange(len(rows)), np.full(len(rows), READING)))
    return Layout(design, tuple(effects))


def _effect(
    columns: dict[str, list[str]], key: tuple[str, ...], variance: float, factor: np.ndarray
) -> Effect:
    names = ["/".join(parts) for parts in zip(*(columns[k] for k in key), strict=True)]
    _, first, group = np.unique(names, return_index=True, return_inverse=True)
    return Effect(group, READING * np.sqrt(variance) * factor[first])


def _count(most: int, gaps: bool, rng: np.random.Generator) -> int:
    return int(rng.integers(1, most + 1)) if gaps else most


def _specimens(cell: Cell, rng: np.random.Generator) -> list[Row]:
    rows = []
    for c, units in enumerate(cell.units):
        for s in range(units):
            if cell.lost and s == 0 and c == len(cell.units) - 1:
                continue
            name = str(s) if cell.kind == "paired" else f"{c}.{s}"
            for m in range(_count(cell.matings, cell.gaps, rng)):
                for _ in range(_count(cell.readings, cell.gaps, rng)):
                    rows.append({"specimen": name, "condition": str(c), "mating": str(m)})
    return rows


def _pairs(cell: Cell, rng: np.random.Generator) -> list[Row]:
    """Plugs on sockets; with gaps a fifth of the pairs is missing, none of it from a plug's first two sockets."""
    rows = []
    for c, plugs in enumerate(cell.units):
        for p, s in product(range(plugs), range(cell.sockets)):
            if cell.gaps and s > 1 and rng.random() < 0.2:
                continue
            row = {"specimen": f"{c}.{p}/{s}", "condition": str(c), "plug": f"{c}.{p}", "socket": str(s)}
            rows += [row] * _count(cell.readings, cell.gaps, rng)
    return rows
