"""Signing in: tokens, cookies, expiry, waits, and what a stranger can find out or spoil."""

from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest
from tests.web.doors import HOST, PASSWORD, Guarded, guarded

from ohmsworth.web.door.sign_in_pages import own_page
from ohmsworth.work import sign_in
from ohmsworth.work.sign_in import network_of

COOKIE = "__Host-bench"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Guarded]:
    with guarded(tmp_path) as made:
        yield made


def test_nobody_looks_without_a_sign_in(bench: Guarded) -> None:
    answer = bench.browser().get("/studies?search=x y")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/sign-in?next=/studies%3Fsearch%3Dx%2520y"
    assert bench.browser().post("/who", data={"who": "x"}).status_code == 401
    page = bench.browser().get("/sign-in")
    assert page.status_code == 200
    assert "/settings" not in page.text  # no places for whoever is outside


def test_a_sign_in_leads_back_to_the_page(bench: Guarded) -> None:
    browser = bench.browser()
    answer = browser.post(
        "/sign-in", data={"name": "Olga", "password": PASSWORD, "next": "/studies?search=x"}
    )
    assert answer.headers["location"] == "/studies?search=x"
    page = browser.get("/")
    assert page.status_code == 200
    assert re.search(r'href="/me".*olga', page.text)


@pytest.mark.parametrize("address", ["//evil.lan", "https://evil.lan", "/\\evil.lan", "", "/a\r\nb", "evil"])
def test_no_sign_in_leads_away(address: str) -> None:
    assert own_page(address) == "/"


def test_the_cookie_is_kept_from_scripts_other_sites_and_plain_http(bench: Guarded) -> None:
    answer = bench.browser().post("/sign-in", data={"name": "olga", "password": PASSWORD})
    name, _, rest = answer.headers["set-cookie"].partition("=")
    assert name == COOKIE
    told = {part.strip().lower() for part in rest.split(";")[1:]}
    assert {"httponly", "secure", "samesite=strict", "path=/"} <= told
    assert not any(part.startswith("domain") for part in told)


def test_without_tls_the_cookie_is_plain(tmp_path: Path) -> None:
    with guarded(tmp_path, secure=False) as bench:
        answer = bench.browser().post("/sign-in", data={"name": "olga", "password": PASSWORD})
        assert answer.headers["set-cookie"].startswith("bench=")
        assert "secure" not in answer.headers["set-cookie"].lower()


def test_only_a_hash_of_the_token_is_kept(bench: Guarded) -> None:
    browser = bench.signed_in("olga")
    token = browser.cookies[COOKIE]
    assert len(token) >= 43  # 32 bytes
    assert bench.accounts.find_sign_in(token) is None
    assert bench.accounts.find_sign_in(sha256(token.encode()).hexdigest()) is not None


def test_a_token_that_was_planted_is_not_taken_up(bench: Guarded) -> None:
    browser = bench.browser()
    browser.cookies.set(COOKIE, "planted", domain=HOST)
    answer = browser.post("/sign-in", data={"name": "olga", "password": PASSWORD})
    assert "planted" not in answer.headers["set-cookie"]
    assert bench.browser(cookie=f"{COOKIE}=planted").get("/").status_code == 303


def test_a_new_sign_in_closes_the_browsers_former_one(bench: Guarded) -> None:
    browser = bench.signed_in("olga")
    former = browser.cookies[COOKIE]
    browser.post("/sign-in", data={"name": "olga", "password": PASSWORD})
    assert browser.cookies[COOKIE] != former
    assert bench.browser(cookie=f"{COOKIE}={former}").get("/").status_code == 303


def test_a_stolen_token_holds_no_longer_than_the_sign_in(bench: Guarded) -> None:
    browser = bench.signed_in("ben")
    thief = bench.browser(cookie=f"{COOKIE}={browser.cookies[COOKIE]}", address="192.0.2.66")
    assert thief.get("/").status_code == 200
    answer = browser.post("/sign-out")
    assert answer.headers["location"] == "/sign-in"
    assert 'bench=""' in answer.headers["set-cookie"]
    assert thief.get("/").status_code == 303


