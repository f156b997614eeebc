"""The vendored typeface as it travels inside a page or a picture."""

from __future__ import annotations

import base64
from functools import lru_cache

from ohmsworth.adapters.render.palette import FONT_FOLDER


def data_link(kind: str, content: bytes) -> str:
    """`content` as an address that holds it whole."""
    return f"data:{kind};base64,{base64.b64encode(content).decode()}"


@lru_cache(maxsize=1)
def faces() -> dict[int, str]:
    """The vendored face for each weight, as an address that holds it."""
    names = {400: "Inter-Regular-latin.woff2", 700: "Inter-Bold-latin.woff2"}
    return {
        weight: data_link("font/woff2", (FONT_FOLDER / name).read_bytes()) for weight, name in names.items()
    }
