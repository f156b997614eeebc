"""Files are written whole, all of them or none."""

import os
from pathlib import Path

import pytest
from tests.journeys.test_command_line import everything

from ohmsworth.adapters.files import write_file, write_files
from ohmsworth.errors import OutputFault


def test_several_files_in_folders_that_are_made(tmp_path: Path) -> None:
    write_files([(tmp_path / "a/b/one", b"1"), (tmp_path / "two", b"2"), (tmp_path / "a/three", b"3")])
    assert everything(tmp_path) == {
        str(tmp_path / name): data for name, data in (("a/b/one", b"1"), ("a/three", b"3"), ("two", b"2"))
    }
    write_files([])


def test_where_one_cannot_be_written_none_is(tmp_path: Path) -> None:
    (tmp_path / "old").write_bytes(b"old")
    (tmp_path / "folder").mkdir()
    with pytest.raises(OutputFault, match="folder cannot be written: it is a folder"):
        write_files(
            [(tmp_path / "old", b"new"), (tmp_path / "deep/er/one", b"1"), (tmp_path / "folder", b"2")]
        )
    assert everything(tmp_path) == {str(tmp_path / "old"): b"old"}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["folder", "old"]


def test_a_folder_that_cannot_be_made_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(OutputFault, match="cannot be written"):
        write_files([(tmp_path / "one", b"1"), (tmp_path / "made" / ("x" * 300) / "two", b"2")])
    assert list(tmp_path.iterdir()) == []


def test_where_the_last_step_fails_what_was_written_stays_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    replaced: list[str] = []
    replace = os.replace

    def failing(source: str, target: Path) -> None:
        if len(replaced) == 1:
            raise PermissionError(13, "Permission denied")
        replaced.append(source)
        replace(source, target)

    monkeypatch.setattr(os, "replace", failing)
    with pytest.raises(OutputFault, match="two cannot be written: Permission denied"):
        write_files([(tmp_path / "one", b"1"), (tmp_path / "two", b"2"), (tmp_path / "three", b"3")])
    assert everything(tmp_path) == {str(tmp_path / "one"): b"1"}


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "file")
    write_file(tmp_path / "link", b"1")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "file").read_bytes() == b"1"


@pytest.mark.parametrize("name", ["a\0b", "file/x"])
def test_what_is_no_place_for_a_file(name: str, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(OutputFault, match="Choose another place"):
        write_file(tmp_path / name, b"1")
    assert everything(tmp_path) == {str(tmp_path / "file"): b""}
