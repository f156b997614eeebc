"""What `ohmsworth known` prints, as data that its schema allows."""

from __future__ import annotations

import json
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest

from ohmsworth.cli.app import run

Captured = pytest.CaptureFixture[str]


def answer(capsys: Captured, schema: Any, *arguments: object) -> dict[str, Any]:
    """The answer."""
    code = run(["known", *map(str, arguments), "--json"])
    out, err = capsys.readouterr()
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(schema).validate(found)
    return found


def refusal(capsys: Captured, *arguments: object) -> str:
    """Every fault of a refusal."""
    assert run(["known", *map(str, arguments), "--json"]) == 2
    out, _ = capsys.readouterr()
    return "\n".join(f"{f['where']}: {f['found']} / {f['mend']}" for f in json.loads(out)["faults"])
