"""Every page that answers to GET, in a stocked shop: nobody is shut out, nothing runs over the edge or leaves this machine."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from starlette.routing import Route
from tests.browser.conftest import SIZES, Served, start_bench, violations
from tests.browser.journeys import LARGEST, PICTURES, stock, take_pictures

from ohmsworth.web.groups import FIRST_GROUPS, PAGE_GROUPS, group_named

pytestmark = [pytest.mark.browser, pytest.mark.slow]

ROOT = Path(__file__).parents[2]
#: Size and screen together: each page is looked at in every size and on every screen, and not in all of their pairs.
LOOKS = (("desktop", "light"), ("tablet lying", "dark"), ("phone", "sunlight"))
#: What depends on the size or the colours; the rest is looked for once a page.
OF_LOOKS = ["color-contrast", "target-size", "scrollable-region-focusable", "link-in-text-block"]
#: Values for what an address holds, where it is no number of a card.
SLUGS = ("meters", "specimens", "dynamic-microphone")
#: Beginnings of addresses that hand over files, or belong to other programs.
NO_PAGES = ("/circuits/files", "/circuits/pictures", "/circuits/drawn", "/health", "/sign")
LISTEN = "document.addEventListener('securitypolicyviolation', e => (window.brokenPolicy ||= []).push(e.violatedDirective))"


@dataclass
class Stocked:
    """A bench with the demonstration's shop, and numbers of some of its cards."""

    served: Served
    cards: Mapping[str, int]


@pytest.fixture(scope="module")
def stocked(tmp_path_factory: pytest.TempPathFactory, browser: Any) -> Iterator[Stocked]:
    """Return one for all tests of this file."""
    records, cards = stock(tmp_path_factory.mktemp("stocked"))
    served = start_bench(records)
    yield Stocked(served, cards)
    served.process.terminate()
    served.process.wait(20)
    assert served.process.stdout is not None
    served.process.stdout.close()


def addresses(cards: Mapping[str, int]) -> list[str]:
    """Every address of a page, with cards of the shop in it."""
    found = ["/nowhere", "/search?q=ch+08", f"/studies/{cards['open study']}/bench?do=free"]
    found.append(f"/cables/order?cable={cards['cable']}")
    for name in (*FIRST_GROUPS, *PAGE_GROUPS):
        for route in group_named(name).routes:
            if not isinstance(route, Route) and "GET" not in getattr(route, "methods", ()):
                continue
            path = str(getattr(route, "path", ""))
            if "GET" in (getattr(route, "methods", None) or ()) and not path.startswith(NO_PAGES):
                found += _filled(path, cards)
    return list(dict.fromkeys(found))


def _filled(path: str, cards: Mapping[str, int]) -> list[str]:
    if path.startswith("/cards/{number}"):
        return [path.replace("{number}", str(cards["meter"]))]
    if path.startswith("/specimens/{number}"):
        return [path.replace("{number}", str(cards["specimen"]))]
    path = path.replace("cables/{card}", "cables/{cable}").replace("studies/{card}", "studies/{study}")
    path = path.replace("{cable}", str(cards["cable"]))
    path = path.replace("{number}", "5").replace("{study}", str(cards["open study"]))
    if "{slug}" in path:
        return [path.replace("{slug}", one) for one in SLUGS]
    return [] if "{" in path else [path]


def test_every_page_is_for_everybody(stocked: Stocked, browser: Any) -> None:
    wrong: list[str] = []
    pages: list[str] = []
    for size, screen in LOOKS:
        wide, tall = SIZES[size]
        context = browser.new_context(viewport={"width": wide, "height": tall})
        context.add_cookies([{"name": "screen", "value": screen, "url": stocked.served.address}])
        context.add_init_script(LISTEN)
        page = context.new_page()
        _listen(page, wrong)
        all_rules = not pages
        pages = pages or _that_are_pages(context, stocked)
        for path in pages:
            page.goto(stocked.served.address + path)
            if path.endswith("/bench"):
                page.wait_for_selector("#live .dots")
            told = page.evaluate("window.brokenPolicy || []")
            edge = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
            told += [f"runs over: {edge}"] if edge[0] > edge[1] else []
            told += violations(page) if all_rules else violations(page, OF_LOOKS)
            wrong += [f"{path}, {size}, {screen}: {one}" for one in told]
        context.close()
    assert len(pages) > 30
    assert wrong == [], "\n".join(wrong)


def _listen(page: Any, wrong: list[str]) -> None:
    """Note a request that leaves this machine, and an error in a script."""

    def sent(request: Any) -> None:
        if "127.0.0.1" not in request.url and not request.url.startswith(("data:", "blob:")):
            wrong.append(request.url)

    page.on("request", sent)
    page.on("pageerror", lambda error: wrong.append(str(error)))


def _that_are_pages(context: Any, stocked: Stocked) -> list[str]:
    """The addresses that answer with a whole page, and not with a part of one or a file."""
    found = []
    for path in addresses(stocked.cards):
        answer = context.request.get(stocked.served.address + path)
        assert answer.status < 500, path
        if "text/html" in answer.headers.get("content-type", "") and "attachment" not in answer.headers.get(
            "content-disposition", ""
        ):
            text = answer.text()
            if 'id="main"' in text:
                found.append(path)
    return found


def test_what_is_printed_is_what_was_asked_for(stocked: Stocked, browser: Any) -> None:
    context = browser.new_context(viewport={"width": 718, "height": 1000})
    context.add_cookies([{"name": "screen", "value": "dark", "url": stocked.served.address}])
    page = context.new_page()
    page.emulate_media(media="print")
    for turn, kept in (("answer", "text=Against the limit of 3 mΩ"), ("readings", "th:has-text('specimen')")):
        page.goto(f"{stocked.served.address}/studies/{stocked.cards['study']}/{turn}")
        assert page.is_visible(f"{kept} >> nth=0")
        assert page.is_visible("h1")
        for bar in (".top", ".turns", ".bottom"):
            assert not page.is_visible(bar), (turn, bar)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), turn
        assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
        assert page.pdf(format="A4").startswith(b"%PDF-")
    context.close()


def test_the_pictures_of_the_manual_are_of_this_run(stocked: Stocked, browser: Any) -> None:
    """They go into build/, or into the manual where OHMSWORTH_KEEP_PICTURES says so."""
    folder = ROOT / ("docs/pictures" if os.environ.get("OHMSWORTH_KEEP_PICTURES") else "build/pictures")
    taken = take_pictures(browser, stocked.served.address, stocked.cards, folder)
    assert [one.stem for one in taken] == list(PICTURES)
    for picture in taken:
        assert picture.stat().st_size < LARGEST, picture
        assert (ROOT / "docs/pictures" / picture.name).is_file(), picture
