"""The table of study.toml that tells of the check standard, for the bench, the plan and the answer alike."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.labels import LONGEST_NAME
from ohmsworth.errors import shorten
from ohmsworth.readings.check import UNNAMED, CheckStandard
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.study import Study

TABLE = "check_standard"


def read_check_standard(asked: Asked, believed: tuple[float, float]) -> CheckStandard:
    """The table ``[check_standard]``, or what holds without it; resistances within `believed`.

    A study from before this table was shared names the check standard in ``[plan]``.
    """
    planned = _planned(asked)
    table = asked.inside(TABLE)
    if table is None:
        return CheckStandard(planned)
    own = _name(table, "name")
    if own and planned and own.casefold() != planned.casefold():
        mend = f"Remove the key from [plan]: the plan takes what [{TABLE}] names."
        _plan(asked).fault(TABLE, shorten(planned), f"{shorten(own)}, as in [{TABLE}]", mend)
    standard = CheckStandard(
        name=own or planned or UNNAMED,
        value=table.quantity("value", "resistance", *believed),
        standard_uncertainty=table.quantity("standard_uncertainty", "resistance", 1e-12, believed[1]),
        first=table.whole("first", 5, 10_000),
    )
    if ("value" in table.table) != ("standard_uncertainty" in table.table):
        mend = "State both as the calibration does, the uncertainty at k = 1, or neither."
        table.fault("value", "one of value and standard_uncertainty", "both, or neither", mend)
    table.done()
    return standard


def check_apart(asked: Asked, study: Study) -> None:
    """Note it where the check standard is a condition of the study as well."""
    name = study.check.name
    if name is not None and name.casefold() in {other.casefold() for other in study.named_conditions}:
        mend = "Give the check standard a name of its own."
        inside = asked.table.get(TABLE)
        place = Asked({}, f"{asked.where}, [{TABLE}]", asked.faults) if inside is not None else _plan(asked)
        key = "name" if inside is not None else TABLE
        place.fault(key, shorten(name), "a name that is no condition", mend)


def _plan(asked: Asked) -> Asked:
    table = asked.table.get("plan")
    return Asked(table if isinstance(table, dict) else {}, f"{asked.where}, [plan]", asked.faults)


def _planned(asked: Asked) -> str | None:
    return _name(_plan(asked), TABLE)


def _name(table: Asked, key: str) -> str | None:
    value = table.text(key)
    name = clean_name(value) if value else None
    if name and (len(name) > LONGEST_NAME or not name.isprintable()):
        table.fault(key, shorten(name), f"a name of at most {LONGEST_NAME} characters", "Write another name.")
        return None
    return name
