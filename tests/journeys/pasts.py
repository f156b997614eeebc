"""Study folders of one kind of contact with planted scatter, as past studies and the present one."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np


@dataclass(frozen=True)
class Kind:
    """True standard deviations of ln R of a kind of contact."""

    specimen: float = 0.15
    mating: float = 0.05
    reading: float = 0.01


USUAL = Kind()


def write_kind(
    folder: Path,
    seed: int,
    specimens: int,
    kind: Kind = USUAL,
    conditions: tuple[str, ...] = ("dark", "cleaned"),
    more: str = "",
    matings: int = 3,
) -> Path:
    """Write a study of separate specimens; the true medians are 8 and 5 mΩ, and 5 mΩ of any further condition."""
    rng = np.random.default_rng(seed)
    rows = ["specimen,condition,mating,resistance [mΩ]"]
    for number, condition in enumerate(conditions):
        for specimen in range(specimens):
            level = np.log(8 if number == 0 else 5) + kind.specimen * rng.standard_normal()
            for mating in range(matings):
                middle = level + kind.mating * rng.standard_normal()
                for _ in range(2):
                    value = np.exp(middle + kind.reading * rng.standard_normal())
                    rows.append(f"{condition[0]}{number}{specimen},{condition},{mating},{value:.4f}")
    folder.mkdir(parents=True)
    question = 'question = "Does cleaning help?"\n'
    reference = f'reference = "{conditions[-1]}"\n' if len(conditions) > 1 else ""
    (folder / "study.toml").write_text(f"{question}{reference}{more}\n", "utf-8")
    (folder / "readings.csv").write_text("\n".join(rows) + "\n", "utf-8")
    return folder
