"""The ports of a shop that keeps records."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ohmsworth.work.records import Records
    from ohmsworth.work.shop import Shop


def shop(records: Records) -> Shop:
    """The ports of the use cases that keep records."""
    from datetime import UTC
    from uuid import uuid4

    from ohmsworth.adapters import files
    from ohmsworth.work.shop import Shop

    return Shop(
        records,
        clock=lambda: datetime.now(UTC),
        new_key=lambda: uuid4().hex,
        folder_of=files.folder_of,
        read_folder=files.read_folder,
        read_question=files.read_question_text,
        write_question=files.write_question,
        form_of=files.form_of,
        revise_question=files.revise,
        field_of=files.field_of,
        read_bench=files.read_bench_folder,
    )