def test_an_idle_sign_in_ends(bench: Guarded) -> None:
    browser = bench.signed_in("ben")
    bench.clock.on(seconds=sign_in.IDLE.total_seconds() - 1)
    assert browser.get("/").status_code == 200
    bench.clock.on(seconds=sign_in.IDLE.total_seconds() - 1)
    assert browser.get("/").status_code == 200
    bench.clock.on(seconds=sign_in.IDLE.total_seconds())
    assert browser.get("/").status_code == 303


def test_a_sign_in_in_use_ends_too(bench: Guarded) -> None:
    browser = bench.signed_in("ben")
    hours = round(sign_in.ABSOLUTE.total_seconds() / 3600)
    for hour in range(0, hours, 8):
        assert browser.get("/").status_code == 200, hour
        bench.clock.on(hours=8)
    assert browser.get("/").status_code == 303


def test_a_new_password_ends_every_sign_in(bench: Guarded) -> None:
    one, other, office = bench.signed_in("ben"), bench.signed_in("ben"), bench.signed_in("olga")
    new = "another four words"
    sent = {"old": PASSWORD, "password": new, "again": new}
    assert one.post("/me", data=sent | {"old": "wrong, wrong, wrong"}).status_code == 422
    assert other.get("/").status_code == 200
    assert one.post("/me", data=sent).status_code == 303
    assert one.get("/").status_code == other.get("/").status_code == 303
    assert office.get("/").status_code == 200
    assert bench.browser().post("/sign-in", data={"name": "ben", "password": PASSWORD}).status_code == 403
    assert bench.browser().post("/sign-in", data={"name": "ben", "password": new}).status_code == 303


def test_a_shut_account_is_out_at_once(bench: Guarded) -> None:
    ben, olga = bench.signed_in("ben"), bench.signed_in("olga")
    olga.post("/accounts/change", data={"name": "ben", "what": "shut"})
    assert ben.get("/").status_code == 303
    refused = bench.browser().post("/sign-in", data={"name": "ben", "password": PASSWORD})
    assert refused.status_code == 403
    olga.post("/accounts/change", data={"name": "ben", "what": "open"})
    assert bench.signed_in("ben").get("/").status_code == 200
    assert ben.get("/").status_code == 303


def test_a_new_role_holds_at_once(bench: Guarded) -> None:
    ben, olga = bench.signed_in("ben"), bench.signed_in("olga")
    assert ben.get("/accounts").status_code == 403
    olga.post("/accounts/change", data={"name": "ben", "what": "role", "role": "office"})
    assert ben.get("/accounts").status_code == 200


def words(text: str, name: str) -> str:
    return re.sub(r"\s+", " ", text.replace(name, "NAME"))


@pytest.mark.parametrize("name", ["nobody", "BEN", "shut", ""])
def test_an_unknown_name_reads_and_takes_as_long_as_a_wrong_password(name: str, bench: Guarded) -> None:
    bench.accounts.add_account("shut", f"1:{PASSWORD}", "bench")
    bench.accounts.disable("shut")
    browser, bench.hasher.calls[:] = bench.browser(), []
    wrong = browser.post("/sign-in", data={"name": "olga", "password": "wrong"})
    calls, bench.hasher.calls[:] = list(bench.hasher.calls), []
    typed = PASSWORD if name == "shut" else "wrong"
    other = bench.browser(address="192.0.2.8").post("/sign-in", data={"name": name, "password": typed})
    assert calls == bench.hasher.calls == ["matches"]
    assert wrong.status_code == other.status_code == 403
    assert words(wrong.text, 'value="olga"') == words(other.text, f'value="{name}"')


def test_waits_grow_by_address_and_end(bench: Guarded) -> None:
    stranger, waits = bench.browser(address="192.0.2.66"), []
    for number in range(12):
        answer = stranger.post("/sign-in", data={"name": f"n{number}", "password": "x"})
        if answer.status_code == 429:
            waits.append(int(answer.headers["retry-after"]))
            bench.hasher.calls.clear()
            again = stranger.post("/sign-in", data={"name": "olga", "password": PASSWORD})
            assert again.status_code == 429  # not even the right one is looked at
            assert bench.hasher.calls == []
            bench.clock.on(seconds=waits[-1])
    assert waits == sorted(waits)
    assert waits[-1] >= 8 * waits[0]
    assert waits[-1] <= sign_in.ADDRESS_WAIT + 1
    assert bench.signed_in("olga", "192.0.2.9").get("/").status_code == 200  # elsewhere nothing is waited for


