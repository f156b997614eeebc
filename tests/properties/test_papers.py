"""Whatever is changed in a certificate, its verification finds it."""

from __future__ import annotations

import base64
import copy
import json
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers_made import MADE, as_file, issued, results, signer, verified

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.report.papers.certificate_pages import certificate_document
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.issue import file_text

Path = tuple[str | int, ...]
PAPER = issued()
DATA: dict[str, Any] = json.loads(PAPER.content)
SHOP = signer().public_key


def leaves(data: Any, path: Path = ()) -> Iterator[Path]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield from leaves(value, (*path, key))
    elif isinstance(data, list):
        for k, value in enumerate(data):
            yield from leaves(value, (*path, k))
    else:
        yield path


LEAVES = list(leaves(DATA))


def changed(path: Path, change: Any) -> dict[str, Any]:
    """The data with the text at `path` put through `change`."""
    data = copy.deepcopy(DATA)
    *way, last = path
    place: Any = data
    for step in way:
        place = place[step]
    place[last] = change(place[last])
    return data


def is_found(content: bytes) -> bool:
    """Refused, or told not to fit."""
    try:
        return not verified(content).fits
    except InputRefused:
        return True


def other_digit(text: str) -> str:
    """The text with its last letter or digit another one; a digit by five, more than another computer may differ by."""
    for k in range(len(text) - 1, -1, -1):
        if text[k].isalnum():
            new = str((int(text[k]) + 5) % 10) if text[k].isdecimal() else "q"
            return text[:k] + new + text[k + 1 :]
    return text + "x"


def test_unchanged_it_fits() -> None:
    assert verified(PAPER.content, SHOP).fits
    assert len(LEAVES) > 60
    assert {path[-1] for path in LEAVES} >= {
        "resistance",
        "low",
        "verdict",
        "tested_by",
        "issued",
        "digest",
        "value",
    }


@pytest.mark.parametrize("path", LEAVES, ids=lambda path: ".".join(map(str, path)))
def test_another_letter_in_any_value_is_found(path: Path) -> None:
    data = changed(path, other_digit)
    assert data != DATA
    assert is_found(as_file(data))


@given(
    st.sampled_from(LEAVES),
    st.text(st.characters(exclude_categories=["Cs"]), max_size=8),
    st.integers(0, 2000),
)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_any_text_put_into_any_value_is_found(path: Path, text: str, at: int) -> None:
    data = changed(path, lambda old: old[:at] + text + old[at + len(text) :])
    if data != DATA:
        assert is_found(as_file(data))


@pytest.mark.parametrize("path", LEAVES, ids=lambda path: ".".join(map(str, path)))
def test_a_new_digest_does_not_hide_it(path: Path) -> None:
    """Who changes a value and makes the digest anew has no key to sign with."""
    data = changed(path, other_digit)
    if path != ("digest",):
        data["digest"] = digest_of(data)
        assert is_found(as_file(data))


FOLLOWING = [path for path in LEAVES if path[0] in ("kind", "number", "tested", "tested_by", "customer", "shop", "address",
             "cable", "meter", "results")]  # fmt: skip


@pytest.mark.parametrize("path", FOLLOWING, ids=lambda path: ".".join(map(str, path)))
def test_neither_does_a_signature_with_another_key(path: Path) -> None:
    """What follows from the readings is computed anew; and the key is another one than the shop's."""
    data = changed(path, other_digit)
    data["digest"] = digest_of(data)
    thief = signer(2)
    data["signature"]["public_key"] = base64.b64encode(thief.public_key).decode()
    data["signature"]["value"] = base64.b64encode(thief.sign(sealed_bytes(data))).decode()
    answer = verified(as_file(data))
    assert results(answer)["whole"] == results(answer)["signature"] == "holds"
    assert results(answer)["results"] == "fails"
    assert results(verified(as_file(data), SHOP))["signature"] == "fails"


@pytest.mark.parametrize("key", DATA)
def test_a_key_that_is_gone_is_found(key: str) -> None:
    assert is_found(as_file({name: value for name, value in DATA.items() if name != key}))


def test_a_key_too_many_is_found() -> None:
    assert is_found(as_file({**DATA, "remark": "as good as new"}))
    twice = PAPER.content.replace(b'"verdict": "right"', b'"verdict": "wrong", "verdict": "right"')
    assert twice != PAPER.content
    assert is_found(twice)


def test_order_and_blanks_mean_nothing() -> None:
    turned = dict(reversed(list(DATA.items())))
    assert verified(json.dumps(turned, indent=4).encode(), SHOP).fits


def page(form: Any) -> bytes:
    return wiring.draw_page(form, certificate_document(PAPER.certificate), file_text(PAPER.data), MADE)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("The Hall", "The Barn"),
        ("790.0 ± ", "780.0 ± "),
        ("2026-03-02", "2026-03-01"),
        ("</main>", "<p>Checked twice.</p></main>"),
        ("</style>", "footer{display:none}</style>"),
    ],
)
def test_what_a_web_page_shows_is_held_against_its_data(old: str, new: str) -> None:
    content = page("html").decode().replace("\u00a0", " ") if "±" in old else page("html").decode()
    assert old in content
    assert results(verified(page("html")))["page"] == "holds"
    answer = verified(content.replace(old, new, 1).encode())
    assert not answer.fits
    assert results(answer)["whole"] == "holds"
    assert results(answer)["page"] == "fails"


@given(st.integers(0), st.integers(1, 255))
@settings(max_examples=25, deadline=None, derandomize=True)
def test_any_byte_of_a_pdf_is_held_against_its_data(at: int, by: int) -> None:
    content = bytearray(page("pdf"))
    content[at % len(content)] ^= by
    assert is_found(bytes(content))
