"""Adapters that read and write a question, a study.toml, from and to its text."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from ohmsworth.errors import Fault
    from ohmsworth.readings.study import Study
    from ohmsworth.work.ports import FileContent, LoadedLot, LoadedStudy, PastFolder
    from ohmsworth.work.study_form import StudyForm
    from ohmsworth.work.study_log import StudyState


def read_lot_folder(files: Mapping[str, bytes], past: PastFolder | None = None) -> LoadedLot:
    """Read what a folder that is on no disk yet asks about a lot."""
    from ohmsworth.adapters.files import read_lot_folder as read

    return read(files, past)


def read_folder(files: Mapping[str, bytes], past: PastFolder | None = None) -> LoadedStudy:
    """Read a study folder from its files; `past` gives those of the past studies that it names."""
    from ohmsworth.adapters.files import read_folder as read

    return read(files, past)


def read_question_text(toml: str, files: Mapping[str, bytes] | None = None) -> Study:
    """Read a study.toml from its text, with the files that stand beside it."""
    from ohmsworth.adapters.files import read_question_text as read

    return read(toml, files)


def write_question(form: StudyForm) -> str:
    """The text of a study.toml for a filled-in form."""
    from ohmsworth.adapters.files import write_question as write

    return write(form)


def form_of(toml: str) -> StudyForm:
    """What a study.toml says of the fields of the form."""
    from ohmsworth.adapters.files import form_of as read

    return read(toml)


def revise_question(toml: str, form: StudyForm) -> str:
    """A study.toml with what the form says otherwise changed, and the rest of the text as it was."""
    from ohmsworth.adapters.files import revise

    return revise(toml, form)


def field_of(fault: Fault) -> str | None:
    """The field of the form that a fault of study.toml is about."""
    from ohmsworth.adapters.files import field_of as find

    return find(fault)


def folder_of(state: StudyState, content: FileContent | None = None) -> dict[str, bytes]:
    """The files of the folder as which a study of the records is answered and exported."""
    from ohmsworth.adapters.files import folder_of as make

    return make(state, content)