def test_no_stranger_keeps_an_owner_out(bench: Guarded) -> None:
    bench.signed_in("olga", "192.0.2.7").post("/sign-out")
    for number in range(100):
        stranger = bench.browser(address=f"198.51.100.{number}")
        stranger.post("/sign-in", data={"name": "olga", "password": "guess"})
    assert bench.signed_in("olga", "192.0.2.7").get("/").status_code == 200  # from where she came before
    bench.clock.on(seconds=sign_in.ACCOUNT_WAIT)
    assert bench.signed_in("olga", "192.0.2.99").get("/").status_code == 200  # from elsewhere: a short wait


def test_guesses_from_many_addresses_wait_too(bench: Guarded) -> None:
    bench.hasher.calls.clear()
    for number in range(100):
        bench.browser(address=f"198.51.100.{number}").post(
            "/sign-in", data={"name": "olga", "password": "guess"}
        )
    assert len(bench.hasher.calls) <= 4


def test_tries_count_by_network() -> None:
    assert network_of("2001:db8::1") == network_of("2001:db8::ffff:1")
    assert network_of("2001:db8::1") != network_of("2001:db8:0:1::1")
    assert network_of("::ffff:192.0.2.1") == network_of("192.0.2.1")
    assert network_of("testclient") == "testclient"


def test_an_old_hash_is_made_anew(bench: Guarded) -> None:
    bench.hasher.mark = "2"
    bench.signed_in("olga")
    account = bench.accounts.account("olga")
    assert account is not None
    assert account.hash == f"2:{PASSWORD}"


def test_composed_letters_are_one_password(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    apart, composed = "zoe\u0308 " * 3 + "zoe\u0308", "zo\u00eb " * 3 + "zo\u00eb"
    sent = {"name": "zo\u00eb", "role": "reader", "password": apart, "again": composed}
    assert olga.post("/accounts", data=sent).status_code == 303
    answer = bench.browser().post("/sign-in", data={"name": "ZO\u00cb", "password": composed})
    assert answer.status_code == 303


@pytest.mark.parametrize(
    ("password", "again"),
    [("short", "short"), ("x" * 1001, "x" * 1001), ("a" * 12, "a" * 12), (PASSWORD, PASSWORD + " ")],
)
def test_a_password_that_nobody_should_have_is_refused(password: str, again: str, bench: Guarded) -> None:
    sent = {"name": "new", "role": "reader", "password": password, "again": again}
    answer = bench.signed_in("olga").post("/accounts", data=sent)
    assert answer.status_code == 422
    assert bench.accounts.account("new") is None
    assert password[:20] not in answer.text or password == PASSWORD[:20]


def test_a_password_change_during_a_sign_in_wins(bench: Guarded, monkeypatch: pytest.MonkeyPatch) -> None:
    matches = bench.hasher.matches

    def changed_meanwhile(
        hash: str,  # noqa: A002
        password: str,
    ) -> bool:
        right = matches(hash, password)
        bench.accounts.set_hash("ben", "1:something else now")
        bench.accounts.close_sign_ins("ben")
        return right

    monkeypatch.setattr(bench.hasher, "matches", changed_meanwhile)
    answer = bench.browser().post("/sign-in", data={"name": "ben", "password": PASSWORD})
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


def test_everything_about_the_door_is_in_the_book(bench: Guarded) -> None:
    olga = bench.signed_in("olga")
    bench.browser().post("/sign-in", data={"name": "mallory", "password": "x"})
    olga.post("/accounts/change", data={"name": "ben", "what": "role", "role": "reader"})
    olga.post("/programs", data={"name": "till", "role": "reader"})
    book = [(line.kind, line.by, dict(line.fields)) for line in bench.app.state.door.book.last(4)]
    assert book == [
        ("program let in", "olga", {"program": "till", "role": "reader"}),
        ("role set", "olga", {"account": "ben", "role": "reader"}),
        ("sign-in refused", "mallory", {"address": "192.0.2.7"}),
        ("signed in", "olga", {"address": "192.0.2.7"}),
    ]
    page = olga.get("/accounts").text
    assert "mallory" in page
    assert PASSWORD not in page
    assert "key-" not in page
