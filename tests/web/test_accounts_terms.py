"""Where others can reach the bench: what has to be there first, and that it holds."""

from __future__ import annotations

import ssl
from datetime import UTC, datetime, timedelta
from pathlib import Path

import httpx2 as httpx
import pytest
from starlette.testclient import TestClient
from tests.web.certificates import certificate, needs_openssl
from tests.web.doors import PASSWORD, guarded
from tests.web.running import bench, records_in, run

from ohmsworth.errors import InputRefused
from ohmsworth.web.serve import notice
from ohmsworth.web.serve.certificate import read_certificate
from ohmsworth.web.serve.proxied import Proxied
from ohmsworth.web.serve.start import notice_path
from ohmsworth.web.serve.terms import NO_OFFICE, NO_TLS, Reach, settle

NOW = datetime.now(UTC) + timedelta(hours=1)  # the certificates are made after this line is read
NAME = "bench.shop.lan"


def missing(reach: Reach, offices: int = 1, now: datetime = NOW) -> list[str]:
    with pytest.raises(InputRefused) as refused:
        settle(reach, offices, now)
    return [fault.where for fault in refused.value.faults]


def test_on_this_machine_nothing_is_asked_for() -> None:
    terms = settle(Reach(), 0, NOW)
    assert not terms.accounts
    assert not terms.secure
    assert terms.hosts == {"127.0.0.1", "localhost", "::1"}
    assert terms.shown(8614) == "http://127.0.0.1:8614/"


@pytest.mark.parametrize(
    "address", ["0.0.0.0", "::", "192.0.2.1", "localhost", "bench.lan", "::ffff:1.2.3.4"]
)
def test_for_others_everything_is_named_that_is_missing(address: str) -> None:
    assert missing(Reach(address), offices=0) == ["accounts", "--certificate"]
    assert missing(Reach(address), offices=1) == ["--certificate"]
    assert "ohmsworth people add" in NO_OFFICE.mend
    assert "--behind-proxy" in NO_TLS.mend


def test_a_sign_in_can_be_asked_for_on_this_machine() -> None:
    assert missing(Reach(accounts=True), offices=0) == ["accounts"]
    assert settle(Reach(accounts=True), 1, NOW).accounts


@pytest.mark.parametrize("address", ["127.0.0.1", "192.0.2.1"])
def test_behind_a_proxy_accounts_are_needed_on_any_address(address: str) -> None:
    reach = Reach(address, behind_proxy="https://Bench.shop.lan/")
    assert missing(reach, offices=0) == ["accounts"]
    terms = settle(reach, 1, NOW)
    assert terms.accounts
    assert terms.secure
    assert terms.proxies == {"127.0.0.1", "::1"}
    assert NAME in terms.hosts
    assert terms.shown(8614) == "https://bench.shop.lan/"


@pytest.mark.parametrize(
    "proxy", ["http://bench.lan", "bench.lan", "https://", "https://a/b", "https://[", "x"]
)
def test_a_proxy_is_stated_by_the_address_that_people_type(proxy: str) -> None:
    assert "--behind-proxy" in missing(Reach(behind_proxy=proxy))


def test_a_proxys_address_alone_says_nothing() -> None:
    assert missing(Reach(proxies=("192.0.2.1",))) == ["--proxy-address"]


@needs_openssl
def test_the_names_come_from_the_certificate(tmp_path: Path) -> None:
    made, key = certificate(tmp_path, "DNS:Bench.shop.lan,IP:192.0.2.1")
    terms = settle(Reach("192.0.2.1", made, key), 1, NOW)
    assert terms.hosts == {NAME, "192.0.2.1"}
    assert terms.context is not None
    assert terms.until is not None
    assert timedelta(days=28) < terms.until - NOW < timedelta(days=31)
    stated = settle(Reach("192.0.2.1", made, key, called=("BENCH.shop.lan.",)), 1, NOW)
    assert stated.hosts == {NAME}
    assert stated.shown(1) == "https://bench.shop.lan:1/"


@needs_openssl
def test_a_name_that_the_certificate_lacks_is_refused(tmp_path: Path) -> None:
    made, key = certificate(tmp_path, "DNS:*.shop.lan")
    assert missing(Reach("192.0.2.1", made, key)) == ["--called"]
    assert missing(Reach("192.0.2.1", made, key, called=("other.lan",))) == ["--called"]
    assert missing(Reach("192.0.2.1", made, key, called=("a.b.shop.lan",))) == ["--called"]
    assert settle(Reach("192.0.2.1", made, key, called=(NAME,)), 1, NOW).hosts == {NAME}
    nameless = certificate(tmp_path / "other", "")
    assert missing(Reach("192.0.2.1", *nameless)) == ["--called"]


@needs_openssl
def test_a_certificate_is_looked_at_before_it_is_used(tmp_path: Path) -> None:
    made, key = certificate(tmp_path)
    other, other_key = certificate(tmp_path / "other")
    assert missing(Reach("192.0.2.1", made)) == ["--key"]
    assert missing(Reach("192.0.2.1", key=key)) == ["--certificate"]
    assert missing(Reach("192.0.2.1", made, other_key)) == ["--key"]
    assert missing(Reach("192.0.2.1", key, made)) == ["--certificate"]
    assert missing(Reach("192.0.2.1", tmp_path / "none", key)) == ["--certificate"]
    assert missing(Reach("192.0.2.1", other, tmp_path)) == ["--key"]
    garbled = tmp_path / "garbled"
    garbled.write_bytes(b"\0" * 100)
    assert missing(Reach("192.0.2.1", garbled, garbled)) == ["--certificate"]
    for now in (NOW + timedelta(days=31), NOW - timedelta(days=1)):
        with pytest.raises(InputRefused, match=r"one that holds from .* until"):
            read_certificate(made, key, now)
    client = certificate(tmp_path / "client", use="clientAuth")
    assert missing(Reach("192.0.2.1", *client)) == ["--certificate"]


