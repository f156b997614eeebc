"""`ohmsworth records`: what somebody types, and what it says when it cannot be done."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from ohmsworth import wiring
from ohmsworth.cli.app import run

Say = tuple[int, str, str]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a study made by hand, and records that nobody has to name."""
    monkeypatch.setenv("OHMSWORTH_RECORDS", str(tmp_path / "records.sqlite"))
    monkeypatch.chdir(tmp_path)
    wiring.write_new_study(tmp_path / "old")
    return tmp_path


def say(capsys: pytest.CaptureFixture[str], *words: str) -> Say:
    code = run(["records", *words])
    told = capsys.readouterr()
    return code, told.out, told.err


def test_in_out_and_in_again(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert say(capsys, "list") == (0, "No study.\n", "")
    assert say(capsys, "import", "old") == (0, "old: study 1, 25 new lines.\n", "")
    assert say(capsys, "import", "old", "old")[1].count("nothing new. It was there already.") == 2
    code, out, _ = say(capsys, "list", "--search", "TARNISHED")
    assert code == 0
    assert re.fullmatch(r" +1  \d{4}-\d\d-\d\d  open    Do the tarnished contacts .*\n", out)
    assert say(capsys, "list", "--search", "zinc")[1] == "No study holds all of these words.\n"
    code, out, _ = say(capsys, "export", "1", "out")
    assert (code, out[:37]) == (0, "Study 1 is in out: 3 files. 'ohmswort")
    capsys.readouterr()
    answers = []
    for folder in ("old", "out"):
        assert run(["answer", folder, "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers[0] == answers[1]
    assert say(capsys, "check") == (0, "The records are sound: 1 card.\n", "")


def test_a_built_cable_goes_in_and_out(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wiring.write_demo_cable(home / "cable")
    test = home / "cable/test.csv"
    whole = test.read_text("utf-8").splitlines(keepends=True)
    test.write_text("".join(whole[:5]), "utf-8")
    assert say(capsys, "import", "cable") == (0, "cable: cable 1, 4 new rows.\n", "")
    assert say(capsys, "import", "cable") == (0, "cable: cable 1, no new row. It was there already.\n", "")
    test.write_text("".join(whole), "utf-8")
    assert f"cable 1, {len(whole) - 5} new rows. It was there already." in say(capsys, "import", "cable")[1]
    assert say(capsys, "export", "1", "out") == (
        0,
        "Cable 1 is in out. 'ohmsworth cable out' judges it.\n",
        "",
    )
    answers = []
    for folder in ("cable", "out"):
        assert run(["cable", folder, "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out))
    assert answers[0] == answers[1]
    test.write_text("from,to,resistance [ohm]\nstage:9.9,desk:1.1,1\n", "utf-8")
    assert say(capsys, "import", "cable")[0] == 2


def test_an_edited_folder(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    say(capsys, "import", "old")
    say(capsys, "export", "1", "out")
    sheet = home / "out/readings.csv"
    sheet.write_bytes(sheet.read_bytes().replace(b"0.2513", b"0.2531"))
    code, _, err = say(capsys, "import", "out")
    assert code == 2
    assert (
        "readings.csv, line 2: found voltage 0.2531 mV; expected voltage 0.2513 mV, as in record.json" in err
    )
    assert "Import it with a reason" in err
    code, out, _ = say(capsys, "import", "out", "--corrections", "swapped digits", "--by", "Ann")
    assert (code, out) == (0, "out: study 1, 1 new line. It was there already.\n")


def test_only_cards_of_people_can_be_left_out(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    say(capsys, "import", "old")
    code, _, err = say(capsys, "export-all", "all", "--without", "1")
    assert code == 2
    assert "a study; expected a person or a customer to leave out" in err
    assert not (home / "all").exists()


@pytest.mark.parametrize("name", ["all", "all.zip"])
def test_everything_out_and_into_new_records(
    name: str, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    say(capsys, "import", "old")
    assert say(capsys, "export-all", name) == (
        0,
        f"1 card is in {name}; README.txt in it says what is what.\n",
        "",
    )
    assert say(capsys, "import", name, "--records", "new.sqlite")[1] == f"{name}: 1 card is in the records.\n"
    again = say(capsys, "export-all", "again", "--records", "new.sqlite")
    assert again[0] == 0
    if name == "all":
        files = sorted(path.relative_to(home / "all") for path in (home / "all").rglob("*.*"))
        assert files == sorted(path.relative_to(home / "again") for path in (home / "again").rglob("*.*"))
        for path in files:
            if (home / "all" / path).is_file():
                assert (home / "all" / path).read_bytes() == (home / "again" / path).read_bytes()
    code, _, err = say(capsys, "import", name)
    assert code == 2
    assert "empty records" in err


def test_a_backup_comes_back(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    say(capsys, "import", "old")
    assert say(capsys, "backup", "copy.sqlite")[0] == 0
    code, out, err = say(capsys, "restore", "copy.sqlite", "--records", "new.sqlite")
    assert (code, err) == (0, "")
    assert "new.sqlite" in out
    assert "Do the tarnished" in say(capsys, "list", "--records", "new.sqlite")[1]


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (("export", "9", "out"), 2, "There is no card 9."),
        (("export", "1", "old"), 3, "old holds something already"),
        (("import",), 2, "found no folder"),
        (("import", "nowhere"), 2, "no such folder"),
        (("import", "old/study.toml"), 2, "no zip file"),
        (("list", "--records", "/nowhere/at/all.sqlite"), 3, "There is no folder /nowhere."),
        (("list", "--records", "mysql://x"), 3, "expected the path of a file"),
        (("restore", "old/study.toml", "--records", "new.sqlite"), 3, "study.toml"),
        (("export", "many", "out"), 2, "Try 'ohmsworth --help'"),
        (("check", "--records", "old/study.toml"), 3, "study.toml"),
    ],
)
def test_what_cannot_be_done_is_said(
    words: tuple[str, ...], code: int, told: str, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    say(capsys, "import", "old")
    found = say(capsys, *words)
    assert found[0] == code
    assert told in found[2]
    assert "Traceback" not in found[2]


def test_without_a_name_they_are_among_the_users_data(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("OHMSWORTH_RECORDS", raising=False)
    assert Path(wiring.default_records()).parts[-2:] == ("ohmsworth", "shop.records")
