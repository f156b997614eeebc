"""The table ``[plan]`` of study.toml."""

from __future__ import annotations

from typing import cast

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.check_toml import TABLE as CHECK_STANDARD
from ohmsworth.adapters.files.labels import LONGEST_NAME
from ohmsworth.errors import shorten
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.plan_request import (
    ASSIGNMENTS,
    DEFAULT_CHANCE,
    DEFAULT_MINUTES,
    MOST_SPECIMENS,
    SEPARATE,
    Assignment,
    PlanGoal,
    PlanRequest,
)

GOALS = ("detect", "equivalence", "limit")
#: A relative standard deviation beyond this is a slip of the percent sign.
_WIDEST = 3.0
_RESISTANCE = (1e-9, 1e9)


def read_plan(asked: Asked) -> PlanRequest | None:
    """Read the table; None without one, or without a goal."""
    table = asked.inside("plan")
    if table is None:
        return None
    goal = table.choice("goal", GOALS, "")
    if "goal" not in table.table:
        table.fault("goal", "no such key", " or ".join(f'"{one}"' for one in GOALS), 'Add goal = "..."')
    effect, effect_resistance = _effect(table, goal)
    scatter = {
        key: table.quantity(key, "ratio", 0.0, _WIDEST, positive=False)
        for key in ("specimen", "response", "mating", "reading")
    }
    minutes = [
        table.number(f"minutes_per_{key}", 0, 10_000, default)
        for key, default in zip(("specimen", "mating", "reading"), DEFAULT_MINUTES, strict=True)
    ]
    request = PlanRequest(
        goal=cast(PlanGoal, goal),
        effect=effect,
        effect_resistance=effect_resistance,
        expected=table.quantity("expected", "resistance", *_RESISTANCE),
        assignment=cast(Assignment, table.choice("assignment", ASSIGNMENTS, SEPARATE)),
        conditions=read_names(table, "conditions", "names of conditions"),
        chance=table.number("chance", 0.5, 0.999, DEFAULT_CHANCE, "Write 0.8 for four times in five."),
        content=table.number("content", 0.5, 0.9999, 0.95, "Write 0.95 for 95 %."),
        **scatter,
        minutes_per_specimen=minutes[0],
        minutes_per_mating=minutes[1],
        minutes_per_reading=minutes[2],
        most_specimens=table.whole("most_specimens", 2, MOST_SPECIMENS) or MOST_SPECIMENS,
        days=table.whole("days", 1, 100) or 1,
        operators=read_names(table, "operators", "names of those who take the readings"),
    )
    table.allow(CHECK_STANDARD)  # read with the table of its own
    table.done()
    return request if goal else None


def _effect(table: Asked, goal: str) -> tuple[float | None, float | None]:
    """The planned difference: a fraction, or ohm."""
    value = table.table.get("effect")
    if goal == "limit" and value is not None:
        mend = "Remove it; what is expected of the lot stands in 'expected'."
        table.fault("effect", "an effect where a lot is to be shown within a limit", "no such key", mend)
    if isinstance(value, str) and "%" in value:
        return table.quantity("effect", "ratio", -0.99, 1000.0, positive=False), None
    if isinstance(value, str) and not any(letter in value for letter in "ΩΩohm"):
        table.quantity("effect", "ratio")
        return None, None
    return None, table.quantity("effect", "resistance", -1e9, 1e9, positive=False)


def read_names(table: Asked, key: str, what: str) -> tuple[str, ...]:
    """A list of names, each once."""
    names = [clean_name(name) for name in table.items(key, str, what)]
    bad = [name for name in names if not name or len(name) > LONGEST_NAME or not name.isprintable()]
    if bad:
        table.fault(key, shorten(bad[0]) if bad[0] else "an empty text", what, "Write another name.")
    twice = [name for i, name in enumerate(names) if name.casefold() in {n.casefold() for n in names[:i]}]
    if twice:
        table.fault(key, f"{shorten(twice[0])} a second time", "each name once", "Remove one of the two.")
    return tuple(names)
