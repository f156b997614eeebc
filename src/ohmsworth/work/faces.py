"""How a card of any kind is shown in a list, for whoever restores cards of all kinds."""

from __future__ import annotations

from ohmsworth.work.cards import log
from ohmsworth.work.records import CardKind, MakeFace
from ohmsworth.work.study_cards import study_face


def face_of(kind: CardKind) -> MakeFace:
    """What makes the face of a card of `kind`."""
    return study_face if kind == "study" else log.face_of(kind)
