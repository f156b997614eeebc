"""Every code of a warning stands in the manual, and the manual tells of no other."""

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/warnings.md").read_text("utf-8")
MAKERS = {"Doubt", "WarningAnswer"}


def codes_in(source: str) -> set[str]:
    """Codes that a module gives to the warnings it makes."""
    return {
        node.args[0].value
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in MAKERS
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and isinstance(node.args[0].value, str)
    }


def test_the_page_and_the_code_tell_of_the_same_warnings() -> None:
    made = set()
    for file in (ROOT / "src/ohmsworth").rglob("*.py"):
        made |= codes_in(file.read_text("utf-8"))
    told = re.findall(r"^### ([A-Z_]+)$", PAGE, re.MULTILINE)
    assert len(told) == len(set(told))
    assert set(told) == made


def test_every_code_says_what_when_and_what_to_do() -> None:
    sections = re.split(r"^### ", PAGE, flags=re.MULTILINE)[1:]
    for section in sections:
        for word in ("**Means**", "**When**", "**Do**"):
            assert word in section, section.splitlines()[0]


def test_a_code_is_seen() -> None:
    assert codes_in('Doubt("NEW_ONE", "words", (), "mend")') == {"NEW_ONE"}
