"""Whatever is typed wrongly at ``meaning`` is refused: where, what was found, what was expected, how to mend it."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from tests.journeys.test_command_line import Captured, everything

from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run

LINE = ["--use", "balanced line"]
FEW = ("1ohm", "2ohm", "3ohm", "4ohm", "5ohm", "6ohm", "7ohm")

#: What is typed, and words of each fault in its order: where, found, expected, mend.
TYPED: list[tuple[list[str], list[tuple[str, str, str, str]]]] = [
    (["3"], [("RESISTANCES", "no unit in '3'", "mΩ", "as in 3 mΩ")]),
    (["3", "5"], [("RESISTANCES", "'3'", "unit", "unit"), ("RESISTANCES", "'5'", "unit", "unit")]),
    (["mohm"], [("RESISTANCES", "'mohm'", "a resistance such as 3 mΩ", "number and unit")]),
    ([""], [("RESISTANCES", "nothing", "a resistance", "number and unit")]),
    (["3 mV"], [("RESISTANCES", "the unit 'mV'", "a unit of resistance", "one of these units")]),
    (["-3mohm"], [("RESISTANCES", "'-3mohm'", "0.1 µΩ to 1 GΩ", "what a contact can have")]),
    (["-3", "mohm"], [("RESISTANCES", "'-3 mohm'", "0.1 µΩ to 1 GΩ", "what a contact can have")]),
    (["−3 mΩ"], [("RESISTANCES", "'−3 mΩ'", "0.1 µΩ to 1 GΩ", "what a contact can have")]),
    (["0 ohm"], [("RESISTANCES", "'0 ohm'", "0.1 µΩ to 1 GΩ", "what a contact can have")]),
    (["1 nohm"], [("RESISTANCES", "'1 nohm'", "0.1 µΩ to 1 GΩ", "Check the unit")]),
    (["2 Gohm"], [("RESISTANCES", "'2 Gohm'", "0.1 µΩ to 1 GΩ", "Check the unit")]),
    (["1e999 ohm"], [("RESISTANCES", "'1e999", "finite", "exponent")]),
    (["nan ohm"], [("RESISTANCES", "'nan ohm'", "a resistance", "number")]),
    (["1,234 ohm"], [("RESISTANCES", "'1,234'", "one way only", "1234")]),
    ([*FEW], [("RESISTANCES", "7 of them", "at most 6", "fewer")]),
    (["3mohm", "--spred", "5%"], [("the command", "'--spred'", "option", "--spread"), ("RESISTANCES", "'%'", "unit", "unit")]),
    (["--jsn"], [("the command", "'--jsn'", "an option that there is", "Did you mean --json?")]),
    (["-q"], [("the command", "'-q'", "an option that there is", "--help")]),
    (["3mohm", "--spread", "20"], [("--spread", "no unit", "%", "unit")]),
    (["3mohm", "--spread", ""], [("--spread", "nothing", "a ratio", "number and unit")]),
    (["3mohm", "--spread", "-20 %"], [("--spread", "'-20 %'", "above 0 %", "such as 20 %")]),
    (["3mohm", "--spread", "0 %"], [("--spread", "'0 %'", "above 0 %", "such as 20 %")]),
    (["3mohm", "--spread", "231 %"], [("--spread", "'231 %'", "at most 230 %", "such as 20 %")]),
    (["--spread", "20 %"], [("--spread", "no resistance", "to scatter about", "Name one")]),
    (["--use", "balnced line"], [("--use", "'balnced line'", "one of: dynamic microphone,", "'balanced line'?")]),
    (["--use", "Mains Feed"], [("--use", "'Mains Feed'", "one of:", "Did you mean 'mains feed'?")]),
    (["--use", "toaster"], [("--use", "'toaster'", "one of:", "Name one of these.")]),
    (["--use", ""], [("--use", "an empty text", "one of:", "Name one of these.")]),
    (["--use", "x" * 500], [("--use", "…", "one of:", "Name one of these.")]),
    (["--set", "length=5 m"], [("--set", "no circuit", "one circuit", "--use")]),
    (["--use", "video", *LINE, "--set", "length=5 m"], [("--set", "2 circuits", "one circuit", "--circuits")]),
    ([*LINE, "--set", "lenght=5 m"], [("--set, key 'lenght'", "unknown key", "length", "Did you mean 'length'?")]),
    ([*LINE, "--set", "length=5"], [("--set, key 'length'", "no unit", "a unit of length", "as in 10 m")]),
    ([*LINE, "--set", "length=50 km"], [("--set, key 'length'", "'50 km'", "0 m to 10 km", "value and unit")]),
    ([*LINE, "--set", "length=-1 m"], [("--set, key 'length'", "'-1 m'", "0 m to 10 km", "value and unit")]),
    ([*LINE, "--set", "contacts_near=1.5"], [("--set, key 'contacts_near'", "1.5", "whole number", "Check")]),
    ([*LINE, "--set", "contacts_near=two"], [("--set, key 'contacts_near'", "'two'", "whole number", "Check")]),
    ([*LINE, "--set", "conductor=thin"], [("--set, key 'conductor'", "'thin'", '"0.22 mm²" or "24 AWG"', "Correct it")]),
    ([*LINE, "--set", "cable=our pair"], [("--set, key 'cable'", "'our pair'", "one of:", "cables.toml in this folder")]),
    ([*LINE, "--set", "load_impedance=100 kohm"], [("--set, key 'load_impedance'", "'100 kohm'", "at most twice", "Correct it")]),
    ([*LINE, "--set", "kind=video"], [("--set, key 'kind'", "'video'", "a value of the circuit", "--use")]),
    ([*LINE, "--set", "length"], [("--set", "'length'", "KEY=VALUE", "length='50 m'")]),
    ([*LINE, "--set", "=5 m"], [("--set", "'=5 m'", "KEY=VALUE", "length='50 m'")]),
    ([*LINE, "--set", "length= "], [("--set", "'length= '", "KEY=VALUE", "length='50 m'")]),
    ([*LINE, "--set", "length=5 m", "--set", "length=6 m"], [("--set, key 'length'", "twice", "once", "Leave one")]),
    (["--use", "phantom microphone", "--set", "phantom=P49"], [("--set, key 'phantom'", "'P49'", '"P48"', '"P48"?')]),
    ([*LINE, "--circuits", "some.toml"], [("--circuits", "--use or --set beside it", "one or the other", "leave --circuits")]),
    (["--circuits", "nowhere"], [("'nowhere'", "no such file or folder", "[[use]]", "Check the name")]),
    (["--circuits", "n" * 300], [("'nnn", "no such file or folder", "[[use]]", "Check the name")]),
    (["--circuits", "empty"], [("study.toml", "no such file", "study.toml", "[[use]]")]),
    (["--circuits", "none.toml"], [("none.toml", "no [[use]]", "at least one circuit", "[[use]]")]),
    (["--circuits", "broken.toml"], [("broken.toml, line 1", "not TOML", "lines such as", "quotation marks")]),
    (["--circuits", "binary.toml"], [("binary.toml, line 1", "NUL", "plain text", "Save the file")]),
    (["--circuits", "table.toml"], [("table.toml, key 'use'", "a table", "[[use]]", "[[use]]")]),
    (["--circuits", "bad/two.toml"], [
        ("two.toml, [[use]] number 1, key 'length'", "'kg'", "length", "units"),
        ("two.toml, [[use]] number 2, key 'kind'", "no such key", '"balanced line"', "kind"),
        ("cables.toml, [[cable]] number 1, key 'family'", "'pear'", '"pair"', "Did you mean"),
    ]),
    ([*LINE, "--netlist", "no/a.cir"], [("--netlist 'no/a.cir'", "no folder 'no'", "a folder that is there", "Make the folder")]),
    ([*LINE, "--touchstone", "a.s1p"], [("--touchstone 'a.s1p'", "the ending .s1p", "lead.s2p", "a.s2p.")]),
    ([*LINE, "--touchstone", "a"], [("--touchstone 'a'", "no ending", "lead.s2p", "a.s2p.")]),
    ([*LINE, "--netlist", "a.pdf"], [("--netlist 'a.pdf'", "the ending .pdf", "lead.cir", "a.cir")]),
    ([*LINE, "--html", "a.pdf"], [("--html 'a.pdf'", "the ending .pdf", "report.html", "a.html")]),
    ([*LINE, "--pdf", "no/a.pdf"], [("--pdf 'no/a.pdf'", "no folder", "a folder that is there", "Make the folder")]),
    ([*LINE, "--pictures", "none.toml"], [("--pictures 'none.toml'", "a file", "a folder", "another name")]),
    ([*LINE, "--pictures", "no/p"], [("--pictures 'no/p'", "no folder 'no'", "can be made", "Make that folder")]),
    (["--netlist", "a.cir"], [("--netlist", "no circuit named", "one circuit", "--use")]),
    ([*LINE, "--use", "video", "--touchstone", "a.s2p"], [("--touchstone", "2 circuits", "one circuit", "--use")]),
]  # fmt: skip


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with files that are no circuits."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "none.toml").write_text('question = "?"\n', "utf-8")
    (tmp_path / "broken.toml").write_text("kind = balanced line\n", "utf-8")
    (tmp_path / "binary.toml").write_bytes(b"kind\0")
    (tmp_path / "table.toml").write_text('[use]\nkind = "video"\n', "utf-8")
    (tmp_path / "bad").mkdir()
    two = '[[use]]\nkind = "balanced line"\ncable = "ours"\nlength = "5 kg"\n[[use]]\nlength = "5 m"\n'
    (tmp_path / "bad/two.toml").write_text(two, "utf-8")
    (tmp_path / "bad/cables.toml").write_text('[[cable]]\nname = "ours"\nfamily = "pear"\n', "utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("typed", "told"), TYPED, ids=[f"{i} {' '.join(typed)[:40]}" for i, (typed, _) in enumerate(TYPED)]
)
def test_what_is_typed_wrongly_is_refused_in_words(
    typed: list[str], told: list[tuple[str, str, str, str]], here: Path, capsys: Captured
) -> None:
    before = everything(here)
    assert run(["meaning", *typed, "--json"]) == REFUSED
    out, err = capsys.readouterr()
    assert err.startswith(f"Refused: {len(told)} fault")
    assert "Traceback" not in err
    faults = json.loads(out)["faults"]
    assert len(faults) == len(told), faults
    for fault, words in zip(faults, told, strict=True):
        for key, part in zip(("where", "found", "expected", "mend"), words, strict=True):
            assert part in fault[key], (key, fault)
    assert everything(here) == before


def test_all_faults_come_at_once(here: Path, capsys: Captured) -> None:
    typed = ["3", "--spread", "5", "--use", "toaster", "--html", "a.pdf", "--pictures", "no/p"]
    assert run(["meaning", *typed, "--json"]) == REFUSED
    faults = json.loads(capsys.readouterr().out)["faults"]
    assert [fault["where"].partition(" ")[0] for fault in faults] == [
        "--html", "--pictures", "RESISTANCES", "--spread", "--use",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "option", ["--use", "--set", "--spread", "--circuits", "--html", "--netlist", "--pictures"]
)
def test_an_option_without_its_value(option: str, here: Path, capsys: Captured) -> None:
    assert run(["meaning", "3mohm", option]) == REFUSED
    err = capsys.readouterr().err
    assert option in err
    assert "requires an argument" in err


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a file that cannot be read")
def test_a_file_that_cannot_be_read(here: Path, capsys: Captured) -> None:
    (here / "none.toml").chmod(0)
    assert run(["meaning", "--circuits", "none.toml"]) == REFUSED
    assert "Check the file and its permissions" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["fifo", "loop"])
def test_what_is_no_file_is_refused(name: str, here: Path, capsys: Captured) -> None:
    os.mkfifo(here / "fifo")
    (here / "loop").symlink_to(here / "loop")
    assert run(["meaning", "--circuits", name]) == REFUSED
    assert "Traceback" not in capsys.readouterr().err


# ------------------------------------------------------------ targets

OPTIONS = {"--html": "m.html", "--pdf": "m.pdf", "--netlist": "m.cir", "--touchstone": "m.s2p"}


@pytest.mark.parametrize("option", OPTIONS)
def test_nothing_is_written_where_one_file_cannot_be(option: str, here: Path, capsys: Captured) -> None:
    """A folder stands in the place of one of the files: none of the others is written, and no folder is made."""
    (here / OPTIONS[option]).mkdir()
    before = everything(here)
    arguments = [text for pair in OPTIONS.items() for text in pair]
    assert run(["meaning", "1ohm", *LINE, *arguments, "--pictures", "pictures"]) == NOT_WRITTEN
    out, err = capsys.readouterr()
    assert out == ""
    assert f"{OPTIONS[option]} cannot be written: it is a folder" in err
    assert everything(here) == before
    assert not (here / "pictures").exists()


def test_a_picture_that_cannot_be_written(here: Path, capsys: Captured) -> None:
    (here / "pictures/ladder.csv").mkdir(parents=True)
    assert run(["meaning", "1ohm", *LINE, "--pictures", "pictures", "--html", "m.html"]) == NOT_WRITTEN
    assert "ladder.csv cannot be written" in capsys.readouterr().err
    assert [path.name for path in (here / "pictures").iterdir()] == ["ladder.csv"]
    assert not (here / "m.html").exists()


@pytest.mark.parametrize(
    "targets",
    [
        ["--html", "same", "--pdf", "./same"],
        ["--html", "same", "--netlist", "same"],
        ["--netlist", "link.cir", "--touchstone", "same.s2p"],
    ],
)
def test_no_two_targets_are_one_file(targets: list[str], here: Path, capsys: Captured) -> None:
    (here / "link.cir").symlink_to(here / "same.s2p")
    before = everything(here)
    assert run(["meaning", "1ohm", *LINE, *targets]) == NOT_WRITTEN
    assert "choose another name" in capsys.readouterr().err
    assert everything(here) == before


@pytest.mark.parametrize(
    "name", ["study/study.toml", "study/readings.csv", "study/cables.toml", "other.toml"]
)
def test_nothing_takes_the_place_of_what_is_read(name: str, here: Path, capsys: Captured) -> None:
    assert run(["new", "study"]) == OK
    (here / "other.toml").write_text('[[use]]\nkind = "video"\n', "utf-8")
    before = everything(here)
    circuits = "other.toml" if name == "other.toml" else "study"
    assert run(["meaning", "--circuits", circuits, "--html", name]) == NOT_WRITTEN
    assert "choose another name" in capsys.readouterr().err
    assert everything(here) == before
