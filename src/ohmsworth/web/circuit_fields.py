"""The values of a circuit as fields of a form, in the groups in which people look for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.consequence import make_use, settings_of
from ohmsworth.consequence.kinds import CABLE, kind_of
from ohmsworth.consequence.use import Setting
from ohmsworth.errors import Fault, OhmsworthError
from ohmsworth.materials import CONSTRUCTIONS
from ohmsworth.report.use_settings import setting_value
from ohmsworth.report.words import capital
from ohmsworth.web.circuit_question import SLUGS, CircuitQuestion

_CABLE = (
    "cable", "length", "conductor", "core_core", "core_screen", "capacitance", "inductance", "screen_resistance",
    "screen_diameter", "loss_tangent",
)  # fmt: skip
_CONTACTS = ("contacts", "joints")
#: The groups of a circuit's values in order: the first is open, the others are opened when they are needed.
GROUPS = ("Cable", "Contacts", "Equipment", "From where it matters")


@dataclass(frozen=True, slots=True)
class SettingField:
    """One value to be filled in; `taken` is what is reckoned with while it is empty."""

    name: str
    ident: str
    words: str
    value: str
    taken: str
    choices: tuple[tuple[str, str], ...]
    fault: Fault | None


@dataclass(frozen=True, slots=True)
class SettingGroup:
    """Values that are looked for together; `opened` where something in it was filled in or is at fault."""

    title: str
    fields: tuple[SettingField, ...]
    opened: bool


@dataclass(frozen=True, slots=True)
class CircuitPart:
    """One circuit of the form."""

    slug: str
    title: str
    groups: tuple[SettingGroup, ...]
    changed: int


def circuit_part(question: CircuitQuestion, kind: str, faults: Mapping[str, Fault]) -> CircuitPart:
    """The fields of one circuit, filled in as they are in `question`."""
    typed = question.values_of(kind)
    taken = _taken(kind, typed)
    groups: dict[str, list[SettingField]] = {title: [] for title in GROUPS}
    for setting in settings_of(kind):
        name = f"{SLUGS[kind]}.{setting.key}"
        field = SettingField(
            name,
            name.replace(".", "-"),
            capital(setting.words),
            typed.get(setting.key, ""),
            setting_value(setting, taken.get(setting.key, setting.default)),
            _choices(setting, kind),
            faults.get(name),
        )
        groups[_group(setting.key)].append(field)
    return CircuitPart(
        SLUGS[kind],
        capital(kind),
        tuple(_grouped(title, tuple(fields)) for title, fields in groups.items() if fields),
        len(typed),
    )


def _grouped(title: str, fields: tuple[SettingField, ...]) -> SettingGroup:
    return SettingGroup(title, fields, any(field.value or field.fault for field in fields))


def _taken(kind: str, typed: Mapping[str, str]) -> Mapping[str, float | str]:
    """The values of the circuit where nothing is filled in: those of the cable that is chosen come before the defaults."""
    try:
        return make_use(kind, values={CABLE.key: typed[CABLE.key]} if CABLE.key in typed else {}).settings
    except OhmsworthError:  # the fault stands beside the field
        return {}


def _choices(setting: Setting, kind: str) -> tuple[tuple[str, str], ...]:
    """What can be chosen, with its words; none where a value is to be typed."""
    if setting.key == CABLE.key:
        return tuple((each.name, each.name) for each in CONSTRUCTIONS if each.family == kind_of(kind).cable)
    return tuple((choice, choice) for choice in setting.choices)


def _group(key: str) -> str:
    if key.startswith("limit_"):
        return GROUPS[3]
    if key.startswith(_CONTACTS):
        return GROUPS[1]
    return GROUPS[0] if key in _CABLE else GROUPS[2]
