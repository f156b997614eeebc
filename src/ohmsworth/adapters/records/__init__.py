"""The shop's records and accounts on SQLite or PostgreSQL."""

from __future__ import annotations

from pathlib import Path

from ohmsworth.adapters.records.copies import FolderOfCopies
from ohmsworth.adapters.records.opening import open_records, open_store

__all__ = ["FolderOfCopies", "open_records", "open_store", "restore_records"]


def restore_records(backup: Path, address: str) -> None:
    """Copy every row of a backup into records that are still empty; see `ohmsworth.adapters.records.moving`."""
    from ohmsworth.adapters.records.moving import restore_records as restore

    restore(backup, address)
