"""The data of a certificate as records, or everything that is missing or of another kind in them."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from types import GenericAlias
from typing import Any, get_args, get_origin, get_type_hints

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.papers import lot_certificate
from ohmsworth.report.papers.certificate import FORMAT, Certificate
from ohmsworth.report.papers.kinds import Paper

#: What a file of each format holds.
_KINDS: dict[str, type[Certificate] | type[lot_certificate.LotCertificate]] = {
    FORMAT: Certificate,
    lot_certificate.FORMAT: lot_certificate.LotCertificate,
}
_MEND = "It was changed, or is no certificate of this program: ask for the file again."


def certificate_of(data: Mapping[str, object], where: str) -> Paper:
    """The records that `data` hold; keys that are not known are left to the digest, which is over all of them.

    Raises
    ------
    InputRefused
        With every key that is missing, or whose value is no text (or list, or object) as it should be.
    """
    said = data.get("format")
    kind = _KINDS.get(said) if isinstance(said, str) else None
    if kind is None:
        found = shorten(said) if isinstance(said, str) else "no such key"
        mend = "Take the file that 'ohmsworth certify' wrote; a later format needs a later version of the program."
        raise InputRefused(
            (Fault(f"{where}, key 'format'", found, " or ".join(f'"{name}"' for name in _KINDS), mend),)
        )
    faults: list[Fault] = []
    made = _made(kind, data, where, faults)
    if faults:
        raise InputRefused(tuple(faults))
    assert isinstance(made, Paper)
    return made


def _made(kind: Any, value: object, where: str, faults: list[Fault]) -> Any:
    """`value` as `kind`, which is a text, a tuple of something, or a record."""
    if kind is str:
        if isinstance(value, str):
            return value
        faults.append(Fault(where, _told(value), "a text", _MEND))
    elif isinstance(kind, GenericAlias) and get_origin(kind) is tuple:
        if isinstance(value, list):
            member = get_args(kind)[0]
            return tuple(_made(member, one, f"{where}, number {k}", faults) for k, one in enumerate(value, 1))
        faults.append(Fault(where, _told(value), "a list", _MEND))
    elif isinstance(value, Mapping):
        return _record(kind, value, where, faults)
    else:
        faults.append(Fault(where, _told(value), "an object with keys", _MEND))
    return None


def _record(kind: Any, value: Mapping[str, object], where: str, faults: list[Fault]) -> Any:
    hints = get_type_hints(kind)
    found = {}
    for field in dataclasses.fields(kind):
        if field.name in value:
            place = f"{where}, key {shorten(field.name)}"
            found[field.name] = _made(hints[field.name], value[field.name], place, faults)
        else:
            faults.append(Fault(f"{where}, key {shorten(field.name)}", "no such key", "a value", _MEND))
    return None if faults else kind(**found)


def _told(value: object) -> str:
    names = {dict: "an object", list: "a list", str: "a text", type(None): "null"}
    return names.get(type(value), shorten(str(value)))
