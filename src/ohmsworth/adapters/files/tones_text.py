"""A filled-in form to a tones.toml, back, and changed in the file without touching the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from typing import Any

from ohmsworth.adapters.files.record_marks import parsed
from ohmsworth.adapters.files.toml_keys import put
from ohmsworth.errors import Fault
from ohmsworth.units import tidy
from ohmsworth.work.tone_form import ToneForm

#: Where each field stands.
PLACES: dict[str, tuple[str, ...]] = {
    "contact": ("contact",),
    "current": ("current",),
    "uncertainty": ("uncertainty",),
    "turned": ("turned",),
    "lowest": ("tones", "lowest"),
    "highest": ("tones", "highest"),
    "number": ("tones", "number"),
    "way": ("tones", "way"),
    "time": ("tones", "time"),
    "rate": ("tones", "rate"),
    "level_check": ("tones", "level_check"),
    "output_full_scale": ("output", "full_scale"),
    "output_channels": ("output", "channels"),
    "noise": ("inputs", "noise"),
    "crosstalk": ("inputs", "crosstalk"),
    "input_full_scale": ("inputs", "full_scale"),
    "distortion": ("inputs", "distortion"),
    "series": ("circuit", "series"),
    "bridge": ("circuit", "bridge"),
    "shunt": ("circuit", "shunt", "resistance"),
    "tolerance": ("circuit", "shunt", "tolerance"),
    "shunt_inductance": ("circuit", "shunt", "inductance"),
    "shunt_inductance_tolerance": ("circuit", "shunt", "inductance_tolerance"),
    "load": ("load", "resistance"),
    "load_tolerance": ("load", "tolerance"),
}
#: The key that a value stands under instead where it is meant in another way.
_INSTEAD = {"current": ("current_rms",), "noise": ("inputs", "noise_density")}
_RMS, _DENSITY = "rms", ("/√Hz", "/rtHz")
_WAY = "together"
_WHOLE = ("number", "output_channels")
_EMPTY = ToneForm(**{one.name: "" for one in fields(ToneForm) if one.name != "turned"})  # type: ignore[arg-type]


def tones_text(form: ToneForm, before: str = "") -> str:
    """The text of tones.toml for `form`, with what is filled in alone.

    Parameters
    ----------
    form
        As filled in.
    before
        The text that is changed: what the form does not show stays as it is there, remarks too.
    """
    import tomlkit

    document = tomlkit.parse(before if parsed(before) is not None else "")
    old = tone_form(tomlkit.dumps(document)) if document else _EMPTY
    for name in PLACES:
        value = getattr(form, name)
        if value != getattr(old, name):
            _write(document, name, tidy(value) if isinstance(value, str) else value)
    return tomlkit.dumps(document)


def tone_form(text: str) -> ToneForm:
    """What `text` says of the fields of the form; blank where it says nothing, or cannot be read."""
    table = parsed(text) or {}
    said: dict[str, Any] = {}
    for name, place in PLACES.items():
        value, instead = _at(table, place), _at(table, _INSTEAD.get(name, ()))
        said[name] = _typed(value)
        if value is None and isinstance(instead, str | int | float):
            said[name] = f"{_typed(instead)} {_RMS}" if name == "current" else _typed(instead)
    said["turned"] = _at(table, PLACES["turned"]) is True
    form = ToneForm(**said)
    return form if form.way else replace(form, way=_WAY)


def tone_field(fault: Fault) -> str | None:
    """The field of the form that a fault of tones.toml is about, the first one of a table that is missing; None for others."""
    where, _, key = fault.where.partition(", key ")
    table = where.partition("[")[2].rstrip("]")
    place = (*(table.split(".") if table else ()), key.strip("'"))
    at = (name for name, one in PLACES.items() if place in (one[: len(place)], _INSTEAD.get(name)))
    return next(at, None)


def _at(table: Mapping[str, Any], place: tuple[str, ...]) -> Any:
    found: Any = table if place else None
    for key in place:
        found = found.get(key) if isinstance(found, Mapping) else None
    return found


def _typed(value: Any) -> str:
    return value if isinstance(value, str) else "" if value is None else str(value)


def _write(document: Any, name: str, value: str | bool) -> None:
    """Put one value in its place, or take it out where it is blank."""
    places = (PLACES[name], *([_INSTEAD[name]] if name in _INSTEAD else []))
    place = places[0]
    if name == "current" and isinstance(value, str) and value.endswith(_RMS):
        place, value = places[1], value.removesuffix(_RMS).rstrip()
    elif name == "noise" and isinstance(value, str) and value.endswith(_DENSITY):
        place = places[1]
    for other in places:
        if other != place or not value:
            _remove(document, other)
    if value:
        put(_inside(document, place[:-1]), place[-1], _as_toml(name, value))


def _as_toml(name: str, value: str | bool) -> str | bool | int:
    if name in _WHOLE and isinstance(value, str) and value.isascii() and value.isdigit() and len(value) < 10:
        return int(value)
    return value


def _inside(document: Any, tables: tuple[str, ...]) -> Any:
    """The table of that name, made where there is none."""
    import tomlkit

    table = document
    for key in tables:
        if not isinstance(table.get(key), Mapping):
            table[key] = tomlkit.table()
        table = table[key]
    return table


def _remove(document: Any, place: tuple[str, ...]) -> None:
    """Take a key out, and the tables that are then empty."""
    table = _at(document, place[:-1]) if place[:-1] else document
    if isinstance(table, Mapping) and place[-1] in table:
        table.pop(place[-1])  # type: ignore[attr-defined]
        if place[:-1] and not table:
            _remove(document, place[:-1])
