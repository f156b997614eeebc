"""The command line: exit codes, words on the right stream, nothing half-written."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from ohmsworth.adapters.files import load_study
from ohmsworth.adapters.files.template import READINGS_TEMPLATE, STUDY_TEMPLATE
from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]


def program(*arguments: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run the program as a user does."""
    return subprocess.run(
        [sys.executable, "-m", "ohmsworth", *arguments],
        capture_output=True,
        cwd=cwd,
        env={**os.environ, **environment},
        check=False,
        timeout=60,
    )


@pytest.fixture
def study(tmp_path: Path) -> Path:
    folder = tmp_path / "study"
    folder.mkdir()
    (folder / "study.toml").write_text(STUDY_TEMPLATE, "utf-8")
    (folder / "readings.csv").write_text(READINGS_TEMPLATE, "utf-8")
    return folder


def everything(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["anser", "x"], "answer"),
        (["answer"], "requires an argument"),
        (["new"], "requires an argument"),
        (["answer", "x", "--jsn"], "--json"),
        (["answer", "x", "--html"], "--html"),
        (["answer", "x", "y"], "y"),
        (["answer", "x", "--pdf=a.pdf", "--colour", "red"], "--colour"),
        (["--verson"], "Unknown command"),
    ],
)
def test_a_wrong_command_is_refused(arguments: list[str], words: str, capsys: Captured) -> None:
    assert run(arguments) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert "ohmsworth --help" in err
    assert "Traceback" not in err


def test_help_and_version(capsys: Captured) -> None:
    assert run(["--help"]) == run(["answer", "--help"]) == run([]) == 0
    assert "Exit codes" in capsys.readouterr().out
    assert run(["--version"]) == 0
    assert re.fullmatch(r"\d+\.\d+\.\d+\S*\n", capsys.readouterr().out)


def test_help_loads_nothing_heavy(tmp_path: Path) -> None:
    heavy = ("numpy", "scipy", "typst", "vl_convert", "jinja2")
    script = (
        "import sys; from ohmsworth.cli.app import run; code = run(sys.argv[1:]); "
        f"sys.exit(code or str([name for name in {heavy} if name in sys.modules] or ''))"
    )
    for arguments in (["--help"], ["answer", "--help"], ["--version"]):
        done = subprocess.run(
            [sys.executable, "-c", script, *arguments],
            capture_output=True,
            text=True,
            cwd=tmp_path,
            check=False,
        )
        assert done.stderr.strip() == ""


def test_json_is_all_that_is_printed(study: Path, tmp_path: Path, capsys: Captured) -> None:
    assert run(["answer", str(study), "--json", "--html", str(tmp_path / "r.html")]) == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["format"] == "ohmsworth answer 1"
    assert err == ""


def test_words_say_what_was_written(study: Path, tmp_path: Path, capsys: Captured) -> None:
    html, pdf = tmp_path / "deep" / "r.html", tmp_path / "r.pdf"
    html.parent.mkdir()
    assert run(["answer", str(study), "--html", str(html), "--pdf", str(pdf)]) == 0
    out, _ = capsys.readouterr()
    assert f"Written: {html}" in out
    assert f"Written: {pdf}" in out
    assert html.read_bytes().startswith(b"<!")
    assert pdf.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("option", ["--html", "--pdf"])
@pytest.mark.parametrize("target", ["a folder", "a file/r", "readings", "study", "device", "loop", "x" * 300])
def test_a_target_that_cannot_be_written(
    option: str, target: str, study: Path, tmp_path: Path, capsys: Captured
) -> None:
    (tmp_path / "a folder").mkdir()
    (tmp_path / "a file").write_text("x")
    (tmp_path / "readings").symlink_to(study / "readings.csv")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    (tmp_path / "device").symlink_to("/dev/null")
    before = everything(tmp_path)
    name = str(study / "study.toml") if target == "study" else str(tmp_path / target)
    assert run(["answer", str(study), option, name]) == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    assert "another" in err
    assert everything(tmp_path) == before
    assert Path("/dev/null").is_char_device()


def test_the_two_reports_do_not_share_a_file(study: Path, tmp_path: Path, capsys: Captured) -> None:
    report = str(tmp_path / "report")
    assert run(["answer", str(study), "--html", report, "--pdf", report]) == 3
    assert "another name" in capsys.readouterr().err
    assert not Path(report).exists()


def test_a_report_replaces_an_older_one_through_a_link(study: Path, tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "old.html").write_text("old")
    (tmp_path / "link.html").symlink_to(tmp_path / "old.html")
    assert run(["answer", str(study), "--html", str(tmp_path / "link.html")]) == 0
    assert (tmp_path / "link.html").is_symlink()
    assert (tmp_path / "old.html").read_bytes().startswith(b"<!")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["link.html", "old.html", "study"]


@pytest.mark.parametrize("present", ["study.toml", "readings.csv"])
def test_new_never_overwrites(present: str, tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / present).write_text("mine")
    assert run(["new", str(tmp_path)]) == 3
    assert "is there already" in capsys.readouterr().err
    assert everything(tmp_path) == {str(tmp_path / present): b"mine"}


