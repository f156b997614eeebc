"""What a list shows of a built cable: its name and serial, and what is known of it."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ohmsworth.errors import InputRefused
from ohmsworth.work.builds.log import CableState, fold
from ohmsworth.work.paper_lines import paper_words
from ohmsworth.work.records import Face, Line, MakeFace

if TYPE_CHECKING:
    from ohmsworth.work.builds.teller import Teller

NOT_TESTED, MEASURED, UNREADABLE = "not tested", "measured", "cannot be read"
NO_NAME = "A cable without a name"


def face_by(teller: Teller) -> MakeFace:
    """What makes the face of a cable with its verdict and its figures."""
    from ohmsworth.work.builds.figures import figures_of  # brings the computing along

    def face(lines: Sequence[Line]) -> Face:
        state = fold(lines)
        return replace(_face(state, verdict_of(teller, state)), figures=figures_of(teller, state))

    return face


def plain_face(lines: Sequence[Line]) -> Face:
    """The same where nothing is at hand that reads descriptions: whether anything was measured."""
    state = fold(lines)
    return _face(state, MEASURED if state.counted else NOT_TESTED)


def verdict_of(teller: Teller, state: CableState) -> str:
    """The state of a cable in a word or three."""
    try:
        return teller.answer(state.toml, state.written).verdict or NOT_TESTED
    except InputRefused:
        return UNREADABLE


def name_of(toml: str) -> tuple[str, str]:
    """Name and serial as a description says them; "" where it does not, or cannot be read."""
    try:
        said = tomllib.loads(toml)
    except tomllib.TOMLDecodeError:
        return "", ""
    texts = (said.get(key) for key in ("name", "serial"))
    name, serial = (" ".join(text.split()) if isinstance(text, str) else "" for text in texts)
    return name, serial


def _face(state: CableState, shown: str) -> Face:
    title = " ".join(part for part in name_of(state.toml) if part) or NO_NAME
    notes = [str(note.fields.get("text", "")) for note in state.notes]
    notes += paper_words(state)
    # TOML can spell a NUL, which no database takes as text.
    title, text = (said.replace("\0", "\ufffd") for said in (title, "\n".join((state.toml, *notes))))
    return Face(title, shown, text)
