"""One way to write data as bytes, so that the same data always have the same digest (RFC 8785, for data of texts alone)."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

from ohmsworth.errors import ArgumentFault

#: What is taken away from a certificate before its digest is made.
SEAL = ("digest", "signature")


def canonical(data: object) -> bytes:
    r"""`data` in the canonical form of RFC 8785: no blanks, keys by their UTF-16 code units, texts as JSON.stringify writes them.

    Only texts, lists and objects are taken: numbers have a rule of their own there, which is not needed here.

    Raises
    ------
    ArgumentFault
        For anything else, and for a text that is no Unicode (a lone surrogate).

    Examples
    --------
    >>> canonical({"b": "1", "a": ["Ω", 'x"']}).decode()
    '{"a":["Ω","x\\""],"b":"1"}'
    """
    try:
        return _written(data).encode("utf-8")
    except UnicodeEncodeError as error:
        raise ArgumentFault("text", "half of a character", "Unicode text") from error


def _written(data: object) -> str:
    if isinstance(data, str):
        return json.dumps(
            data, ensure_ascii=False
        )  # escapes exactly what RFC 8785, 3.2.2.2 lists, in lower case
    if isinstance(data, list | tuple):
        return f"[{','.join(map(_written, data))}]"
    if isinstance(data, Mapping):
        keys = sorted(data, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        return "{" + ",".join(f"{_written(key)}:{_written(data[key])}" for key in keys) + "}"
    raise ArgumentFault("data", data, "texts, and lists and objects of texts")


def sealed_bytes(data: Mapping[str, object]) -> bytes:
    """What the digest and the signature of a certificate are over."""
    return canonical({key: value for key, value in data.items() if key not in SEAL})


def digest_of(data: Mapping[str, object]) -> str:
    """SHA-256 of a certificate's canonical form, in hexadecimal."""
    return hashlib.sha256(sealed_bytes(data)).hexdigest()