@pytest.mark.parametrize("place", ["file/x", "x" * 300])
def test_new_where_nothing_can_be_written(place: str, tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "file").write_text("x")
    assert run(["new", str(tmp_path / place)]) == 3
    assert "cannot be written" in capsys.readouterr().err


NAMES = ["two words", "[x]", "[bold]x[/bold]", "Ωmätz 試験", "it's; rm", "-dash", "%s {0}", "'"]


@pytest.mark.parametrize("name", NAMES)
def test_folders_of_any_name(name: str, tmp_path: Path, capsys: Captured) -> None:
    folder = str(tmp_path / name)
    assert run(["new", folder]) == 0
    out, _ = capsys.readouterr()
    assert f"Written: {folder}/study.toml" in out
    advice = out.partition("then: ")[2].splitlines()[0]
    assert run(shlex.split(advice)[1:]) == 0
    assert "The answer" in capsys.readouterr().out
    (tmp_path / name / "readings.csv").unlink()
    assert run(["answer", folder]) == 2


def test_a_missing_folder_is_named_as_it_was_typed(tmp_path: Path, capsys: Captured) -> None:
    assert run(["answer", str(tmp_path / "[red]nowhere[/red]")]) == 2
    assert "[red]nowhere[/red]" in capsys.readouterr().err


def test_names_cannot_steer_the_terminal(tmp_path: Path, capsys: Captured) -> None:
    assert run(["answer", str(tmp_path / "a\x1b[31mb")]) == 2
    assert "\x1b" not in capsys.readouterr().err


def test_a_start_can_be_answered_and_its_remarks_hold(tmp_path: Path, capsys: Captured) -> None:
    """Every line that the template offers as a remark is accepted once it is taken in."""
    taken_in = re.sub(r"(?m)^# (\w+ = |\[)", r"\1", STUDY_TEMPLATE)
    bench = 'open_circuit_voltage = "20 mV"   # of the current source\nemf_allowance = "3 µV"'
    assert bench in taken_in
    assert set(tomllib.loads(taken_in)) >= {
        "keep",
        "scale",
        "scatter",
        "coverage",
        "margin",
        "wires",
        "plating",
        "set_aside",
    }
    (tmp_path / "study.toml").write_text(taken_in, "utf-8")
    (tmp_path / "readings.csv").write_text(READINGS_TEMPLATE, "utf-8")
    study = load_study(tmp_path).study
    assert study.bench.open_circuit_voltage == 0.02
    assert study.uses[0].values == {"length": 20.0}
    assert study.set_aside == {14: "probe slipped"}
    assert study.keep == {15}


def test_a_terminal_of_few_letters(study: Path) -> None:
    for arguments in (["--help"], ["answer", "study"], ["answer", "nowhere µ"]):
        done = program(*arguments, cwd=study.parent, PYTHONIOENCODING="ascii")
        assert done.returncode in (0, 2)
        assert done.stdout.isascii()
        assert b"Traceback" not in done.stderr
    spelled = json.loads(
        program("answer", "study", "--json", cwd=study.parent, PYTHONIOENCODING="ascii").stdout
    )
    assert spelled == json.loads(program("answer", "study", "--json", cwd=study.parent).stdout)


@pytest.mark.skipif(os.name == "nt", reason="needs a POSIX shell")
@pytest.mark.parametrize(
    ("ending", "code", "words"),
    [("| true", 0, ""), ("| head -n 1", 0, "Do the"), (">&-", 0, ""), ("2>&-", 0, "Do the")],
)
def test_output_that_nobody_reads(ending: str, code: int, words: str, study: Path) -> None:
    command = f"set -o pipefail; {shlex.quote(sys.executable)} -m ohmsworth answer study {ending}"
    done = subprocess.run(
        ["bash", "-c", command], capture_output=True, text=True, cwd=study.parent, check=False
    )
    assert done.returncode == code
    assert done.stderr == ""
    assert words in done.stdout


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_full_disk_is_told(study: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "ohmsworth", "answer", str(study)],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == 3
    assert done.stderr == "The output cannot be written: No space left on device.\n"


def test_refusals_exit_with_two_as_a_program(tmp_path: Path) -> None:
    done = program("answer", "nowhere", "--json", cwd=tmp_path)
    assert done.returncode == 2
    assert json.loads(done.stdout)["faults"][0]["found"] == "no such folder"
    assert done.stderr.decode().startswith("Refused: 1 fault.")


def test_a_fault_of_the_program_is_owned(
    study: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError("by hand")

    monkeypatch.setattr("ohmsworth.wiring.load_study", broken)
    monkeypatch.delenv("OHMSWORTH_TRACE", raising=False)
    assert run(["answer", str(study)]) == 70
    assert "ZeroDivisionError: by hand" in capsys.readouterr().err
    monkeypatch.setenv("OHMSWORTH_TRACE", "1")
    with pytest.raises(ZeroDivisionError):
        run(["answer", str(study)])
