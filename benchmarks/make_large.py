"""A large invented study, written by a seeded generator, for the benchmarks."""

from __future__ import annotations

from pathlib import Path

import numpy as np


def write_large(folder: Path, specimens: int, matings: int, pairs: int, seed: int = 1) -> None:
    """Write a study of two conditions with `specimens` in all; each mating has `pairs` of + and − readings."""
    rng = np.random.default_rng(seed)
    lines = ["specimen,condition,mating,polarity,voltage [mV],current [mA]"]
    for s in range(specimens):
        condition = "new" if s < specimens // 2 else "tarnished"
        level = np.log(2.5e-3 if condition == "new" else 6e-3) + 0.15 * rng.standard_normal()
        for m in range(matings):
            resistance = np.exp(level + 0.1 * rng.standard_normal())
            emf = 2e-6 * rng.standard_normal()
            for _ in range(pairs):
                value = resistance * np.exp(0.01 * rng.standard_normal())
                for sign in (1, -1):
                    lines.append(
                        f"S{s},{condition},{m + 1},{'+' if sign > 0 else '-'},"
                        f"{1e3 * (sign * value * 0.1 + emf):.5f},{sign * 100.0:.2f}"
                    )
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
    (folder / "study.toml").write_text(
        'question = "Does tarnish matter?"\nreference = "new"\n[limit]\nresistance = "3 mΩ"\nsource = "datasheet"\n'
        '[bench.voltmeter]\npercent_of_reading = 0.05\ncounts = 5\nresolution = "0.1 µV"\n'
        '[bench.ammeter]\npercent_of_reading = 0.2\ncounts = 3\nresolution = "10 µA"\n'
        '[[use]]\nkind = "dynamic microphone"\n',
        "utf-8",
    )
