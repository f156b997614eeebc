"""Studies of many kinds, small and seeded, as an owner would put them in a folder."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from ohmsworth.wiring import load_study
from ohmsworth.work.report_study import Told, report_study

Row = dict[str, object]

QUESTION = 'question = "Are these contacts good enough?"\n'
LIMIT = '[limit]\nresistance = "3 mΩ"\nsource = "the datasheet"\n'
METERS = (
    '[bench.voltmeter]\npercent_of_reading = 0.05\ncounts = 5\nresolution = "0.1 µV"\n'
    '[bench.ammeter]\npercent_of_reading = 0.2\ncounts = 3\nresolution = "10 µA"\n'
)
OHMMETER = '[bench.ohmmeter]\npercent_of_reading = 0.5\ncounts = 3\nresolution = "1 µΩ"\n'
USE = '[[use]]\nkind = "dynamic microphone"\nname = "vocal microphone"\nlength = "20 m"\n'
LINE = '[[use]]\nkind = "balanced line"\nname = "stage to console"\nlength = "60 m"\n'


def asking(reference: str = "", *keys: str) -> str:
    """The head of a study: its question, its reference and further top-level keys."""
    named = f"reference = '''{reference}'''\n" if reference else ""
    return QUESTION + named + "".join(f"{key}\n" for key in keys)


def contacts(
    conditions: dict[str, float],
    specimens: int = 4,
    matings: int = 2,
    pairs: int = 1,
    paired: bool = False,
    spread: tuple[float, float, float] = (0.06, 0.04, 0.003),
    seed: int = 1,
    emf: float = 0.0,
    current: float = 0.1,
) -> list[Row]:
    """Voltage and current of contacts of known median (ohm); `spread` is of specimen, mating and reading."""
    rng = np.random.default_rng(seed)
    own = spread[0] * rng.standard_normal(specimens)
    rows: list[Row] = []
    for condition, median in conditions.items():
        mine = own if paired else spread[0] * rng.standard_normal(specimens)
        for s in range(specimens):
            name = f"P{s + 1}" if paired else f"{condition} {s + 1}"
            for m in range(matings):
                level = mine[s] + spread[1] * rng.standard_normal()
                for i in range(2 * pairs):
                    sign = 1 if i % 2 == 0 else -1
                    ohm = median * np.exp(level + spread[2] * rng.standard_normal())
                    rows.append(
                        {
                            "specimen": name,
                            "condition": condition,
                            "mating": m + 1,
                            "polarity": "+" if sign > 0 else "-",
                            "voltage [mV]": f"{1e3 * (sign * ohm * current + emf):.5f}",
                            "current [mA]": f"{1e3 * sign * current:.3f}",
                        }
                    )
    return rows


def in_ohm(rows: Iterable[Row]) -> list[Row]:
    """The same with the resistance in one column, as an ohmmeter shows it."""
    found: list[Row] = []
    for row in rows:
        ohm = float(str(row["voltage [mV]"])) / float(str(row["current [mA]"]))
        kept = {k: v for k, v in row.items() if k in ("specimen", "condition", "mating")}
        found.append(kept | {"resistance [mΩ]": f"{1e3 * ohm:.5f}"})
    return found


def crossed(plugs: int = 3, sockets: int = 3, seed: int = 3) -> list[Row]:
    """Plugs and sockets, half of each worn, all paired with all."""
    rng = np.random.default_rng(seed)
    parts = {(k, i): 0.05 * rng.standard_normal() for k in "PS" for i in range(2 * max(plugs, sockets))}
    rows: list[Row] = []
    for p in range(2 * plugs):
        for s in range(2 * sockets):
            worn = p >= plugs
            for m in range(2):
                level = parts["P", p] + parts["S", s] + 0.03 * rng.standard_normal()
                rows.append(
                    {
                        "plug": f"P{p}",
                        "socket": f"S{s}",
                        "plug condition": "worn" if worn else "new",
                        "mating": m + 1,
                        "resistance [mΩ]": f"{2.4 * (1.5 if worn else 1) * np.exp(level):.4f}",
                    }
                )
    return rows


def write(folder: Path, study: str, rows: list[Row]) -> Path:
    """Write a study folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "study.toml").write_text(study, "utf-8")
    with (folder / "readings.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return folder


def told(study: str, rows: list[Row]) -> Told:
    """The answer to a study and its documents."""
    with TemporaryDirectory() as folder:
        return report_study(load_study(write(Path(folder), study, rows)))


def _near_zero() -> list[Row]:
    rng = np.random.default_rng(5)
    return [
        {"specimen": f"N{s}", "condition": c, "resistance [mΩ]": f"{m + 0.02 * rng.standard_normal():.4f}"}
        for c, m in (("new", 0.005), ("old", 0.03))
        for s in range(4)
        for _ in range(3)
    ]


def _flat(values: dict[str, list[str]], repeats: int) -> list[Row]:
    return [
        {"specimen": f"{c} {i}", "condition": c, "resistance [mΩ]": v}
        for c, listed in values.items()
        for i, v in enumerate(listed)
        for _ in range(repeats)
    ]


def _dropped(rows: list[Row], *keys: str) -> list[Row]:
    return [{k: v for k, v in row.items() if k not in keys} for row in rows]


STRANGE = {"<b>\"new\" & 'clean'</b>": 2.4e-3, "schön µ·Ω\\n 新": 2.6e-3}

#: Name -> the study and its readings.
KINDS: dict[str, Callable[[], tuple[str, list[Row]]]] = {
    "one condition": lambda: (
        asking() + LIMIT + METERS + USE,
        _dropped(contacts({"x": 2.4e-3}), "condition"),
    ),
    "two conditions": lambda: (
        asking("new") + LIMIT + METERS + USE,
        contacts({"new": 2.4e-3, "worn": 3.6e-3}),
    ),
    "three conditions": lambda: (
        asking("new", 'margin = "1 mΩ"') + LIMIT + METERS,
        contacts({"new": 2.4e-3, "worn": 3.2e-3, "dirty": 9e-3}),
    ),
    "five conditions": lambda: (
        asking("a") + LIMIT + METERS + USE + LINE,
        contacts({"a": 2e-3, "b": 2.5e-3, "c": 2.9e-3, "d": 3.3e-3, "e": 5e-3}, specimens=3),
    ),
    "paired": lambda: (
        asking("cleaned") + LIMIT + METERS + USE,
        contacts({"as found": 4e-3, "cleaned": 2.4e-3}, specimens=5, paired=True),
    ),
    "crossed": lambda: (asking("new plug", 'margin = "0.5 mΩ"') + OHMMETER, crossed()),
    "ohmmeter": lambda: (
        asking("new") + LIMIT + OHMMETER,
        in_ohm(contacts({"new": 2.4e-3, "worn": 3.0e-3})),
    ),
    "no limit, no uses, no bench": lambda: (asking("new"), contacts({"new": 2.4e-3, "worn": 3.0e-3})),
    "one condition, nothing else": lambda: (asking(), _dropped(contacts({"x": 2.4e-3}), "condition")),
    "linear": lambda: (
        asking("new", 'scale = "linear"', 'margin = "0.5 mΩ"') + LIMIT + METERS,
        contacts({"new": 2.4e-3, "worn": 3.0e-3}, specimens=3),
    ),
    "about zero": lambda: (asking("new", 'scale = "linear"', 'margin = "1 mΩ"') + USE, _near_zero()),
    "one specimen": lambda: (
        asking() + LIMIT + METERS,
        contacts({"new": 2.4e-3}, specimens=1, matings=4),
    ),
    "one reading": lambda: (
        asking() + LIMIT,
        [{"specimen": "N1", "resistance [mΩ]": "2.61"}],
    ),
    "one reading on a known bench": lambda: (
        asking() + LIMIT + METERS + USE,
        [{"specimen": "N1", "voltage [mV]": "0.261", "current [mA]": "100"}],
    ),
    "identical readings": lambda: (
        asking("new") + LIMIT + OHMMETER + USE,
        _flat({"new": ["2.61", "2.61", "2.61"], "worn": ["2.61", "2.61", "2.61"]}, 3),
    ),
    "identical in each condition": lambda: (
        asking("new", 'margin = "1 mΩ"') + LIMIT,
        _flat({"new": ["2.5", "2.5", "2.5"], "worn": ["4", "4", "4"]}, 2),
    ),
    "identical in each specimen": lambda: (
        asking("new", 'margin = "1 mΩ"') + LIMIT,
        _flat({"new": ["2.5", "2.6", "2.4"], "worn": ["4", "4.2", "4.1"]}, 2),
    ),
    "one polarity": lambda: (
        asking("new") + LIMIT + METERS + USE,
        [r for r in contacts({"new": 2.4e-3, "worn": 3.0e-3}) if r["polarity"] == "+"],
    ),
    "strange names": lambda: (
        asking(next(iter(STRANGE)), 'margin = "10 mΩ"') + LIMIT + METERS,
        contacts(STRANGE),
    ),
    "hundreds of specimens": lambda: (
        asking("new") + LIMIT + METERS + USE,
        contacts({"new": 2.5e-3, "worn": 3.1e-3}, specimens=150, matings=1),
    ),
    "uneven": lambda: (
        asking("new", 'margin = "0.2 mΩ"', "coverage = 0.9") + LIMIT + METERS,
        [r for i, r in enumerate(contacts({"new": 2.4e-3, "worn": 2.7e-3})) if i % 7 != 3],
    ),
}


@cache
def kind(name: str) -> Told:
    """The answer to one of KINDS, once a run."""
    return told(*KINDS[name]())