def test_it_does_not_start_for_others_as_it_is(tmp_path: Path) -> None:
    done = run("bench", "--records", records_in(tmp_path), "--address", "0.0.0.0", "--port", "0")
    assert done.returncode == 2
    assert "ohmsworth people add" in done.stderr
    assert "--certificate" in done.stderr
    assert done.stdout == ""
    assert not notice_path(records_in(tmp_path)).exists()


def add_olga(records: str) -> None:
    done = run("people", "add", "olga", "--role", "office", "--records", records, typed=PASSWORD + "\n")
    assert done.returncode == 0, done.stderr


@needs_openssl
def test_over_tls_a_sign_in_holds(tmp_path: Path) -> None:
    made, key = certificate(tmp_path / "tls")
    records = records_in(tmp_path)
    add_olga(records)
    options = ("--accounts", "--certificate", str(made), "--key", str(key), "--called", "127.0.0.1")
    with bench("--records", records, "--no-open", *options) as running:
        assert running.address == f"https://127.0.0.1:{running.port}/"
        assert running.program.stdout is not None
        assert "certificate holds until" in running.program.stdout.readline()
        own = {"origin": running.address.rstrip("/")}
        with httpx.Client(
            base_url=running.address, verify=ssl.create_default_context(cafile=str(made))
        ) as browser:
            assert browser.get("/").status_code == 303
            answer = browser.post("/sign-in", data={"name": "olga", "password": PASSWORD}, headers=own)
            assert answer.status_code == 303
            assert answer.headers["set-cookie"].startswith("__Host-bench=")
            assert "olga" in browser.get("/").text
        kept = notice.read_notice(notice_path(records))
        assert kept is not None
        assert notice.ask(kept)
        assert running.address in run("bench", "--records", records).stdout
        with pytest.raises(httpx.RemoteProtocolError):
            httpx.get(running.address.replace("https", "http"))


def test_behind_a_proxy_it_answers_as_the_proxy_is_called(tmp_path: Path) -> None:
    records = records_in(tmp_path)
    add_olga(records)
    with bench(
        "--records", records, "--no-open", "--port", "0", "--behind-proxy", f"https://{NAME}"
    ) as running:
        assert running.address == f"https://{NAME}/"
        kept = notice.read_notice(notice_path(records))
        assert kept is not None
        assert notice.ask(kept)
        own = {"host": NAME, "x-forwarded-for": "192.0.2.9", "origin": f"https://{NAME}"}
        with httpx.Client(base_url=f"http://{kept.ask}") as proxy:
            sent = {"name": "olga", "password": PASSWORD}
            assert proxy.post("/sign-in", data=sent, headers=own).status_code == 303
            assert proxy.post("/sign-in", data=sent, headers=own | {"origin": "null"}).status_code == 403
            assert proxy.get("/sign-in", headers={"host": "127.0.0.1"}).status_code == 421


def proxied(app: object, client: str) -> TestClient:
    inner = Proxied(app, f"https://{NAME}", frozenset({"192.0.2.1", "192.0.2.2"}))  # type: ignore[arg-type]
    return TestClient(
        inner,  # type: ignore[arg-type]
        base_url="http://inside:8614",
        client=(client, 1),
        follow_redirects=False,
        headers={"x-forwarded-host": NAME, "sec-fetch-site": "same-origin"},
    )


@pytest.mark.parametrize(
    ("forwarded", "address"),
    [
        ("198.51.100.1", "198.51.100.1"),
        ("203.0.113.5, 198.51.100.1", "198.51.100.1"),  # the first was sent by whoever called
        ("203.0.113.5, 198.51.100.1, 192.0.2.2", "198.51.100.1"),
        ("", "192.0.2.1"),
    ],
)
def test_the_proxy_says_who_calls(forwarded: str, address: str, tmp_path: Path) -> None:
    with guarded(tmp_path) as made:
        answer = proxied(made.app, "192.0.2.1").post(
            "/sign-in", data={"name": "x", "password": "y"}, headers={"x-forwarded-for": forwarded}
        )
        assert answer.status_code == 403
        assert made.app.state.door.book.last(1)[0].fields["address"] == address


def test_nobody_goes_round_the_proxy(tmp_path: Path) -> None:
    with guarded(tmp_path) as made:
        answer = proxied(made.app, "198.51.100.1").get("/sign-in", headers={"x-forwarded-for": "192.0.2.1"})
        assert answer.status_code == 403
        assert f"https://{NAME}/" in answer.text


def test_without_a_proxy_nothing_forwarded_is_believed(tmp_path: Path) -> None:
    with guarded(tmp_path) as made:
        forged = {
            "x-forwarded-for": "203.0.113.5",
            "x-forwarded-host": "evil.lan",
            "x-forwarded-proto": "http",
        }
        made.browser(**forged).post("/sign-in", data={"name": "x", "password": "y"})
        assert made.app.state.door.book.last(1)[0].fields["address"] == "192.0.2.7"
