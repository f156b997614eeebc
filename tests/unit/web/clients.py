"""The bench's pages over records in memory, asked as a browser would."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from html.parser import HTMLParser
from pathlib import Path

from starlette.testclient import TestClient
from tests.unit.work.cards.shops import new_shop

import ohmsworth
from ohmsworth.web.app import Serving, create_app
from ohmsworth.work.drawing import NO_DRAWING, Drawing
from ohmsworth.work.shop import Shop

TYPEFACE = Path(ohmsworth.__file__).parent / "adapters/render/fonts"


class Tags(HTMLParser):
    """Collects what a policy against scripts and styles inside a page would block, and tags that no page of ours has."""

    def __init__(self) -> None:
        super().__init__()
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag in ("style", "b", "iframe") or (tag == "script" and "src" not in given):
            self.wrong.append(tag)
        self.wrong += [f"{tag} {name}" for name in given if name == "style" or name.startswith("on")]
        self.wrong += [
            f"{tag} {value}" for value in given.values() if (value or "").startswith("javascript:")
        ]


@contextmanager
def browsing(shop: Shop | None = None, drawing: Drawing = NO_DRAWING) -> Iterator[tuple[TestClient, Shop]]:
    """A client of a bench over `shop`, with somebody's name on it."""
    shop = shop or new_shop()
    app = create_app(shop, Serving(frozenset({"bench.test"}), TYPEFACE, drawing=drawing))
    with TestClient(app, base_url="http://bench.test") as client:
        client.cookies.set("who", "Ada")
        yield client, shop


def page(client: TestClient, address: str, status: int = 200) -> str:
    """The text of a page, which has nothing inline in it."""
    answer = client.get(address)
    assert answer.status_code == status, (address, answer.status_code)
    return looked_at(answer.text)


def looked_at(text: str) -> str:
    """The text, which has no script or style inside and nothing that was typed as a tag."""
    tags = Tags()
    tags.feed(text)
    assert not tags.wrong
    return text


def key_of(text: str) -> str:
    """The key that the first form of a page would send."""
    found = re.search(r'name="key" value="([^"]+)"', text)
    assert found
    return found[1]
