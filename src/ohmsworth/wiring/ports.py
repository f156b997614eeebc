"""The ports of a shop that keeps records."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from ohmsworth.wiring import cables, questions, tones, workshop
from ohmsworth.wiring.recordings import open_recording

if TYPE_CHECKING:
    from collections.abc import Mapping

    from ohmsworth.work.cable_ports import CablePorts
    from ohmsworth.work.care_ports import LoadedCare
    from ohmsworth.work.ports import LoadedBench
    from ohmsworth.work.records import Records
    from ohmsworth.work.shop import Shop
    from ohmsworth.work.workshop_ports import WorkshopPorts


def read_bench_folder(files: Mapping[str, bytes]) -> LoadedBench:
    """Read a study's folder as a bench, from its files."""
    from ohmsworth.adapters.files import read_bench_folder as read

    return read(files)


def read_care_files(files: Mapping[str, bytes]) -> LoadedCare:
    """Read a folder that asks about care, from its files."""
    from ohmsworth.adapters.files import read_care_files as read

    return read(files)


def cable_ports() -> CablePorts:
    """What reads and writes the folders of built cables."""
    from ohmsworth.work.cable_ports import CablePorts

    return CablePorts(
        cables.described, cables.tested, cables.written_test, cables.written_sheet, cables.cable_toml
    )


def workshop_ports() -> WorkshopPorts:
    """What reads and writes the workshop's lists."""
    from ohmsworth.work.workshop_ports import WorkshopPorts

    return WorkshopPorts(workshop.reels_in, workshop.prices_in, workshop.text_of_file, workshop.reels_csv)


def shop(records: Records) -> Shop:
    """The ports of the use cases that keep records."""
    from datetime import UTC
    from uuid import uuid4

    from ohmsworth.work.shop import Shop

    return Shop(
        records,
        clock=lambda: datetime.now(UTC),
        new_key=lambda: uuid4().hex,
        folder_of=questions.folder_of,
        read_folder=questions.read_folder,
        read_question=questions.read_question_text,
        write_question=questions.write_question,
        form_of=questions.form_of,
        revise_question=questions.revise_question,
        field_of=questions.field_of,
        read_bench=read_bench_folder,
        tones_text=tones.tones_text,
        tone_form=tones.tone_form,
        tone_field=tones.tone_field,
        read_tones=tones.read_tones_text,
        plan_bytes=tones.as_plan_file,
        stage_drive=tones.staged_drive,
        open_recording=open_recording,
        sha256_of=tones.sha256_of,
        cables=cable_ports(),
        read_care=read_care_files,
        workshop=workshop_ports(),
        read_lot=questions.read_lot_folder,
    )
