"""What the pages and the interface for programs work with: the records, and the readers and writers of a study's folder."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault
from ohmsworth.work.ports import (
    FolderOf,
    ReadBenchFolder,
    ReadFolder,
    ReadLotFolder,
    ReadQuestionText,
    ReadTones,
    StageDrive,
    ToneFormOf,
    TonesText,
)
from ohmsworth.work.records import Records
from ohmsworth.work.study_form import StudyForm

# For their names alone: a page without tones does not wait for what they bring along.
if TYPE_CHECKING:
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.work.cable_ports import CablePorts
    from ohmsworth.work.care_ports import LoadedCare
    from ohmsworth.work.recordings import OpenRecording
    from ohmsworth.work.workshop_ports import WorkshopPorts


@dataclass(frozen=True, slots=True)
class Shop:
    """The ports of the use cases that keep records.

    `clock` gives the moment with its zone; `new_key` a key that no line has had; `folder_of` the folder as which a study is
    answered; `read_folder`, `read_bench` and `read_question` read one; `write_question`, `form_of`, `revise_question` and
    `field_of` go between study.toml and the form on a page. `tones_text`, `tone_form` and `tone_field` do so for tones.toml,
    which `read_tones` reads with its plan.json; `plan_bytes` writes that, `stage_drive` the sound of it. `open_recording` and
    `sha256_of` look at recordings. `read_care` reads the files of a folder that asks about care,
    `read_lot` those of one that asks about a lot. `cables` and `workshop` read and write what belongs to built cables, and
    the lists of reels and prices.
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
    tones_text: TonesText
    tone_form: ToneFormOf
    tone_field: Callable[[Fault], str | None]
    read_tones: ReadTones
    plan_bytes: Callable[[TonePlan], bytes]
    stage_drive: StageDrive
    open_recording: OpenRecording
    sha256_of: Callable[[Path], str]
    cables: CablePorts
    read_care: Callable[[Mapping[str, bytes]], LoadedCare]
    workshop: WorkshopPorts
    read_lot: ReadLotFolder
