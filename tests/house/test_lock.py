"""The lock files pin every package by its content, and say nothing of where it was fetched."""

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LOCKS = ["requirements.txt", "requirements-dev.txt"]
REQUIREMENT = re.compile(
    r"([a-z0-9][a-z0-9._-]*)(?:\[[a-z,]+\])?==([^ ;]+)(?: ; .+?)?((?: --hash=sha256:[0-9a-f]{64})*)"
)


def lock(name: str) -> dict[str, tuple[str, int]]:
    """Return a lock's packages: name to version and number of hashes."""
    text = (ROOT / name).read_text(encoding="utf-8")
    lines = [re.sub(r"\s+", " ", line) for line in text.replace("\\\n", " ").splitlines() if line.strip()]
    packages = {}
    for line in lines:
        parts = REQUIREMENT.fullmatch(line.strip())
        assert parts is not None, f"{name}: not a pinned requirement: {line[:80]}"
        packages[parts[1]] = (parts[2], parts[3].count("--hash"))
    return packages


def normal(requirement: str) -> str:
    """Return the name in a requirement, spelled as lock files spell it."""
    return re.sub(r"[-_.]+", "-", re.split(r"[\s=<>!~;\[]", requirement, maxsplit=1)[0]).lower()


@pytest.mark.parametrize("name", LOCKS)
def test_every_requirement_has_its_hashes(name: str) -> None:
    packages = lock(name)
    assert packages
    assert not [package for package, (_, hashes) in packages.items() if not hashes]


@pytest.mark.parametrize("name", LOCKS)
def test_no_address_stands_in_a_lock(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert not re.search(
        r"://|^\s*(?:-i|-f|--(?:extra-)?index|--find-links|--trusted-host)", text, re.MULTILINE
    )


def test_the_development_lock_holds_the_run_time_lock() -> None:
    assert lock("requirements.txt").items() <= lock("requirements-dev.txt").items()


def test_what_the_project_asks_for_is_locked() -> None:
    run, dev = lock("requirements.txt"), lock("requirements-dev.txt")
    groups = PROJECT["dependency-groups"]
    asked = [*PROJECT["project"]["dependencies"], *groups["build"]]
    assert {normal(name) for name in asked} <= run.keys()
    asked = [name for group in groups.values() for name in group if isinstance(name, str)]
    assert {normal(name) for name in asked} <= dev.keys()
