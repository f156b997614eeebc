"""A certificate from its file: JSON, or a page that carries it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from ohmsworth.adapters.papers.inside import LARGEST, data_of_html, data_of_pdf
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.papers.ports import Form, FoundPaper
from ohmsworth.work.papers.records import certificate_of

_MEND = "Take the file as 'ohmsworth certify' wrote it."
_EXPECTED = "a certificate: its .json file, or its page as .html or .pdf"
#: Objects within objects of a certificate are three deep.
_DEEPEST = 20


class _Refused(ValueError):
    """What a certificate cannot hold."""


def read_paper_file(name: str, content: bytes) -> FoundPaper:
    """The certificate in a file of this `name`; what kind of file it is shows in its `content`.

    Raises
    ------
    InputRefused
        When it is none.
    """
    where = shorten(name, 120)[1:-1]
    if len(content) > LARGEST:
        raise InputRefused((Fault(where, f"a file of more than {LARGEST // 1024**2} MB", _EXPECTED, _MEND),))
    form, text = _text(content, where)
    data = _parsed(text, where)
    return FoundPaper(data, certificate_of(data, where), form, content)


def _text(content: bytes, where: str) -> tuple[Form, str]:
    if content.startswith(b"%PDF-"):
        return "pdf", data_of_pdf(content, where)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise InputRefused((Fault(where, "bytes that are no text", _EXPECTED, _MEND),)) from error
    if text.lstrip().startswith("<"):
        return "html", data_of_html(text, where)
    return "json", text


def _parsed(text: str, where: str) -> Mapping[str, object]:
    """An object of texts, lists and objects, no key of which stands twice: two programs could read two things."""
    try:
        data = json.loads(text, object_pairs_hook=_each_once, parse_int=_no_number, parse_float=_no_number)
        _check(data, 0)
    except _Refused as error:
        raise InputRefused(
            (Fault(where, str(error), "texts, lists and objects, each key once", _MEND),)
        ) from error
    except (ValueError, RecursionError) as error:
        raise InputRefused((Fault(where, "text that is not JSON", _EXPECTED, _MEND),)) from error
    if not isinstance(data, dict):
        raise InputRefused((Fault(where, "JSON that is no object", _EXPECTED, _MEND),))
    return data


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for key, value in pairs:
        if key in made:
            raise _Refused(f"the key {shorten(key)} twice")
        made[key] = value
    return made


def _no_number(text: str) -> str:
    raise _Refused(f"{shorten(text)} without quotation marks")


def _check(data: object, deep: int) -> None:
    if deep > _DEEPEST:
        raise _Refused("objects within objects without end")
    if isinstance(data, dict):
        for key, value in data.items():
            _check(key, deep)
            _check(value, deep + 1)
    elif isinstance(data, list):
        for value in data:
            _check(value, deep + 1)
    elif not isinstance(data, str):
        raise _Refused(f"{json.dumps(data)} without quotation marks")
    elif any("\ud800" <= letter <= "\udfff" for letter in data):
        raise _Refused("half of a character")
