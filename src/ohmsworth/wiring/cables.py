"""Adapters that read and write the folder of a built cable from and to its texts."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from ohmsworth.work.cable_form import CableForm
    from ohmsworth.work.cable_ports import Described, ReadTest, SheetRow, WrittenRow


def described(toml: str) -> Described:
    """What the text of a cable.toml says."""
    from ohmsworth.adapters.files import described as read

    return read(toml)


def tested(data: bytes, of: Described) -> ReadTest:
    """What a test.csv says that was measured at a cable."""
    from ohmsworth.adapters.files import tested as read

    return read(data, of)


def written_test(rows: Sequence[WrittenRow]) -> bytes:
    """The bytes of a test.csv."""
    from ohmsworth.adapters.files import written_test as write

    return write(rows)


def written_sheet(rows: Sequence[WrittenRow], left: Sequence[SheetRow]) -> bytes:
    """The bytes of a test.csv to be filled in."""
    from ohmsworth.adapters.files import written_sheet as write

    return write(rows, left)


def cable_toml(form: CableForm) -> str:
    """The text of a cable.toml for a plain form."""
    from ohmsworth.adapters.files import cable_toml as write

    return write(form)
