"""Certificates as they were issued when their format was released: today's program still finds them whole and follows them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.frozen.shapes import lost
from tests.papers_made import CABLE, RIGHT, issued, results, signer, verified

FOLDER = Path(__file__).parent / "certificate_1"
NAMES = ("right", "wrong", "corrected")
#: A promise: what was printed and sent out can be compared for ever.
DIGEST = "8ba5e915a0d1d20c5f1e449a0ad716054e7cfe0ded4fe08bbe17b5c87f4f59c2"


@pytest.mark.parametrize("name", NAMES)
def test_a_stored_certificate_still_fits(name: str) -> None:
    content = (FOLDER / f"{name}.json").read_bytes()
    answer = verified(content, signer().public_key)
    assert answer.fits, answer.checks
    assert set(results(answer).values()) == {"holds"}


def test_the_digest_is_the_one_that_was_printed() -> None:
    assert json.loads((FOLDER / "right.json").read_bytes())["digest"] == DIGEST


def test_keys_only_grow_in_number() -> None:
    old = json.loads((FOLDER / "right.json").read_bytes())
    assert not lost(old, json.loads(issued(CABLE, RIGHT).content))
