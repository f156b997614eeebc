"""No word of the mains feed gives leave to anything."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from ohmsworth.consequence import make_use, thresholds
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.errors import ArgumentFault
from ohmsworth.sources import SOURCES

ROOT = Path(__file__).parents[4]
USES = ROOT / "src/ohmsworth/consequence/uses"
PERMISSIVE = re.compile(
    r"\b(?:un)?(?:safe(?:ly|r|st|ty)?|fine|acceptabl[ey]|accepted|ok(?:ay)?|good|allow(?:s|ed|able)?|permit(?:s|ted)?|permissible"
    r"|harmless|enough|sufficient(?:ly)?|adequate(?:ly)?|approv\w+|compl(?:y|ies|iant|iance)|(?:may|can) be (?:used|touched|left)"
    r"|no (?:danger|risk|hazard|problem)|within (?:the )?limits?|reliabl[ey]|tolerabl[ey]|pass(?:es)?|ready for use|still)\b"
    r"|(?<!no )permission",
    re.IGNORECASE,
)
#: Settings that show every sentence: each plating, both mains.
VALUES: list[dict[str, float | str]] = [
    {},
    {"voltage": 120.0, "mains_frequency": 60.0, "plating": "tin"},
    {"length": 200.0, "plating": "gold"},
    {"external_impedance": 1e3},
]


def told(values: dict[str, float | str]) -> Iterator[str]:
    """All that a person may be shown of the use."""
    use, kind = make_use("mains feed", values=values), kind_of("mains feed")
    yield from kind.cautions
    yield kind.kind
    for setting in kind.settings:
        yield from (setting.key, setting.words, *setting.choices)
        yield SOURCES[setting.source].citation
    for rule in kind.rules(use):
        yield from (rule.key, rule.words, rule.passing, rule.reason, rule.position.words)
        yield SOURCES[rule.source].citation
    for threshold in thresholds(use):
        yield from (threshold.words, threshold.position, threshold.reason, threshold.note)


def written(file: Path) -> Iterator[str]:
    """Every text in a module, docstrings too."""
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.value


def permissive(texts: Iterator[str]) -> list[str]:
    return [text for text in texts if PERMISSIVE.search(" ".join(text.split()))]


@pytest.mark.parametrize("values", VALUES)
def test_nothing_that_is_shown_gives_leave(values: dict[str, float | str]) -> None:
    assert len(list(told(values))) > 100
    assert not permissive(told(values))


@pytest.mark.parametrize("file", sorted(USES.glob("mains_*.py")), ids=lambda file: file.name)
def test_nothing_that_is_written_gives_leave(file: Path) -> None:
    assert not permissive(written(file))


def test_the_page_gives_no_leave() -> None:
    page = (ROOT / "docs/uses/mains_feed.md").read_text("utf-8")
    assert "licensed electrician" in page
    assert not permissive(iter(page.split("\n\n")))


def test_a_refusal_gives_no_leave() -> None:
    with pytest.raises(ArgumentFault) as refused:
        make_use("mains feed", values={"conductor": "1.5 mm²", "length": 900.0})
    assert not permissive(iter([str(refused.value)]))


@pytest.mark.parametrize(
    "sentence",
    [
        "This is safe to use.",
        "the contact is fine",
        "an acceptable drop",
        "the lead passes",
        "It may be used again.",
        "there is no danger",
        "OK",
        "you have permission",
        "good enough",
        "a contact within limits",
    ],
)
def test_a_sentence_that_gives_leave_is_seen(sentence: str) -> None:
    assert permissive(iter([sentence]))


def test_a_sentence_that_gives_none_is_let_be() -> None:
    assert not permissive(iter(["This tool gives no permission to work on mains wiring."]))
