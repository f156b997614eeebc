"""Random small studies, unbalanced and with planted scatter, as plain columns."""

from __future__ import annotations

import numpy as np
from tests.properties.dense import Columns
from tests.tables import design_of

from ohmsworth.inference.design import Design

Array = np.ndarray


def nested_rows(rng: np.random.Generator, paired: bool) -> list[tuple[int, ...]]:
    """Condition, specimen, contact, mating, plug, socket of each reading; every count differs."""
    conditions, specimens = int(rng.integers(1, 4)), int(rng.integers(2, 5))
    contacts, matings, readings = rng.choice([(2, 3, 2), (1, 3, 2), (1, 1, 3), (1, 1, 1)])  # at most
    rows = []
    for condition in range(conditions):
        for i in range(specimens):
            if paired and condition > 0 and rng.random() < 0.15:
                continue  # not every specimen was seen under every condition
            specimen = i if paired else condition * specimens + i
            for contact in range(rng.integers(1, contacts + 1)):
                for mating in range(rng.integers(1, matings + 1)):
                    rows += [(condition, specimen, contact, mating, 0, 0)] * int(
                        rng.integers(1, readings + 1)
                    )
    return rows


def crossed_rows(rng: np.random.Generator) -> list[tuple[int, ...]]:
    conditions, parts = int(rng.integers(1, 3)), int(rng.integers(3, 6))
    rows = []
    for plug in range(parts):
        for socket in range(parts):
            if rng.random() < 0.2:
                continue  # not every pair was made
            for mating in range(rng.integers(1, 3)):
                row = (plug % conditions, 10 * plug + socket, 0, mating, plug, socket)
                rows += [row] * int(rng.integers(1, 3))
    return rows


def random_study(seed: int, kind: str) -> tuple[Columns, Array, Design]:
    """Columns, observations and the design found in them; `kind` is nested, paired or crossed."""
    rng = np.random.default_rng(seed)
    rows = crossed_rows(rng) if kind == "crossed" else nested_rows(rng, kind == "paired")
    table = np.array(rows)[rng.permutation(len(rows))]
    condition = np.unique(table[:, 0], return_inverse=True)[1]
    first = [int(np.flatnonzero(condition == c)[0]) for c in range(condition.max() + 1)]
    condition = np.argsort(np.argsort(first))[condition]  # numbered as they first appear
    names = ("plug", "socket") if kind == "crossed" else ("contact",)
    place = {"contact": 2, "mating": 3, "plug": 4, "socket": 5}
    levels = {name: table[:, place[name]] for name in (*names, "mating")}
    columns = Columns(condition, table[:, 1], **levels)
    y = condition + rng.normal(0, 0.3, len(table))
    for groups in ([1], [1, 0], [1, 0, 2], [1, 0, 2, 3], [4], [5]):
        number = np.unique(table[:, groups], axis=0, return_inverse=True)[1].ravel()
        y = y + rng.choice([0.1, 1.0]) * rng.normal(0, 1, number.max() + 1)[number]
    return columns, y, design_of(y, columns.specimen, columns.condition, **columns.levels())
