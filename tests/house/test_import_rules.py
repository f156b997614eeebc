"""The import rules hold, and each of them bites when it is broken."""

import graphlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import grimp
import pytest

ROOT = Path(__file__).parents[2]
LINT = "from importlinter.cli import lint_imports_command as lint; lint()"

LAYERS = "every package has a layer"
PLANTED = [
    ("inference/planted.py", "import ohmsworth.report", LAYERS),
    ("errors.py", "from ohmsworth import units", LAYERS),
    ("units.py", "from ohmsworth import sources", LAYERS),
    ("work/planted.py", "from ohmsworth import wiring", LAYERS),
    ("unlisted/__init__.py", "", LAYERS),
    ("cli/planted.py", "from ohmsworth.adapters import planted", "Only wiring imports adapters"),
    (
        "adapters/files/planted.py",
        "from ohmsworth.adapters import render",
        "Adapters do not know one another",
    ),
    ("report/planted.py", "from ohmsworth.report import planting", "No cycles between siblings"),
    ("consequence/planted.py", "import pathlib", "The core reads no file"),
    ("units.py", "from time import time", "The core reads no file"),
    ("inference/planted.py", "import GTC", "Only resistance computes with uncertain numbers"),
]
# What the planted lines import has to be there to be imported.
FURNISHINGS = {"adapters/planted.py": "", "report/planting.py": "from ohmsworth.report import planted"}


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """Return a copy of the package's Python files that may be spoiled."""
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    for file in (ROOT / "src").rglob("*.py"):
        target = tmp_path / file.relative_to(ROOT)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(file, target)
    return tmp_path


def lint(root: Path) -> subprocess.CompletedProcess[str]:
    """Run the import linter on the copy, which shadows the installed package."""
    return subprocess.run(
        [sys.executable, "-c", LINT, "--no-logo", "--no-cache"],
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(root / "src"), "COLUMNS": "200"},
        capture_output=True,
        text=True,
        check=False,
    )


def write(root: Path, name: str, line: str) -> None:
    """Add a line to a module of the copy, which may be new."""
    file = root / "src/ohmsworth" / name
    file.parent.mkdir(exist_ok=True)
    (file.parent / "__init__.py").touch()
    with file.open("a", encoding="utf-8") as module:
        module.write(f"\n{line}\n")


def test_the_tree_as_it_stands_keeps_every_rule(copy: Path) -> None:
    ran = lint(copy)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "0 broken" in ran.stdout


@pytest.mark.parametrize(("name", "line", "contract"), PLANTED, ids=[f"{p[0]}: {p[1]}" for p in PLANTED])
def test_a_planted_violation_is_named(copy: Path, name: str, line: str, contract: str) -> None:
    for furnishing, content in FURNISHINGS.items():
        write(copy, furnishing, content)
    write(copy, name, line)
    ran = lint(copy)
    assert ran.returncode == 1, ran.stdout + ran.stderr
    broken = [row for row in ran.stdout.splitlines() if row.endswith("BROKEN")]
    assert any(contract in row for row in broken), ran.stdout + ran.stderr


def test_no_module_imports_itself_round_a_corner() -> None:
    # Siblings are the linter's; this one also sees a module and the package that gathers it.
    graph = grimp.build_graph("ohmsworth", cache_dir=None)
    edges = {module: graph.find_modules_directly_imported_by(module) for module in graph.modules}
    graphlib.TopologicalSorter(edges).prepare()
