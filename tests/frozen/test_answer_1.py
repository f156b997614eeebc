"""Studies and answers as they were written when a format was released: today's program still reads them.

`answer.json` is what the program of that day printed. Its keys are a promise and may only grow in number; its numbers
may move with better methods, except those that are plain arithmetic.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.frozen.shapes import kind, lost, shape

from ohmsworth.cli.app import run

FOLDERS = [Path(__file__).parent / "answer_1" / name for name in ("volts", "pairs")]


@pytest.fixture(params=FOLDERS, ids=lambda folder: folder.name)
def answers(request: pytest.FixtureRequest, capsys: pytest.CaptureFixture[str]) -> tuple[Any, Any]:
    """The stored answer and today's."""
    folder: Path = request.param
    assert run(["answer", str(folder), "--json"]) == 0
    return json.loads((folder / "answer.json").read_text("utf-8")), json.loads(capsys.readouterr().out)


def test_every_key_is_still_there_and_of_its_kind(answers: tuple[Any, Any]) -> None:
    assert lost(*answers) == set()


def test_plain_arithmetic_gives_the_same_numbers(answers: tuple[Any, Any]) -> None:
    stored, today = answers
    for key in ("format", "question", "scale", "coverage", "reference", "limit", "rows", "resistances"):
        assert today[key] == stored[key]
    for old, new in zip(stored["specimens"], today["specimens"], strict=True):
        assert (new["id"], new["condition"], new["readings"]) == (
            old["id"],
            old["condition"],
            old["readings"],
        )
        assert new["resistance"] == pytest.approx(old["resistance"], rel=1e-9, abs=0)


def test_a_key_lost_or_changed_is_seen() -> None:
    assert set(shape({"a": [{"b": 1}], "c": None})) == {(".a", "list"), (".a[].b", "number"), (".c", "null")}
    assert kind(True) != kind(1) != kind("1")
    assert lost({"a": 1, "b": None}, {"a": None, "b": "1", "c": 2}) == set()
    assert lost({"a": 1, "b": None}, {"a": "1"}) == {(".a", "number"), (".b", "null")}
