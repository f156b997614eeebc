"""cards.json and settings.json: every card of a shop with its log, to be put into empty records again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from ohmsworth.adapters.files.line_json import Reading, canonical, card_json, check_format, read_json
from ohmsworth.adapters.files.packed import open_tree
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.portable import CardLog, references
from ohmsworth.work.records import Line

CARDS, SETTINGS = "cards.json", "settings.json"
FORMAT, VERSION = "ohmsworth shop", 1
_MEND = "Take the export as it was written; it is not meant to be edited."


def shop_bytes(cards: Mapping[int, CardLog], path: Callable[[int, Line], str]) -> bytes:
    """cards.json; `path` says where the file of a line of a card stands."""
    listed = [
        {"number": number, **card_json(card, lambda other: other, lambda line, n=number: path(n, line))}  # type: ignore[misc]
        for number, card in sorted(cards.items())
    ]
    return canonical({"format": FORMAT, "version": VERSION, "cards": listed})


def settings_bytes(settings: Mapping[str, str]) -> bytes:
    """settings.json."""
    return canonical({"format": FORMAT, "version": VERSION, "settings": dict(settings)})


Shop = tuple[dict[int, CardLog], dict[str, str], Callable[[str], bytes]]


@contextmanager
def open_shop(path: Path) -> Iterator[Shop]:
    """The cards, the settings, and what reads a file by its path, of an export in a folder or a zip file.

    Raises
    ------
    InputRefused
        For what is no such export, or not a whole one.
    """
    with open_tree(path) as tree:
        missing = [name for name in (CARDS, SETTINGS) if name not in tree.names]
        if missing:
            raise InputRefused(
                tuple(Fault(name, "no such file", "an export of a shop", _MEND) for name in missing)
            )
        yield read_shop(tree.read(CARDS), tree.names), read_settings(tree.read(SETTINGS)), tree.read


def read_shop(data: bytes, names: Sequence[str]) -> dict[int, CardLog]:
    """The cards in a cards.json, by number; in place of its content each file has its path, one of `names`.

    Raises
    ------
    InputRefused
        With what is wrong with it.
    """
    found = read_json(data, CARDS)
    check_format(found, FORMAT, VERSION, CARDS)
    there = frozenset(names)

    def content(path: str) -> bytes:
        if path not in there:
            raise ValueError(f"the file {path!r}, which is not there")
        return path.encode()

    reading = Reading(CARDS, _number, content)
    listed = found.get("cards")
    cards: dict[int, CardLog] = {}
    for place, said in enumerate(listed if isinstance(listed, list) else [None], start=1):
        number = said.get("number") if isinstance(said, dict) else None
        if isinstance(number, bool) or not isinstance(number, int) or number < 1 or number in cards:
            raise InputRefused((Fault(f"{CARDS}, card {place}", "no number of its own", "a number", _MEND),))
        cards[number] = reading.card(said, f"card {number}, ")
    _refuse_strangers(cards)
    return cards


def _refuse_strangers(cards: Mapping[int, CardLog]) -> None:
    """Refuse lines that refer to cards that are not there, and keys that stand in two cards."""
    faults = [
        Fault(f"{CARDS}, card {number}, line {line.number}", f"card {other}", "a card of the export", _MEND)
        for number, card in cards.items()
        for line in card.lines
        for other in references(line)
        if other not in cards
    ]
    keys = [line.key for card in cards.values() for line in card.lines]
    if len(set(keys)) < len(keys):
        faults.append(Fault(CARDS, "a key that stands in two cards", "each line once", _MEND))
    if faults:
        raise InputRefused(tuple(faults))


def read_settings(data: bytes) -> dict[str, str]:
    """The settings in a settings.json."""
    found = read_json(data, SETTINGS)
    check_format(found, FORMAT, VERSION, SETTINGS)
    settings = found.get("settings")
    if isinstance(settings, dict) and all(isinstance(value, str) for value in settings.values()):
        return settings
    raise InputRefused((Fault(SETTINGS, "no table of texts 'settings'", "what was exported", _MEND),))


def _number(said: Any) -> int:
    if isinstance(said, bool) or not isinstance(said, int):
        raise TypeError(f"{str(said)[:40]!r} in place of a card's number")
    return said
