"""`make test` leaves no test out."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def folders(name: str) -> list[str]:
    """What the Makefile names under `name`."""
    found = re.search(rf"^{name} := (.*)$", (ROOT / "Makefile").read_text(), re.MULTILINE)
    assert found is not None
    return found[1].split()


def test_every_folder_of_tests_is_run_once() -> None:
    named = [*folders("AT_ONCE"), *folders("WAITING")]
    tests = {f"tests/{path.parent.name}" for path in (ROOT / "tests").glob("*/__init__.py")}
    tests |= {
        f"tests/{path.relative_to(ROOT / 'tests').parts[0]}" for path in (ROOT / "tests").rglob("test_*.py")
    }
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["pytest"]["ini_options"]
    assert sorted(named) == sorted(tests | (set(settings["testpaths"]) - {"tests"}))


def test_no_test_lies_beside_the_folders() -> None:
    assert not list((ROOT / "tests").glob("test_*.py"))
