"""What 'ohmsworth new' writes works as it is, and with any of its remarks turned into what they are examples of."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from ohmsworth.adapters.files.template import STUDY_TEMPLATE
from ohmsworth.cli.app import run

EXAMPLE = re.compile(r"# +(?=\[+[a-z_.]+\]+$|[a-z_]+ = )")
TABLES = ("check_standard", "plan", "lot")
#: What stands in place of the reference and needs columns of its own, so that it is tried by itself.
FACTORS = re.compile(r"#   (?=(?:factors|reference|scatter_by) = )")


def uncommented(text: str, table: str | None = None) -> str:
    """`text` with its commented keys and tables in force: all of them, or those of one table."""
    lines, inside = [], None
    for line in FACTORS.sub("#:", text).splitlines():
        found = re.match(r"(?:# +)?\[+([a-z_.]+)\]+$", line)
        inside = found[1] if found else inside
        lines.append(EXAMPLE.sub("", line) if table in (None, inside) else line)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("table", [None, *TABLES])
def test_its_examples_are_right(
    table: str | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "study"
    assert run(["new", str(folder)]) == 0
    study = folder / "study.toml"
    study.write_text(uncommented(study.read_text("utf-8"), table), "utf-8")
    for command, needs in (("answer", None), ("fitness", None), ("plan", "plan"), ("lot", "lot")):
        expected = 0 if needs is None or table in (None, needs) else 2
        assert run([command, str(folder)]) == expected, capsys.readouterr().err
    told = capsys.readouterr()
    assert "unknown key" not in told.err


def test_each_table_is_there_once_and_its_keys_are_taken() -> None:
    every = uncommented(STUDY_TEMPLATE)
    for table in TABLES:
        assert every.count(f"\n[{table}]\n") == 1
        assert f"\n#   [{table}]\n" in STUDY_TEMPLATE
    assert not re.search(r"(?m)^# +[a-z_]+ = ", every)


def test_its_example_of_factors_is_right(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "study"
    assert run(["new", str(folder)]) == 0
    study, readings = folder / "study.toml", folder / "readings.csv"
    text, taken = FACTORS.subn("", study.read_text("utf-8").replace('reference = "new"\n', "", 1))
    assert taken == 3
    study.write_text(text, "utf-8")
    head, *rows = readings.read_text("utf-8").splitlines()
    places = [f"{row},{contact},{'Ann' if ',1,' in row else 'Ben'}" for contact in (1, 2) for row in rows]
    readings.write_text("\n".join([f"{head},contact,operator", *places]) + "\n", "utf-8")
    capsys.readouterr()
    code = run(["answer", str(folder), "--json"])
    told = capsys.readouterr()
    assert code == 0, told.err
    assert [factor["factor"] for factor in json.loads(told.out)["factors"]] == ["condition", "contact"]
