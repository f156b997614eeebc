"""The kinds of use there are, and how a use of one is made."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from ohmsworth.consequence.rule import Curve, Kind, Rule
from ohmsworth.consequence.use import Setting, Use, accepted
from ohmsworth.consequence.uses.balanced_line import BALANCED_LINE
from ohmsworth.consequence.uses.digital_audio import DIGITAL_AUDIO
from ohmsworth.consequence.uses.headphone import HEADPHONE
from ohmsworth.consequence.uses.instrument import INSTRUMENT
from ohmsworth.consequence.uses.lighting import LIGHTING_CONTROL
from ohmsworth.consequence.uses.loudspeaker import LOUDSPEAKER
from ohmsworth.consequence.uses.low_voltage_feed import LOW_VOLTAGE_FEED
from ohmsworth.consequence.uses.mains_feed import MAINS_FEED
from ohmsworth.consequence.uses.measured_lead import MEASURED_LEAD
from ohmsworth.consequence.uses.microphone_line import DYNAMIC_MICROPHONE, PHANTOM_MICROPHONE
from ohmsworth.consequence.uses.unbalanced_line import UNBALANCED_LINE
from ohmsworth.consequence.uses.video import VIDEO
from ohmsworth.errors import UnknownName
from ohmsworth.materials import CONSTRUCTIONS, Construction, construction
from ohmsworth.readings.lead import MeasuredLead

_KINDS = {
    kind.kind: kind
    for kind in (
        DYNAMIC_MICROPHONE,
        PHANTOM_MICROPHONE,
        BALANCED_LINE,
        UNBALANCED_LINE,
        INSTRUMENT,
        HEADPHONE,
        LOUDSPEAKER,
        LOW_VOLTAGE_FEED,
        MAINS_FEED,
        MEASURED_LEAD,
        VIDEO,
        DIGITAL_AUDIO,
        LIGHTING_CONTROL,
    )
}
#: Names of the kinds of use.
USE_KINDS: tuple[str, ...] = tuple(_KINDS)
#: A cable by name, for the kinds that have one.
CABLE = Setting(
    "cable",
    "cable",
    "text",
    "",
    "a cable of the library or of cables.toml, by name; values given beside it count before its own",
    "practice",
)
#: Circuits whose solution is kept: every kind, and what somebody tries out.
KEPT_CIRCUITS = 64
_NOTHING: Mapping[str, float | str] = MappingProxyType({})


def kind_of(name: str) -> Kind:
    """Look up a kind of use.

    Raises
    ------
    UnknownName
        When it is not in USE_KINDS.
    """
    try:
        return _KINDS[name]
    except KeyError:
        raise UnknownName("use", name, USE_KINDS) from None


def rules_of(use: Use) -> tuple[Rule, ...]:
    """The effects of `use`, in the order in which people ask.

    To make them its circuit is solved, so those of the last few dozen circuits are kept.
    """
    return _rules(use.kind, use.name, tuple(use.settings.items()), use.lead)


@lru_cache(maxsize=KEPT_CIRCUITS)
def _rules(
    kind: str, name: str, settings: tuple[tuple[str, float | str], ...], lead: MeasuredLead | None
) -> tuple[Rule, ...]:
    return kind_of(kind).rules(Use(kind, name, dict(settings), lead))


def curves_of(use: Use) -> tuple[Curve, ...]:
    """What `use` does over frequency; kept as its rules are, so that a curve is solved once."""
    return _curves(use.kind, use.name, tuple(use.settings.items()), use.lead)


@lru_cache(maxsize=KEPT_CIRCUITS)
def _curves(
    kind: str, name: str, settings: tuple[tuple[str, float | str], ...], lead: MeasuredLead | None
) -> tuple[Curve, ...]:
    return kind_of(kind).curves(Use(kind, name, dict(settings), lead))


def settings_of(kind: str) -> tuple[Setting, ...]:
    """The settings of `kind`, with defaults, words and sources."""
    found = kind_of(kind)
    return (CABLE, *found.settings) if found.cable else found.settings


def make_use(
    kind: str,
    name: str = "",
    values: Mapping[str, float | str] = _NOTHING,
    cables: tuple[Construction, ...] = (),
    lead: MeasuredLead | None = None,
) -> Use:
    """Make a use of `kind`: its defaults, the values of a cable by name in their place, and `values` in the place of both.

    Parameters
    ----------
    kind
        One of USE_KINDS.
    name
        What the shop calls it; the kind when empty.
    values
        Settings by key, SI.
    cables
        The shop's own, in which `cable` is looked up before the library.
    lead
        What an analyser measured, for the kind that takes it.

    Raises
    ------
    UnknownName
        For a kind, a key or a cable that does not exist.
    ArgumentFault
        For a value that is not accepted, or that does not go with the others.
    """
    found, settings = kind_of(kind), settings_of(kind)
    keys = tuple(setting.key for setting in settings)
    for key in values:
        if key not in keys:
            raise UnknownName(f"setting of {kind}", key, keys)
    given = {**_of_cable(found, values, cables), **values}
    complete = {s.key: accepted(s, given.get(s.key, s.default)) for s in settings}
    use = Use(kind, name or kind, complete, lead)
    found.check(use)
    return use


def _of_cable(
    kind: Kind, values: Mapping[str, float | str], cables: tuple[Construction, ...]
) -> dict[str, float | str]:
    """What the cable that `values` name brings along, as far as `kind` asks for it."""
    name = values.get(CABLE.key, "")
    if not name or not isinstance(name, str):
        return {}
    library = tuple(each for each in (*cables, *CONSTRUCTIONS) if each.family == kind.cable)
    cable = construction(name, library)
    keys = {setting.key for setting in kind.settings}
    return {key: value for key, value in cable.values.items() if key in keys}
