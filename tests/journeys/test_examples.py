"""The examples run, and the manual shows what they print."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("[0-9][0-9]_*.py"))


def run(example: Path, folder: Path) -> str:
    ran = subprocess.run(
        [sys.executable, str(example)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=folder,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", "PYTHONPATH": str(ROOT / "src")},
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stderr == ""
    return ran.stdout


@pytest.mark.parametrize("example", EXAMPLES, ids=[e.stem for e in EXAMPLES])
def test_an_example_prints_what_stands_beside_it(example: Path, tmp_path: Path) -> None:
    # After a change on purpose: python examples/NN_name.py > examples/NN_name.txt, and a line in the changelog.
    assert run(example, tmp_path) == example.with_suffix(".txt").read_text("utf-8")
    assert not list(tmp_path.iterdir())  # an example leaves nothing behind


def test_the_examples_are_numbered_and_all_shown() -> None:
    assert [e.name[:2] for e in EXAMPLES] == [f"{n:02d}" for n in range(1, len(EXAMPLES) + 1)]
    page = (ROOT / "docs/examples.md").read_text("utf-8")
    for example in EXAMPLES:
        assert f"<!-- from the program: example {example.stem} -->" in page
        assert example.read_text("utf-8").rstrip() in page
        assert example.with_suffix(".txt").read_text("utf-8").rstrip() in page
