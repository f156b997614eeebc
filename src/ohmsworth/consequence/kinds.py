"""The kinds of use there are, and how a use of one is made."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ohmsworth.consequence.rule import Kind
from ohmsworth.consequence.use import Setting, Use, accepted
from ohmsworth.consequence.uses.balanced_line import BALANCED_LINE
from ohmsworth.consequence.uses.microphone_line import DYNAMIC_MICROPHONE, PHANTOM_MICROPHONE
from ohmsworth.errors import UnknownName

_KINDS = {kind.kind: kind for kind in (DYNAMIC_MICROPHONE, PHANTOM_MICROPHONE, BALANCED_LINE)}
#: Names of the kinds of use.
USE_KINDS: tuple[str, ...] = tuple(_KINDS)
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


def settings_of(kind: str) -> tuple[Setting, ...]:
    """The settings of `kind`, with defaults, words and sources."""
    return kind_of(kind).settings


def make_use(kind: str, name: str = "", values: Mapping[str, float | str] = _NOTHING) -> Use:
    """Make a use of `kind`: its defaults with `values` in their place.

    Parameters
    ----------
    kind
        One of USE_KINDS.
    name
        What the shop calls it; the kind when empty.
    values
        Settings by key, SI.

    Raises
    ------
    UnknownName
        For a kind or a key that does not exist.
    ArgumentFault
        For a value that is not accepted, or that does not go with the others.
    """
    found = kind_of(kind)
    keys = tuple(setting.key for setting in found.settings)
    for key in values:
        if key not in keys:
            raise UnknownName(f"setting of {kind}", key, keys)
    settings = {s.key: accepted(s, values.get(s.key, s.default)) for s in found.settings}
    use = Use(kind, name or kind, settings)
    found.check(use)
    return use
