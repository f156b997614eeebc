"""A browser before a bench with records, in memory or in a file."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from starlette.testclient import TestClient
from tests.adapters.records_in_memory import RecordsInMemory

from ohmsworth import wiring
from ohmsworth.web.app import Serving, create_app
from ohmsworth.web.serve.start import copies_beside
from ohmsworth.work.keeping import Keeping
from ohmsworth.work.records import Records
from ohmsworth.work.shop import Shop

NOW = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)


@dataclass
class Kept:
    """The browser, the records behind the pages, and what takes them out and in."""

    client: TestClient
    records: Records
    shop: Shop
    keeping: Keeping


def _bench(records: Records, place: Path, drawn: bool = False) -> Kept:
    shop = replace(wiring.shop(records), clock=lambda: NOW)
    keeping = wiring.keeping(str(place), str(place), copies_beside(str(place)))
    typeface = wiring.typeface_folder()
    hosts = frozenset({"127.0.0.1"})
    serving = Serving(hosts, typeface, keeping=keeping)
    if drawn:
        serving = replace(serving, drawing=wiring.drawing())
    app = create_app(shop, serving)
    client = TestClient(app, base_url="http://127.0.0.1", follow_redirects=False)
    client.cookies.set("who", "Ann")
    return Kept(client, records, shop, keeping)


def in_memory(place: Path, drawn: bool = False) -> Kept:
    """Over records in memory, which cannot be copied."""
    return _bench(RecordsInMemory(), place / "shop.records", drawn)


@contextmanager
def in_file(path: Path) -> Iterator[Kept]:
    """Over records in a file."""
    with wiring.open_records(str(path)) as records:
        yield _bench(records, path)


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Files by their paths as a zip file."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, data in files.items():
            packed.writestr(name, data)
    return out.getvalue()


def unzipped(data: bytes) -> dict[str, bytes]:
    """The files in a zip file."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


def sent(*files: tuple[str, bytes]) -> list[tuple[str, tuple[str, bytes]]]:
    """Files as a form sends them."""
    return [("files", file) for file in files]
