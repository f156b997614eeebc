"""A cable's folder taken into the records: its description once, and of its rows and papers those that are new."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, OhmsworthError
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.face import name_of
from ohmsworth.work.builds.folder import BuiltFolder
from ohmsworth.work.builds.writing import kept_text, open_cable, take_test
from ohmsworth.work.import_keys import key_of
from ohmsworth.work.paper_lines import paper_key
from ohmsworth.work.papers.kept.ports import PaperReader
from ohmsworth.work.papers.kept.taking_in import Owner, digest_in, known_faults, read_papers, take_papers
from ohmsworth.work.papers.ports import FoundPaper

#: Cables with one name and serial that are looked at, to find the one that a folder describes.
_MOST = 100


@dataclass(frozen=True, slots=True)
class BuiltIn:
    """The card of the cable, how many rows and papers were new, and whether it was there already."""

    cable: int
    added: int
    papers: int
    known: bool


@dataclass(frozen=True, slots=True)
class BuiltTaken:
    """What came of the folder `name`: the cable, or why it was refused."""

    name: str
    found: BuiltIn | None = None
    faults: tuple[Fault, ...] = ()


def take_built(desk: CableDesk, folder: BuiltFolder, by: str, reader: PaperReader) -> BuiltIn:
    """Take it in; a cable that has one of its papers, or its description letter by letter, is the same, and gets what is new.

    Raises
    ------
    InputRefused
        With every fault of all files; nothing is kept then.
    """
    toml, test = folder.toml, folder.test
    faults: list[Fault] = []
    papers: tuple[FoundPaper, ...] = ()
    try:
        described = desk.teller.described(kept_text(toml))
        if test is not None:
            desk.teller.ports.tested(test, described)
    except InputRefused as refused:
        faults += refused.faults
    try:
        papers = read_papers(folder.papers, Owner("cable", name_of(toml)[1]), reader)
    except InputRefused as refused:
        faults += refused.faults
    key = key_of("cable", toml)
    there = None if faults else _there(desk, toml, key, papers, reader)
    faults += known_faults(desk.records, there, papers, reader)
    if faults:
        raise InputRefused(tuple(faults))
    cable = open_cable(desk, toml, by, key) if there is None else there
    added = 0
    if test is not None:
        added, _ = take_test(desk, cable, test, by, key_of("cable rows", toml, sha256(test).hexdigest()))
    more = take_papers(desk.records, cable, papers, by, desk.face, reader)
    return BuiltIn(cable, added, more, there is not None)


def _there(
    desk: CableDesk, toml: str, key: str, papers: tuple[FoundPaper, ...], reader: PaperReader
) -> int | None:
    """The card of the cable where it is here already: by the key of an earlier import, by a paper, by its description."""
    known = desk.records.card_of(key)
    if known is not None:
        return known
    for paper in papers:
        name = reader.name_file(paper.certificate.number)
        holder = desk.records.card_of(paper_key(name))
        if holder is not None and digest_in(desk.records, holder, name) == paper.certificate.digest:
            return holder
    text = kept_text(toml)
    words = " ".join(part for part in name_of(toml) if part)
    cards = desk.records.cards("cable", search=words[:200], most=_MOST)
    return next((card.number for card in cards if desk.state(card.number).toml == text), None)


def take_in_built(
    desk: CableDesk,
    folders: Mapping[str, Path],
    read: Callable[[Path], BuiltFolder],
    reader: PaperReader,
    by: str,
) -> tuple[BuiltTaken, ...]:
    """Take every folder in that can be; one that is refused writes nothing and stops no other."""

    def one(name: str, path: Path) -> BuiltTaken:
        try:
            return BuiltTaken(name, take_built(desk, read(path), by, reader))
        except InputRefused as refused:
            return BuiltTaken(name, faults=refused.faults)
        except OhmsworthError as error:
            mend = (
                "Look through the records, then send it again: what is there already is not taken in twice."
            )
            return BuiltTaken(name, faults=(Fault("the records", str(error), "room for this cable", mend),))

    return tuple(one(name, path) for name, path in folders.items())
