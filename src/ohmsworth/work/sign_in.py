"""Signing in, staying signed in, and leaving. Only the SHA-256 of a token is kept, and only the hash of a password."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from hashlib import sha256
from threading import Lock

from ohmsworth.errors import OhmsworthError
from ohmsworth.work.accounts import Account, Accounts
from ohmsworth.work.door_book import DoorBook
from ohmsworth.work.passwords import LONGEST, Hasher, as_typed
from ohmsworth.work.waits import Counted, Waits

#: Unused for so long, a sign-in is over; a night and a long lunch are less.
IDLE = timedelta(hours=16)
#: Used or not, it is over after so long.
ABSOLUTE = timedelta(days=7)
#: How often the use of a sign-in is written down.
NOTED = timedelta(minutes=1)
#: Longest waits (seconds): for tries from one address, and for tries at one account from addresses that it never came from.
ADDRESS_WAIT, ACCOUNT_WAIT = 300.0, 30.0
LONGEST_NAME = 80


class SignInRefused(OhmsworthError, PermissionError):
    """Name or password is wrong, or the account is shut: the words are the same for all of them."""

    def __init__(self) -> None:
        super().__init__("Name and password do not go together, or the account is shut.")


class WaitFirst(OhmsworthError, PermissionError):
    """Too many tries; `seconds` are still to be waited."""

    def __init__(self, seconds: float) -> None:
        self.seconds = max(1, round(seconds + 0.5))
        super().__init__(f"Too many tries. Wait {self.seconds} s, then try again.")


def hash_of(token: str) -> str:
    """What is kept of a token; it is random and long, so that no slow hash is needed."""
    return sha256(token.encode()).hexdigest()


class SignIns:
    """Who is let in.

    Parameters
    ----------
    accounts
        What is kept.
    hasher
        Checks passwords.
    clock
        Gives the moment with its zone.
    book
        Where comings and refusals are written.
    new_token
        Gives a token of 32 random bytes or more.
    """

    def __init__(
        self,
        accounts: Accounts,
        hasher: Hasher,
        clock: Callable[[], datetime],
        book: DoorBook,
        new_token: Callable[[], str],
    ) -> None:
        self._accounts, self._hasher, self._clock = accounts, hasher, clock
        self._book, self._new_token = book, new_token
        self._waits = Waits(clock)
        self._known: set[tuple[str, str]] = set()
        # For a name that nobody has: the same work is done as for a wrong password.
        self._dummy = hasher.hash(new_token())
        self._one_rehash = Lock()

    def come_in(self, name: str, password: str, address: str, former: str = "") -> str:
        """The token of a new sign-in; the one that the browser had before is closed.

        Raises
        ------
        SignInRefused, WaitFirst
            The second before anything is looked at.
        """
        name = " ".join(name.split())[:LONGEST_NAME]
        counted = self._counted(name, address)
        wait = self._waits.take(counted)
        if wait > 0:
            raise WaitFirst(wait)
        account = self._accounts.account(name) if name else None
        right = self._hasher.matches(
            account.hash if account else self._dummy, as_typed(password[: LONGEST + 1])
        )
        if account is None or not right or account.disabled:
            self._refuse(name, address)
        assert account is not None
        token = self._new_token()
        self._accounts.open_sign_in(hash_of(token), account.name, self._clock() + IDLE)
        self._see_unchanged(account, token, address)
        self._renew(account, password)
        if former:
            self._accounts.close_sign_in(hash_of(former))
        self._waits.forget(counted)
        self._known.add((account.name.casefold(), address))
        self._book.write("signed in", account.name, address=address)
        return token

    def seen(self, token: str) -> Account | None:
        """Whose sign-in `token` is, while it lasts."""
        kept = self._accounts.find_sign_in(hash_of(token))
        now = self._clock()
        if kept is None or kept.expires <= now or kept.created + ABSOLUTE <= now:
            return None
        account = self._accounts.account(kept.account)
        if account is None or account.disabled:
            return None
        if now - kept.last_seen >= NOTED:
            self._accounts.touch_sign_in(kept.token_hash, min(now + IDLE, kept.created + ABSOLUTE))
        return account

    def leave(self, token: str) -> None:
        """Close a sign-in."""
        account = self.seen(token)
        self._accounts.close_sign_in(hash_of(token))
        if account is not None:
            self._book.write("signed out", account.name)

    def _counted(self, name: str, address: str) -> list[Counted]:
        """Tries count by address; by account too, but not from where its owner came before: no stranger can keep them out."""
        counted = [Counted(("from", network_of(address)), ADDRESS_WAIT)]
        if (name.casefold(), address) not in self._known:
            counted.append(Counted(("at", name.casefold()), ACCOUNT_WAIT))
        return counted

    def _refuse(self, name: str, address: str) -> None:
        self._book.write("sign-in refused", name or "no name", address=address)
        raise SignInRefused

    def _see_unchanged(self, account: Account, token: str, address: str) -> None:
        """A password that was changed, or an account that was shut, while this one was being checked holds."""
        now = self._accounts.account(account.name)
        if now is None or now.disabled or now.hash != account.hash:
            self._accounts.close_sign_in(hash_of(token))
            self._refuse(account.name, address)

    def _renew(self, account: Account, password: str) -> None:
        """Hash anew where the parameters have changed since."""
        if not self._hasher.is_old(account.hash):
            return
        fresh = self._hasher.hash(as_typed(password))
        with self._one_rehash:
            now = self._accounts.account(account.name)
            if now is not None and now.hash == account.hash:
                self._accounts.set_hash(account.name, fresh)


def network_of(address: str) -> str:
    """What tries are counted by: an IPv4 address, or the /64 of an IPv6 one, in which anybody has as many as they like."""
    from ipaddress import IPv6Address, ip_address, ip_network

    try:
        known = ip_address(address)
    except ValueError:
        return address
    if isinstance(known, IPv6Address):
        return str(known.ipv4_mapped or ip_network((known, 64), strict=False))
    return str(known)
