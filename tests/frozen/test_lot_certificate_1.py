"""Certificates of lots as they were issued when their format was released: today's program still finds them whole."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.frozen.shapes import lost
from tests.lots_made import issued_lot
from tests.papers_made import results, signer, verified

FOLDER = Path(__file__).parent / "lot_certificate_1"
NAMES = ("accepted", "rejected", "corrected")
#: A promise: what was printed and sent out can be compared for ever.
DIGEST = "d8928860e5c8a31496542689a8e68af936b62d4b2974a4bf6aa168a57d0d0320"


@pytest.mark.parametrize("name", NAMES)
def test_a_stored_certificate_still_fits(name: str) -> None:
    answer = verified((FOLDER / f"{name}.json").read_bytes(), signer().public_key)
    assert answer.fits, answer.checks
    assert set(results(answer).values()) == {"holds"}


def test_the_digest_is_the_one_that_was_printed() -> None:
    assert json.loads((FOLDER / "accepted.json").read_bytes())["digest"] == DIGEST


def test_keys_only_grow_in_number() -> None:
    old = json.loads((FOLDER / "accepted.json").read_bytes())
    assert not lost(old, json.loads(issued_lot().content))
