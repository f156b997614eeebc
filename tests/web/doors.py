"""A bench with accounts, in one process: a clock that the test moves, and a hasher that counts instead of being slow."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from fastapi import FastAPI
from starlette.testclient import TestClient

from ohmsworth import wiring
from ohmsworth.adapters.records import open_store
from ohmsworth.web.app import Serving, create_app
from ohmsworth.web.serve.start import make_door
from ohmsworth.web.serve.terms import Terms
from ohmsworth.work.accounts import Accounts
from ohmsworth.work.drawing import NO_DRAWING, Drawing
from ohmsworth.work.shop import Shop

HOST = "bench.shop.lan"
PASSWORD = "four words of mine"


@dataclass
class Clock:
    now: datetime = datetime(2026, 11, 26, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def on(self, **span: float) -> None:
        self.now += timedelta(**span)


@dataclass
class CountingHasher:
    """Not a hash at all; `calls` counts what would have taken time."""

    calls: list[str] = field(default_factory=list)
    mark: str = "1"

    def hash(self, password: str) -> str:
        self.calls.append("hash")
        return f"{self.mark}:{password}"

    def matches(self, hash: str, password: str) -> bool:  # noqa: A002
        self.calls.append("matches")
        return hash.partition(":")[2] == password

    def is_old(self, hash: str) -> bool:  # noqa: A002
        return not hash.startswith(f"{self.mark}:")


@dataclass
class Guarded:
    """The application with all that a test looks at."""

    app: FastAPI
    clock: Clock
    hasher: CountingHasher
    accounts: Accounts
    shop: Shop

    def browser(self, host: str = HOST, address: str = "192.0.2.7", **headers: str) -> TestClient:
        """A new browser, which follows nothing by itself."""
        return TestClient(
            self.app,
            base_url=f"https://{host}",
            headers={"sec-fetch-site": "same-origin"} | headers,
            client=(address, 50000),
            follow_redirects=False,
        )

    def signed_in(self, name: str, address: str = "192.0.2.7") -> TestClient:
        browser = self.browser(address=address)
        answer = browser.post("/sign-in", data={"name": name, "password": PASSWORD})
        assert answer.status_code == 303, answer.text
        return browser


@contextmanager
def guarded(
    folder: Path, *, accounts: bool = True, secure: bool = True, drawing: Drawing = NO_DRAWING
) -> Iterator[Guarded]:
    """A bench on which "olga" is of the office, "ben" at the bench and "rita" a reader."""
    clock, hasher, keys = Clock(), CountingHasher(), count()
    terms = Terms(
        "192.0.2.1", frozenset({HOST}), HOST, proxy="https://x" if secure else "", accounts=accounts
    )
    with open_store(str(folder / "shop.records"), clock=clock) as store:
        shop = replace(wiring.shop(store.records), clock=clock, new_key=lambda: f"key-{next(keys)}")
        door = make_door(shop, store.accounts, hasher, terms)
        for name, role in (("olga", "office"), ("ben", "bench"), ("rita", "reader")):
            door.people.add(name, PASSWORD, PASSWORD, role, "the test")
        hasher.calls.clear()
        serving = Serving(frozenset({HOST}), wiring.typeface_folder(), door=replace(door), drawing=drawing)
        yield Guarded(create_app(shop, serving), clock, hasher, store.accounts, shop)
