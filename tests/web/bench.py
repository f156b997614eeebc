"""A bench to be asked for pages, without a server: empty records unless others are given."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from typing import Any, cast

from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.records import Records

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)


class EmptyRecords:
    """Records in which nothing is kept, for pages that do not need them."""

    def cards(self, *_: Any, **__: Any) -> tuple[()]:
        return ()

    def count(self, *_: Any, **__: Any) -> int:
        return 0

    def settings(self) -> dict[str, str]:
        return {}


def bench(draws: bool = True) -> TestClient:
    """A browser before a bench; one that does not draw leaves the reports out of its pages, for the sake of speed."""
    drawing = wiring.drawing()
    if not draws:
        drawing = replace(drawing, fragment=lambda *_, **__: "")
    shop = replace(wiring.shop(cast(Records, EmptyRecords())), clock=lambda: NOW, new_key=lambda: "key")
    serving = Serving(frozenset({"127.0.0.1"}), wiring.typeface_folder(), drawing=drawing)
    return TestClient(create_app(shop, serving), base_url="http://127.0.0.1", follow_redirects=False)
