"""Who may use the bench from a browser, and which programs may: what is kept of them, and nothing about how it is checked.

Passwords and secrets never reach the store: it is handed their hashes, made elsewhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from ohmsworth.errors import OhmsworthError
from ohmsworth.work.records import Records

#: Who measures; who also changes settings and accounts; who only reads.
Role = Literal["bench", "office", "reader"]
ROLES: tuple[Role, ...] = ("bench", "office", "reader")


class NameTaken(OhmsworthError, ValueError):
    """There is an account or a token of that name already."""


class NoSuchName(OhmsworthError, LookupError):
    """There is no account or token of that name."""


@dataclass(frozen=True, slots=True)
class Account:
    """A person who signs in; `hash` is of the password; `created` in UTC."""

    name: str
    hash: str
    role: Role
    disabled: bool
    created: datetime


@dataclass(frozen=True, slots=True)
class SignIn:
    """One browser that signed in; `account` is its account's name, times in UTC."""

    token_hash: str
    account: str
    created: datetime
    last_seen: datetime
    expires: datetime


@dataclass(frozen=True, slots=True)
class Token:
    """What a program shows to be let in; `revoked` is None while it holds."""

    hash: str
    name: str
    role: Role
    created: datetime
    revoked: datetime | None


class Accounts(Protocol):
    """What is kept of accounts, sign-ins and tokens. Every method raises RecordsFault when it cannot do its work.

    Names of accounts are told apart without regard to case: "Kim" signs in as "kim" too.
    """

    def add_account(self, name: str, hash: str, role: Role) -> Account:  # noqa: A002
        """Keep a new account; raises NameTaken."""

    def account(self, name: str) -> Account | None:
        """The account of that name, disabled or not."""

    def accounts(self) -> tuple[Account, ...]:
        """All of them by name."""

    def set_hash(self, name: str, hash: str) -> None:  # noqa: A002
        """Replace the password's hash; raises NoSuchName."""

    def set_role(self, name: str, role: Role) -> None:
        """Replace the role; raises NoSuchName."""

    def disable(self, name: str, disabled: bool = True) -> None:
        """Shut an account, which closes all its sign-ins, or let it in again; raises NoSuchName."""

    def open_sign_in(self, token_hash: str, account: str, expires: datetime) -> SignIn:
        """Keep a new sign-in, and let go of those that have expired; raises NoSuchName, NameTaken."""

    def find_sign_in(self, token_hash: str) -> SignIn | None:
        """The sign-in, or None where it is unknown or has expired, or its account is disabled."""

    def touch_sign_in(self, token_hash: str, expires: datetime | None = None) -> None:
        """Note that it was seen now, and until when it lasts; does nothing where it is unknown."""

    def close_sign_in(self, token_hash: str) -> None:
        """Forget one; does nothing where it is unknown."""

    def close_sign_ins(self, account: str) -> None:
        """Forget all of an account."""

    def add_token(self, hash: str, name: str, role: Role) -> Token:  # noqa: A002
        """Keep a new token; raises NameTaken."""

    def find_token(self, hash: str) -> Token | None:  # noqa: A002
        """The token, or None where it is unknown or revoked."""

    def tokens(self) -> tuple[Token, ...]:
        """All of them by name, revoked ones too."""

    def revoke_token(self, name: str) -> None:
        """Let a token hold no longer; raises NoSuchName."""


@dataclass(frozen=True, slots=True)
class Store:
    """Both sides of one file or database."""

    records: Records
    accounts: Accounts
