"""Random studies that look like studies: designs, meters, uses and sizes that somebody could write down."""

from __future__ import annotations

import random
from dataclasses import dataclass

from hypothesis import strategies as st

CONDITIONS = ("new", "old", "cleaned", "salt mist")
POLARITIES = ("+", "+-", "-+", "+-+", "++--", "0+-", "+0", "0+", "", "+ -")
USES = (
    'kind = "dynamic microphone"',
    'kind = "phantom microphone"',
    'kind = "balanced line"',
    'kind = "balanced line"\nname = "far"\nlength = "10 km"\nconductor = "40 AWG"',
    'kind = "dynamic microphone"\ncontacts_near = 100\nlength = "0 m"',
)
METERS = (
    "",
    'percent_of_reading = 0.5\ncounts = 3\nresolution = "1 µ{}"',
    "percent_of_reading = 100",
    'standard_uncertainty = "1 n{}"',
    'accuracy = "0,5 % + 3 counts"\nresolution = "1 {}"',
)


@dataclass(frozen=True)
class Plan:
    """What is drawn; the readings follow from it."""

    conditions: int
    specimens: int
    paired: bool
    matings: int
    contacts: int
    polarity: str
    ohmmeter: bool
    parts: int
    level: float
    scatter: float
    effect: float
    lost: float
    timed: bool
    current: float
    seed: int


def plans() -> st.SearchStrategy[Plan]:
    """Plans of up to a hundred and some readings."""
    return st.builds(
        Plan,
        conditions=st.integers(1, 4),
        specimens=st.integers(1, 5),
        paired=st.booleans(),
        matings=st.integers(0, 3),
        contacts=st.integers(0, 2),
        polarity=st.sampled_from(POLARITIES),
        ohmmeter=st.booleans(),
        parts=st.integers(0, 2),
        level=st.sampled_from((1e-3, 1e-9, 1e-6, 1.0, 1e6, 1e9)),
        scatter=st.sampled_from((0.0, 1e-9, 1e-3, 0.1, 2.0, 10.0)),
        effect=st.sampled_from((1.0, 1.5, 100.0, 1e-6)),
        lost=st.sampled_from((0.0, 0.0, 0.3, 0.8)),
        timed=st.booleans(),
        current=st.sampled_from((0.1, 1e-3, 10.0, 1e-9)),
        seed=st.integers(0, 10_000),
    )


def readings(plan: Plan) -> str:
    """readings.csv of a plan."""
    chance = random.Random(plan.seed)
    heading = ["specimen", "condition", "operator"]
    heading += ["mating"] * (plan.matings > 0) + ["contact"] * (plan.contacts > 0)
    heading += ["plug", "socket"][: plan.parts] + ["polarity"] * bool(plan.polarity) + ["time"] * plan.timed
    heading += ["resistance [mΩ]"] if plan.ohmmeter else ["voltage [V]", "current [A]"]
    rows = [row for row in _rows(plan, chance) if chance.random() >= plan.lost]
    return "\n".join([",".join(heading), *(",".join(row) for row in rows)]) + "\n"


def _rows(plan: Plan, chance: random.Random) -> list[list[str]]:
    rows = []
    for c in range(plan.conditions):
        for s in range(plan.specimens):
            name = f"S{s}" if plan.paired else f"S{c}.{s}"
            own = chance.gauss(0, plan.scatter)
            for m in range(max(plan.matings, 1)):
                for k in range(max(plan.contacts, 1)):
                    value = plan.level * plan.effect**c * 10 ** (own + chance.gauss(0, plan.scatter / 2))
                    labels = [name, CONDITIONS[c], f"row {len(rows)}"]
                    labels += [str(m)] * (plan.matings > 0) + [str(k)] * (plan.contacts > 0)
                    labels += [f"P{s}", f"K{(s + m) % 3}"][: plan.parts]
                    rows += _mating(plan, chance, labels, value, len(rows))
    return rows


def _mating(
    plan: Plan, chance: random.Random, labels: list[str], value: float, before: int
) -> list[list[str]]:
    rows = []
    signs = plan.polarity.replace("0", "") if plan.ohmmeter else plan.polarity
    for i, sign in enumerate(signs or "+"):
        ohm = value * (1 + chance.gauss(0, min(plan.scatter, 0.01)))
        ampere = plan.current * {"+": 1, "-": -1}.get(sign, 0)
        if sign == " ":
            ampere = plan.current
        volt = ohm * ampere + (1e-7 if plan.scatter else 0.0)
        row = [*labels, *([sign] if plan.polarity else [])]
        row += [f"{(before + i) // 60 % 24}:{(before + i) % 60:02d}"] if plan.timed else []
        rows.append(row + ([f"{1e3 * ohm:.6g}"] if plan.ohmmeter else [f"{volt:.6g}", f"{ampere:.6g}"]))
    return rows


@st.composite
def studies(draw: st.DrawFn) -> str:
    """study.toml, for any of the plans."""
    reference = draw(st.sampled_from(('"new"', '"new"', '"new"', '"old"', '["new", "0"]')))
    lines = ['question = "What is it worth?"', f"reference = {reference}"]
    lines += ['factors = ["condition", "contact"]'] if reference.startswith("[") else []
    lines += ['scatter_by = ["operator"]'] if draw(st.integers(0, 5)) == 0 else []
    lines += ['compare = "all pairs"'] if draw(st.integers(0, 3)) == 0 else []
    lines.append(f'scale = "{draw(st.sampled_from(("log", "linear")))}"')
    lines.append(f'scatter = "{draw(st.sampled_from(("auto", "equal", "by condition")))}"')
    lines.append(f"coverage = {draw(st.sampled_from((0.95, 0.6, 0.9999)))}")
    for key, values in (
        ("margin", ("1 mΩ", "1 nΩ", "1e9 Ω")),
        ("plating", ("gold", "tin")),
        ("temperature", ("-40 °C", "85 °C")),
    ):
        value = draw(st.sampled_from((None, *values)))
        lines += [f'{key} = "{value}"'] if value else []
    limit = draw(st.sampled_from((None, "3 mΩ", "1 nΩ", "1e9 Ω")))
    lines += ["[limit]", f'resistance = "{limit}"'] if limit else []
    for name, unit in (("voltmeter", "V"), ("ammeter", "A"), ("ohmmeter", "Ω")):
        meter = draw(st.sampled_from(METERS))
        lines += [f"[bench.{name}]", meter.format(unit)] if meter else []
    for use in draw(st.lists(st.sampled_from(USES), max_size=2)):
        lines += ["[[use]]", use]
    return "\n".join(lines) + "\n"
