"""What the pages and the interface for programs work with: the records, and the readers and writers of a study's folder."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from ohmsworth.work.ports import FolderOf, ReadFolder, ReadQuestionText
from ohmsworth.work.records import Records


@dataclass(frozen=True, slots=True)
class Shop:
    """The ports of the use cases that keep records.

    `clock` gives the moment with its zone; `new_key` a key that no line has had; `folder_of` the folder as which a study is
    answered; `read_folder` and `read_question` read one.
    """

    records: Records
    clock: Callable[[], datetime]
    new_key: Callable[[], str]
    folder_of: FolderOf
    read_folder: ReadFolder
    read_question: ReadQuestionText
