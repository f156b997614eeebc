"""A public argument name of the computing stages is a term of the glossary, or one of its plain words."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
STAGES = ("materials", "readings", "resistance", "inference", "consequence")
PAGE = (ROOT / "docs/glossary.md").read_text("utf-8")


def known_words(page: str) -> set[str]:
    """Names in the first cell of the tables, and the plain words."""
    rows = [line for line in page.splitlines() if line.startswith("| ")]
    terms = {term.strip() for row in rows for term in row.split("|")[1].split(",")}
    plain = re.search(r"no more: (.*?)\.\n", page, re.DOTALL)
    assert plain
    return terms | {word.strip() for word in plain[1].split(",")}


def arguments(source: str) -> dict[str, str]:
    """Argument names of the public functions of a module, each with the function."""
    found = {}
    for node in ast.parse(source).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            listed = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
            found |= {argument.arg: node.name for argument in listed}
    return found


@pytest.mark.parametrize("stage", STAGES)
def test_every_argument_has_its_word(stage: str) -> None:
    unknown = {}
    for file in sorted((ROOT / "src/ohmsworth" / stage).rglob("*.py")):
        for name, function in arguments(file.read_text("utf-8")).items():
            if name not in known_words(PAGE):
                unknown[name] = f"{file.name}: {function}"
    assert not unknown, "put these into docs/glossary.md, or use the word that stands there"


def test_no_word_stands_twice() -> None:
    rows = [line for line in PAGE.splitlines() if line.startswith("| ")]
    terms = [term.strip() for row in rows for term in row.split("|")[1].split(",")]
    terms = [term for term in terms if term not in ("name", "")]
    assert sorted(terms) == sorted(set(terms))


def test_a_name_without_a_word_is_seen() -> None:
    assert arguments("def f(voltage, *, foo): ...") == {"voltage": "f", "foo": "f"}
    assert "foo" not in known_words(PAGE)
    assert "freedoms" in known_words(PAGE)
