"""Which field of the form stands at which key of study.toml, and the other way round."""

from __future__ import annotations

import re

from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.errors import Fault
from ohmsworth.work.study_form import MeterForm, StudyForm

Path = tuple[str, ...]
METERS = ("voltmeter", "ammeter", "ohmmeter")
#: In the order in which they are written; fields of meters by the meter and the key.
PLACES: dict[str, Path] = {
    "question": ("question",),
    "reference": ("reference",),
    "scale": ("scale",),
    "margin": ("margin",),
    "plating": ("plating",),
    "limit": ("limit", "resistance"),
    "limit_source": ("limit", "source"),
    "open_circuit_voltage": ("bench", "open_circuit_voltage"),
    **{
        f"{meter}.{key}": ("bench", meter, key)
        for meter in METERS
        for key in ("accuracy", "resolution", "note")
    },
    "frequencies": ("frequencies", "at"),
    "check_name": ("check_standard", "name"),
    "check_value": ("check_standard", "value"),
    "check_uncertainty": ("check_standard", "standard_uncertainty"),
    "conditions": ("sheet", "conditions"),
    "assignment": ("sheet", "assignment"),
    "specimens": ("sheet", "specimens"),
    "matings": ("sheet", "matings"),
    "reversal": ("sheet", "reversal"),
    "seed": ("sheet", "seed"),
}
#: Fields that hold several texts.
LISTS = ("conditions", "frequencies")
#: Keys that say in another way what a field says.
_ALSO: dict[Path, str] = {
    **{("bench", m, key): f"{m}.accuracy" for m in METERS for key in ("percent_of_reading", "counts")},
    **{("bench", m, "standard_uncertainty"): f"{m}.accuracy" for m in METERS},
    ("plan", "conditions"): "conditions",
    ("plan", "assignment"): "assignment",
    ("plan", "check_standard"): "check_name",
}
_FIELDS = {path: name for name, path in PLACES.items()} | _ALSO
_WHERE = re.compile(
    r"study\.toml(?:, \[+(?P<table>[a-z_.]+)\]+(?: number (?P<number>[0-9]+))?)?, key ['\"](?P<key>.*)['\"]"
)
_WHOLE = re.compile(r"[+-]?[0-9]{1,15}")
_PLAIN = re.compile(r"[+-]?[0-9]{1,15}\.[0-9]{1,15}")

Value = str | bool | tuple[str, ...]


def field_of(fault: Fault) -> str | None:
    """The field of the form that `fault` is about; None where it is about none.

    Examples
    --------
    >>> field_of(Fault("study.toml, [limit], key 'resistance'", "", "", ""))
    'limit'
    >>> field_of(Fault("study.toml, [[use]] number 2, key 'length'", "", "", ""))
    'uses.1.length'
    """
    match = _WHERE.fullmatch(fault.where)
    if match is None:
        return None
    if match["table"] == "use":
        return f"uses.{int(match['number'] or 1) - 1}.{match['key']}"
    table = tuple(match["table"].split(".")) if match["table"] else ()
    return _FIELDS.get((*table, match["key"]))


def told(form: StudyForm) -> dict[str, Value]:
    """What each field says, by its name; the circuits are not among them."""
    said: dict[str, Value] = {}
    for name in PLACES:
        meter, _, key = name.partition(".")
        value = getattr(form, meter)
        if isinstance(value, MeterForm):
            value = getattr(value, key)
        said[name] = _one_line(value) if isinstance(value, str) else value
    for name in LISTS:
        said[name] = tuple(text for one in getattr(form, name) if (text := _one_line(one)))
    return said


def as_toml(name: str, value: Value) -> object:
    """What stands in study.toml for what a field says."""
    if name in ("specimens", "matings", "seed") and isinstance(value, str) and _WHOLE.fullmatch(value):
        return int(value)
    return list(value) if isinstance(value, tuple) else value


def setting_as_toml(kind: str, key: str, text: str) -> object:
    """What stands in study.toml for a setting of a circuit: numbers without a unit stand without quotation marks."""
    dimensions = {s.key: s.dimension for s in settings_of(kind)} if kind in USE_KINDS else {}
    text = _one_line(text)
    if dimensions.get(key) == "number" and _WHOLE.fullmatch(text):
        return int(text)
    if dimensions.get(key) == "plain ratio" and _PLAIN.fullmatch(text):
        return float(text)
    return text


def is_said(name: str, value: Value) -> bool:
    """Whether a field says anything that is not taken for granted."""
    return value is False if name == "reversal" else bool(value)


def _one_line(text: str) -> str:
    return " ".join(text.split())
