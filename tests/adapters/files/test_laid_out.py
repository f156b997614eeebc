"""Files that somebody sent: studies are found in them, and nothing leads out of their folder or fills the disk."""

import io
import os
import stat
import zipfile
from pathlib import Path

import pytest

from ohmsworth.adapters.files import laid_out, lay_out, read_laid_out
from ohmsworth.errors import InputRefused

TOML = b'question = "?"\n'
ROWS = b"specimen,condition,voltage [mV],current [mA]\nA,new,0.25,100\n"


def zipped(*files: tuple[str | zipfile.ZipInfo, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in files:
            packed.writestr(name, data)
    return out.getvalue()


def test_every_way_of_sending_a_study(tmp_path: Path) -> None:
    files = [
        ("study.toml", TOML),
        ("readings.csv", ROWS),
        ("old/hall/study.toml", TOML),
        ("old/hall/past/study.toml", TOML),
        ("two.zip", zipped(("a/study.toml", TOML), ("b/study.toml", TOML), ("notes.txt", b"x"))),
        ("one.zip", zipped(("study.toml", TOML), ("readings.csv", ROWS))),
    ]
    found = lay_out(tmp_path, files)
    assert sorted(found.studies) == ["a", "b", "hall", "one", "the files"]
    assert not found.whole
    assert (found.studies["one"] / "readings.csv").read_bytes() == ROWS
    assert read_laid_out(found.studies["hall"], tmp_path).question == TOML.decode()


def test_cables_are_told_from_studies(tmp_path: Path) -> None:
    files = [
        (
            "a.zip",
            zipped(("line/cable.toml", b""), ("line/certificate-1.json", b"{}"), ("hall/study.toml", TOML)),
        ),
        ("cable.toml", b""),
        ("test.csv", b""),
    ]
    found = lay_out(tmp_path, files)
    assert ([*found.studies], sorted(found.cables)) == (["hall"], ["line", "the files"])
    assert (found.cables["line"] / "certificate-1.json").read_bytes() == b"{}"


def test_folders_of_one_name_are_told_apart(tmp_path: Path) -> None:
    found = lay_out(tmp_path, [("x.zip", zipped(("a/hall/study.toml", TOML), ("b/hall/study.toml", TOML)))])
    assert sorted(found.studies) == ["x/a/hall", "x/b/hall"]


def test_what_file_managers_add_is_passed_over(tmp_path: Path) -> None:
    data = zipped(("hall/study.toml", TOML), ("__MACOSX/hall/._study.toml", b"x"), ("hall/.DS_Store", b"x"))
    found = lay_out(tmp_path, [("a.zip", data), ("hall/.DS_Store", b"x"), ("hall/study.toml", TOML)])
    assert sorted(found.studies) == ["a/hall", "hall"]
    assert [name for _, _, names in os.walk(tmp_path) for name in names] == ["study.toml", "study.toml"]


def test_a_whole_export_is_told_and_not_taken_apart(tmp_path: Path) -> None:
    found = lay_out(tmp_path, [("s.zip", zipped(("cards.json", b"{}"), ("studies/1/study.toml", TOML)))])
    assert found.whole
    assert not found.studies


@pytest.mark.parametrize(
    "name",
    [
        "../study.toml",
        "/etc/study.toml",
        "a/../../study.toml",
        "a\\study.toml",
        "..",
        "../.hidden",
        "con/study.toml",
        "a//study.toml",
        "C:/study.toml",
        "a\0b/study.toml",
        "/".join("abcdefghij") + "/study.toml",
    ],
)
def test_a_name_that_leads_elsewhere(name: str, tmp_path: Path) -> None:
    inside = tmp_path / "in"
    inside.mkdir()
    with pytest.raises(InputRefused, match="leads elsewhere"):
        lay_out(inside, [(name, TOML)])
    assert os.listdir(tmp_path) == ["in"]
    if "\0" not in name and "\\" not in name:
        with pytest.raises(InputRefused, match="leads elsewhere"):
            lay_out(inside, [("x.zip", zipped((zipfile.ZipInfo(name), TOML)))])
    assert os.listdir(tmp_path) == ["in"]


def link(name: str) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name)
    entry.create_system, entry.external_attr = 3, (stat.S_IFLNK | 0o777) << 16
    return entry


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ([("x.zip", zipped((link("study.toml"), b"/etc/passwd")))], "a link"),
        ([("x.zip", zipped(("study.toml", TOML))[:-30])], "no zip file"),
        ([("x.zip", zipped(("study.toml", b"\0" * 20_000_000)))], "20000000 bytes"),
        ([("study.toml", TOML), ("study.toml", TOML)], "a name twice"),
        ([("a/study.toml", TOML), ("a", b"x"), ("a", b"y")], "a name twice"),
        ([("a", b"x"), ("the files/a/study.toml", TOML)], "a name twice"),
        ([("notes.txt", b"x")], "no study and no cable among them"),
        (
            [("x.zip", zipped(("inner.zip", zipped(("study.toml", TOML)))))],
            "no study and no cable among them",
        ),
        ([("x.zip", zipped())], "no study and no cable among them"),
        ([("study.zip", b"not a zip file")], "no study and no cable among them"),
    ],
)
def test_what_is_refused(files: list[tuple[str, bytes]], said: str, tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=said):
        lay_out(tmp_path, files)


def test_many_files_that_fill_the_disk_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(laid_out, "MOST_BYTES", 5_000_000)
    files = [(f"{n}.txt", os.urandom(1000) * 1000) for n in range(10)]
    with pytest.raises(InputRefused, match="when unpacked"):
        lay_out(tmp_path, [("x.zip", zipped(("study.toml", TOML), *files))])
    assert sum(place.stat().st_size for place in tmp_path.rglob("*") if place.is_file()) < 5_000_000


def test_past_studies_come_from_what_was_sent_alone(tmp_path: Path) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "study.toml").write_bytes(TOML)
    root = tmp_path / "root"
    root.mkdir()
    past = f'history = ["../last", "../../../outside", "{outside}"]\n'.encode()
    found = lay_out(root, [("a/now/study.toml", TOML + past), ("a/last/study.toml", TOML)])
    with pytest.raises(InputRefused) as refused:
        read_laid_out(found.studies["now"], root)
    assert len(refused.value.faults) == 2
    assert "../../../outside" in refused.value.faults[0].found
    assert all("sent too" in fault.expected for fault in refused.value.faults)
