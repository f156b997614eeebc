"""The project speaks of itself alone."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

# In pieces, so that this file passes its own test. A folder is meant only at the root of the file system.
WORDS = [
    "trans" + "cript",
    "seed doc" + "ument",
    "hel" + "per session",
    "sub" + "agent",
    "language " + "model",
    r"(?<![\w.)}\]-])/wo" + "rk/",
    r"(?<![\w.)}\]-])/fa" + "rm/",
    r"(?<![\w.)}\]-])/opt/(?:py" + "pi|wheels)",
    "index" + "-url",
    "python" + "hosted",
    r"py" + r"pi\.org",
]
PATTERN = re.compile("|".join(WORDS), re.IGNORECASE)


def git(*arguments: str) -> str:
    """Return what git prints, or skip where there is no repository."""
    if not (ROOT / ".git").exists() or shutil.which("git") is None:
        pytest.skip("not a git checkout")
    return subprocess.run(
        ["git", "-C", str(ROOT), *arguments], capture_output=True, text=True, encoding="utf-8", check=True
    ).stdout


def test_no_file_speaks_of_anything_but_the_project() -> None:
    found = []
    for name in git("ls-files", "-z", "--cached", "--others", "--exclude-standard").split("\0"):
        file = ROOT / name
        if not name or not file.is_file():
            continue
        content = file.read_bytes()
        if b"\0" in content:
            continue
        lines = [name, *content.decode("utf-8", errors="replace").splitlines()]
        found += [
            f"{name}:{number}: {line.strip()}" for number, line in enumerate(lines) if PATTERN.search(line)
        ]
    assert not found


def test_no_commit_message_does_either() -> None:
    assert not [line for line in git("log", "--format=%B").splitlines() if PATTERN.search(line)]


@pytest.mark.parametrize("line", ["see /wo" + "rk/notes", "the Tran" + "script", "--extra-index" + "-url x"])
def test_a_word_is_seen(line: str) -> None:
    assert PATTERN.search(line)


def test_the_package_of_use_cases_may_be_named() -> None:
    assert not PATTERN.search("src/ohmsworth/work/ports.py")
