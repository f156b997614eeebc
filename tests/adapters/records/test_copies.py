"""A folder of copies on disk."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from ohmsworth.adapters.records import FolderOfCopies
from ohmsworth.work.backups import copy_name
from ohmsworth.work.records import RecordsFault

NAME = copy_name(datetime(2026, 3, 2, 9, 30, tzinfo=UTC))


def test_the_folder_is_made_with_the_first_copy(tmp_path: Path) -> None:
    folder = FolderOfCopies(tmp_path / "copies")
    assert folder.copies() == ()
    made = folder.make(NAME, lambda place: place.write_bytes(b"abc") and None)
    assert (made.name, made.size) == (NAME, 3)
    assert (tmp_path / "copies").stat().st_mode & 0o777 == 0o700
    (tmp_path / "copies" / "notes.txt").write_text("mine")
    assert folder.copies() == (made,)
    folder.remove(NAME)
    assert folder.copies() == ()
    assert (tmp_path / "copies" / "notes.txt").exists()


def test_a_drive_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    folder = FolderOfCopies(tmp_path / "drive" / "copies")
    with pytest.raises(RecordsFault, match="plug in the drive"):
        folder.copies()
    with pytest.raises(RecordsFault, match="plug in the drive"):
        folder.make(NAME, lambda place: None)
    assert not (tmp_path / "drive").exists()


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "copies").write_text("x")
    folder = FolderOfCopies(tmp_path / "copies")
    with pytest.raises(RecordsFault, match="cannot be used"):
        folder.copies()
    with pytest.raises(RecordsFault, match="cannot be used"):
        folder.make(NAME, lambda place: None)


@pytest.mark.parametrize("name", ["../x.sqlite", "notes.txt", "/etc/passwd", ""])
def test_only_copies_have_a_path(tmp_path: Path, name: str) -> None:
    with pytest.raises(RecordsFault, match="no copy"):
        FolderOfCopies(tmp_path).path(name)
