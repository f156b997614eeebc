"""How a card of each kind is shown in a list, for whoever restores cards of all kinds."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.work.records import CardKind, Face, Line, MakeFace
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import FILE

_TITLES = ("title", "name")


def face_of(kind: CardKind) -> MakeFace:
    """What makes the face of a card of `kind`."""
    return study_face if kind == "study" else plain_face


def plain_face(lines: Sequence[Line]) -> Face:
    """What the last line says that names the card; the rest of what was said for a search."""
    written = [line for line in lines if line.kind != FILE]  # the name of a file is no card's
    said = {key: text for line in written for key, text in line.fields.items() if isinstance(text, str)}
    title = next((said[key] for key in _TITLES if said.get(key, "").strip()), "A card without a name")
    return Face(title, text="\n".join(said.values()))
