"""Accounts, sign-ins and tokens as they are kept."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from tests.adapters.records.clocks import Clock

from ohmsworth.adapters.records import open_store
from ohmsworth.errors import ArgumentFault
from ohmsworth.work.accounts import Account, Accounts, NameTaken, NoSuchName, SignIn, Token


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def accounts(address: str, clock: Clock) -> Iterator[Accounts]:
    with open_store(address, clock=clock) as store:
        yield store.accounts
        assert store.records.check() == ()


def test_an_account_is_found_by_its_name_in_any_case(accounts: Accounts, clock: Clock) -> None:
    kim = accounts.add_account("Kim ß", "h", "office")
    assert kim == Account("Kim ß", "h", "office", False, clock.now)
    assert accounts.account("KIM SS") == kim
    assert accounts.account("Lee") is None
    clock.step(1)
    for name in ("Kim ß", "kim ss"):
        with pytest.raises(NameTaken, match="there already"):
            accounts.add_account(name, "h", "office")
    accounts.add_account("Ada", "h", "reader")
    assert [one.name for one in accounts.accounts()] == ["Ada", "Kim ß"]
    with pytest.raises(ArgumentFault):
        accounts.add_account("Lee", "h", "owner")  # type: ignore[arg-type]
    with pytest.raises(ArgumentFault):
        accounts.add_account("\0", "h", "bench")


def test_what_is_changed_of_an_account(accounts: Accounts, clock: Clock) -> None:
    accounts.add_account("Kim", "h", "bench")
    accounts.set_hash("kim", "new")
    accounts.set_role("Kim", "reader")
    accounts.disable("Kim")
    assert accounts.account("Kim") == Account("Kim", "new", "reader", True, clock.now)
    accounts.disable("Kim", False)
    assert accounts.account("Kim") == Account("Kim", "new", "reader", False, clock.now)
    for act in (
        lambda: accounts.set_hash("Lee", "h"),
        lambda: accounts.set_role("Lee", "bench"),
        lambda: accounts.disable("Lee"),
        lambda: accounts.open_sign_in("t", "Lee", clock.now),
        lambda: accounts.revoke_token("Lee"),
    ):
        with pytest.raises(NoSuchName, match="Lee"):
            act()


def test_a_sign_in_lasts_until_it_expires_or_is_closed(accounts: Accounts, clock: Clock) -> None:
    accounts.add_account("Kim", "h", "bench")
    start, end = clock.now, clock.now + timedelta(hours=8)
    opened = accounts.open_sign_in("a", "KIM", end)
    assert opened == accounts.find_sign_in("a") == SignIn("a", "Kim", start, start, end)
    clock.step(60)
    accounts.touch_sign_in("a")
    assert accounts.find_sign_in("a") == SignIn("a", "Kim", start, clock.now, end)
    later = end + timedelta(hours=1)
    accounts.touch_sign_in("a", later)
    accounts.touch_sign_in("unknown")
    clock.now = end
    assert accounts.find_sign_in("a") == SignIn("a", "Kim", start, start + timedelta(seconds=60), later)
    clock.now = later
    assert accounts.find_sign_in("a") is None
    clock.now = start
    accounts.open_sign_in("b", "Kim", end)
    with pytest.raises(NameTaken):
        accounts.open_sign_in("b", "Kim", end + timedelta(seconds=1))
    accounts.close_sign_in("b")
    accounts.close_sign_in("b")
    assert accounts.find_sign_in("b") is None
    assert accounts.find_sign_in("a") is not None
    clock.now = later
    accounts.open_sign_in("c", "Kim", later + timedelta(hours=1))
    clock.now = start
    assert accounts.find_sign_in("a") is None


def test_closing_all_of_an_account(accounts: Accounts, clock: Clock) -> None:
    end = clock.now + timedelta(hours=8)
    for name in ("Kim", "Lee"):
        accounts.add_account(name, "h", "bench")
        for n in range(2):
            accounts.open_sign_in(f"{name}{n}", name, end)
    accounts.close_sign_ins("kim")
    accounts.disable("Lee")
    assert [accounts.find_sign_in(token) for token in ("Kim0", "Kim1", "Lee0", "Lee1")] == [None] * 4
    accounts.disable("Lee", False)
    assert accounts.find_sign_in("Lee0") is None


def test_a_token_holds_until_it_is_revoked(accounts: Accounts, clock: Clock) -> None:
    made = accounts.add_token("hash", "cell 4", "bench")
    assert made == accounts.find_token("hash") == Token("hash", "cell 4", "bench", clock.now, None)
    for hash_, name in (("hash", "other"), ("other", "cell 4")):
        with pytest.raises(NameTaken):
            accounts.add_token(hash_, name, "bench")
    clock.step(1)
    accounts.revoke_token("cell 4")
    revoked = clock.now
    clock.step(1)
    accounts.revoke_token("cell 4")
    assert accounts.find_token("hash") is None
    assert accounts.find_token("unknown") is None
    assert accounts.tokens() == (Token("hash", "cell 4", "bench", made.created, revoked),)
