"""A whole shop's export into records that are still empty."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.work.portable import CardLog
from ohmsworth.work.records import CardKind, MakeFace, Records


def restore_shop(
    records: Records,
    cards: Mapping[int, CardLog],
    settings: Mapping[str, str],
    content: Callable[[str], bytes],
    by: str,
    face: Callable[[CardKind], MakeFace],
) -> int:
    """Restore every card with its number, keys, authors and times; return how many.

    Parameters
    ----------
    records
        Where to; empty.
    cards
        By number; in place of its content each file has its path.
    settings
        The shop's settings.
    content
        The bytes of a file by its path.
    by
        Who restores: the settings are written in this name.
    face
        How a card of a kind is shown.

    Raises
    ------
    InputRefused
        When the records hold something already.
    """
    if records.count() or records.settings():
        mend = "Name a place where there are none yet, or import studies one by one."
        raise InputRefused((Fault("the records", "cards or settings", "empty records", mend),))
    # What others refer to comes first.
    for number in sorted(cards, key=lambda n: (cards[n].kind != "specimen", n)):
        log = cards[number]
        contents = {line: content(path.decode()) for line, path in log.contents.items()}
        whole = replace(log, contents=contents)
        records.restore_card(log.kind, log.opened, whole.lines, whole.contents, face(log.kind), number)
    for name, value in sorted(settings.items()):
        records.write_setting(name, value, by)
    return len(cards)
