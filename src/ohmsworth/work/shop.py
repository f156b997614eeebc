"""What the pages and the interface for programs work with: the records, and the readers and writers of a study's folder."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from ohmsworth.errors import Fault
from ohmsworth.work.ports import FolderOf, ReadBenchFolder, ReadFolder, ReadQuestionText
from ohmsworth.work.records import Records
from ohmsworth.work.study_form import StudyForm


@dataclass(frozen=True, slots=True)
class Shop:
    """The ports of the use cases that keep records.

    `clock` gives the moment with its zone; `new_key` a key that no line has had; `folder_of` the folder as which a study is
    answered; `read_folder`, `read_bench` and `read_question` read one; `write_question`, `form_of`, `revise_question` and
    `field_of` go between study.toml and the form on a page.
    """

    records: Records
    clock: Callable[[], datetime]
    new_key: Callable[[], str]
    folder_of: FolderOf
    read_folder: ReadFolder
    read_question: ReadQuestionText
    write_question: Callable[[StudyForm], str]
    form_of: Callable[[str], StudyForm]
    revise_question: Callable[[str, StudyForm], str]
    field_of: Callable[[Fault], str | None]
    read_bench: ReadBenchFolder
