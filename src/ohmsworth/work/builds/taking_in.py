"""A cable's folder taken into the records: its description once, and of its rows those that are new."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256

from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import open_cable, take_test
from ohmsworth.work.import_keys import key_of


@dataclass(frozen=True, slots=True)
class BuiltIn:
    """The card of the cable, how many rows were new, and whether it was there already."""

    cable: int
    added: int
    known: bool


def take_built(desk: CableDesk, toml: str, test: bytes | None, by: str) -> BuiltIn:
    """Take it in; a description that is known letter by letter is the same cable, and brings what is new in its test.csv.

    Raises
    ------
    InputRefused
        With every fault of both files; nothing is kept then.
    """
    if test is not None:
        desk.teller.ports.tested(test, desk.teller.described(toml))
    key = key_of("cable", toml)
    known = desk.records.card_of(key) is not None
    cable = open_cable(desk, toml, by, key)
    if test is None:
        return BuiltIn(cable, 0, known)
    added, _ = take_test(desk, cable, test, by, key_of("cable rows", toml, sha256(test).hexdigest()))
    return BuiltIn(cable, added, known)
