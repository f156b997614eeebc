"""Who may do what: every page has a stated role, programs show tokens, and no other site can act for somebody."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.routing import APIRoute
from starlette.routing import BaseRoute, Mount
from tests.web.doors import HOST, PASSWORD, Guarded, guarded

from ohmsworth.web.door.roles import LOOKING, RULES, may, needed, rule_for


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Guarded]:
    with guarded(tmp_path) as made:
        yield made


def routes_of(app_routes: list[BaseRoute]) -> Iterator[tuple[str, str]]:
    """Method and path of every route, through routers inside routers."""
    for route in app_routes:
        if isinstance(route, Mount):
            yield "GET", route.path
        elif isinstance(route, APIRoute):
            for method in route.methods:
                yield method, route.path
        else:
            inner = getattr(route, "original_router", None) or getattr(route, "router", None)
            assert inner is not None, f"a route of an unknown kind: {route!r}"
            yield from routes_of(inner.routes)


def test_every_route_has_a_stated_role(bench: Guarded) -> None:
    walked = list(routes_of(bench.app.routes))
    assert ("POST", "/accounts/change") in walked
    assert ("GET", "/studies") in walked
    assert not [path for _, path in walked if rule_for(path) is None]


def test_every_route_asks_for_its_role(bench: Guarded) -> None:
    nobody, people = bench.browser(), {n: bench.signed_in(n) for n in ("rita", "ben", "olga")}
    roles = {"rita": "reader", "ben": "bench", "olga": "office"}
    for method, path in routes_of(bench.app.routes):
        address = path.replace("{", "").replace("}", "")
        if path in ("/sign-out", "/me") or needed(method, path) == "anybody":
            continue
        assert nobody.request(method, address).status_code in (303, 401), (method, path)
        for name, browser in people.items():
            refused = browser.request(method, address).status_code == 403
            assert refused != may(roles[name], needed(method, path)), (method, path, name)


def test_what_no_line_covers_is_for_the_office() -> None:
    assert needed("GET", "/new-page") == needed("POST", "/a") == "office"
    assert needed("GET", "//people") == needed("GET", "/studiesx") == "office"
    assert needed("GET", "/studies/12/bench") == "reader"
    assert needed("POST", "/records/restore/now") == "office"
    assert needed("POST", "/records/restored") == "bench"


def test_whoever_may_change_may_look() -> None:
    rank = ("anybody", "reader", "bench", "office")
    assert all(rank.index(rule.looking) <= rank.index(rule.changing) for rule in RULES)
    assert {"GET", "HEAD"} <= set(LOOKING)


def test_no_page_that_is_looked_at_changes_anything(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    before = bench.shop.records.card(1).lines, bench.accounts.accounts(), bench.accounts.tokens()
    for method, path in routes_of(bench.app.routes):
        if method == "GET":
            olga.get(path.replace("{", "1").replace("}", ""))
    assert before == (bench.shop.records.card(1).lines, bench.accounts.accounts(), bench.accounts.tokens())


FOREIGN = [
    {"sec-fetch-site": "cross-site"},
    {"sec-fetch-site": "same-site"},
    {"sec-fetch-site": "", "origin": f"https://{HOST}"},
    {"sec-fetch-site": "cross-site", "origin": f"https://{HOST}"},
]


@pytest.mark.parametrize("headers", FOREIGN, ids=str)
def test_another_site_cannot_act_for_somebody(headers: dict[str, str], bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    sent = {"name": "mallory", "role": "office", "password": PASSWORD, "again": PASSWORD}
    assert olga.post("/accounts", data=sent, headers=headers).status_code == 403
    assert bench.accounts.account("mallory") is None


@pytest.mark.parametrize(
    "origin",
    ["https://evil.lan", f"http://{HOST}", f"https://{HOST}:8000", f"https://{HOST}.evil.lan", "null"],
)
def test_without_the_newer_header_the_origin_counts(origin: str, bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    del olga.headers["sec-fetch-site"]
    sent = {"name": "mallory", "role": "office", "password": PASSWORD, "again": PASSWORD}
    assert olga.post("/accounts", data=sent, headers={"origin": origin}).status_code == 403
    assert bench.accounts.account("mallory") is None
    own = olga.post("/accounts", data=sent, headers={"origin": f"https://{HOST}"})
    assert own.status_code == 303


def test_another_site_cannot_sign_a_browser_in(bench: Guarded) -> None:
    sent = {"name": "rita", "password": PASSWORD}
    answer = bench.browser().post("/sign-in", data=sent, headers={"sec-fetch-site": "cross-site"})
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize(
    "host", ["evil.lan", f"{HOST}.evil.lan", f"{HOST}@evil.lan", "127.0.0.1", "[::1", "", f"evil.lan:{HOST}"]
)
def test_a_name_that_is_not_the_benchs_is_turned_away(host: str, bench: Guarded) -> None:
    answer = bench.browser().get("/sign-in", headers={"host": host})
    assert answer.status_code == 421


@pytest.mark.parametrize("method", ["TRACE", "CONNECT", "PROPFIND", "BREW"])
def test_unknown_methods_are_refused(method: str, bench: Guarded) -> None:
    assert bench.signed_in("olga").request(method, "/").status_code == 405


def test_a_program_comes_with_its_token(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    page = olga.post("/programs", data={"name": "till", "role": "reader"})
    secret = page.text.split("<code>ohmsworth_")[1].split("<")[0]
    program = bench.browser(authorization=f"Bearer ohmsworth_{secret}")
    assert program.get("/studies").status_code == 200
    assert program.post("/accounts").status_code == 403
    assert program.get("/accounts").json()["detail"].startswith("This takes the role office")
    listed = olga.get("/programs").text
    assert secret not in listed
    assert "2026-11-26" in listed
    olga.post("/programs/revoke", data={"name": "till"})
    refused = program.get("/studies")
    assert refused.status_code == 401
    assert refused.headers["www-authenticate"] == "Bearer"


@pytest.mark.parametrize("shown", ["Bearer x", "Bearer ", "Basic b2xnYTp4", "", "bearer ohmsworth_x"])
def test_a_token_that_does_not_hold_is_worth_less_than_none(shown: str, bench: Guarded) -> None:
    # The cookie beside it is not looked at: a request with this header is not asked for its origin.
    olga = bench.signed_in("olga")
    headers = {"authorization": shown, "sec-fetch-site": "cross-site"}
    assert olga.get("/studies", headers=headers).status_code == 401
    assert olga.post("/accounts", headers=headers).status_code == 401


def test_a_program_may_not_come_by_a_cookie(bench: Guarded) -> None:
    secret = bench.app.state.door.programs.make("till", "office", "the test")
    assert bench.browser(cookie=f"__Host-bench={secret}").get("/").status_code == 303


def test_an_open_bench_asks_nobody(tmp_path: Path) -> None:
    with guarded(tmp_path, accounts=False, secure=False) as bench:
        browser = bench.browser()
        assert browser.get("/accounts").status_code == 200
        assert browser.get("/sign-in").headers["location"] == "/"
        assert browser.get("/me").headers["location"] == "/who"
        browser.post("/who", data={"who": "Kim"})
        browser.post("/accounts/change", data={"name": "ben", "what": "shut"})
        assert bench.app.state.door.book.last(1)[0].by == "Kim"
        assert bench.browser(authorization="Bearer x").get("/").status_code == 401


def test_the_last_of_the_office_stays(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    for sent in ({"what": "shut"}, {"what": "role", "role": "bench"}):
        answer = olga.post("/accounts/change", data={"name": "OLGA"} | sent)
        assert answer.status_code == 422
        assert "Give somebody else the role office first" in answer.text
    assert olga.get("/accounts").status_code == 200


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", '"><img src=x>', "{{ 7*7 }}", "a&amp;b"])
def test_names_are_text_on_every_page(name: str, bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    olga.post("/accounts", data={"name": name, "role": "office", "password": PASSWORD, "again": PASSWORD})
    olga.post("/programs", data={"name": name, "role": "reader"})
    refused = bench.browser(address="192.0.2.9").post("/sign-in", data={"name": name, "password": "x"})
    other = bench.signed_in(name, "192.0.2.10")
    for page in (olga.get("/accounts"), olga.get("/programs"), refused, other.get("/"), other.get("/me")):
        assert page.status_code in (200, 403)
        assert name not in page.text or name in ("{{ 7*7 }}",)
        assert "49" not in page.text or name != "{{ 7*7 }}"


@pytest.mark.parametrize("name", ["", " ", "x" * 81, "a\x00b", "a\u202eb"])
def test_a_name_that_cannot_be_read_is_refused(name: str, bench: Guarded) -> None:
    sent = {"name": name, "role": "bench", "password": PASSWORD, "again": PASSWORD}
    assert bench.signed_in("olga").post("/accounts", data=sent).status_code == 422


def test_names_and_roles_that_do_not_exist_are_told(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    assert (
        olga.post("/accounts/change", data={"name": "x", "what": "role", "role": "bench"}).status_code == 422
    )
    assert olga.post("/accounts/change", data={"name": "ben", "what": "role", "role": "x"}).status_code == 422
    twice = {"name": "Ben", "role": "bench", "password": PASSWORD, "again": PASSWORD}
    assert "already" in olga.post("/accounts", data=twice).text
