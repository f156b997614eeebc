"""How a card of any kind is shown in a list, for whoever restores cards of all kinds."""

from __future__ import annotations

from collections.abc import Callable

from ohmsworth.work.builds.face import face_by, plain_face
from ohmsworth.work.cable_ports import CablePorts
from ohmsworth.work.cards import log
from ohmsworth.work.records import CardKind, MakeFace
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.workshop.lists import lists_face

#: Kinds that are not made of fields.
_OWN: dict[CardKind, MakeFace] = {"study": study_face, "cable": plain_face, "workshop": lists_face}


def face_of(kind: CardKind) -> MakeFace:
    """What makes the face of a card of `kind`; of a built cable without its verdict."""
    found = _OWN.get(kind)
    return log.face_of(kind) if found is None else found


def faces_by(cables: CablePorts) -> Callable[[CardKind], MakeFace]:
    """The same with the verdict of built cables, by what reads them."""
    from ohmsworth.work.builds.teller import Teller  # brings the computing along

    judged = face_by(Teller(cables))
    return lambda kind: judged if kind == "cable" else face_of(kind)
