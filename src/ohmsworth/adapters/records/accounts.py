"""Accounts, sign-ins and tokens in the same file or database as the records."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, RowMapping, Table, delete, insert, or_, select, update

from ohmsworth.adapters.records import checked
from ohmsworth.adapters.records import tables as t
from ohmsworth.adapters.records.database import Database
from ohmsworth.adapters.records.finding import folded
from ohmsworth.errors import ArgumentFault, shorten
from ohmsworth.work.accounts import ROLES, Account, NameTaken, NoSuchName, Role, SignIn, Token


class SqlAccounts:
    """The store behind `ohmsworth.work.accounts.Accounts`."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def add_account(self, name: str, hash: str, role: Role) -> Account:  # noqa: A002
        """See `Accounts.add_account`."""
        row = {"folded": folded(name), "name": name, "hash": hash, "role": _role(role), "disabled": False}
        self._insert(t.account, row | {"created": self._clock()}, t.account.c.folded == row["folded"])
        found = self.account(name)
        assert found is not None
        return found

    def account(self, name: str) -> Account | None:
        """See `Accounts.account`."""
        row = self._first(select(t.account).where(t.account.c.folded == folded(name)))
        return None if row is None else _account(row)

    def accounts(self) -> tuple[Account, ...]:
        """See `Accounts.accounts`."""
        return tuple(_account(row) for row in self._all(select(t.account).order_by(t.account.c.folded)))

    def set_hash(self, name: str, hash: str) -> None:  # noqa: A002
        """See `Accounts.set_hash`."""
        self._change(name, hash=hash)

    def set_role(self, name: str, role: Role) -> None:
        """See `Accounts.set_role`."""
        self._change(name, role=_role(role))

    def disable(self, name: str, disabled: bool = True) -> None:
        """See `Accounts.disable`."""
        self._change(name, disabled=disabled)

    def open_sign_in(self, token_hash: str, account: str, expires: datetime) -> SignIn:
        """See `Accounts.open_sign_in`."""
        at = self._clock()
        row = {"token_hash": token_hash, "account": folded(account), "created": at, "last_seen": at}
        held = self.account(account)
        if held is None:
            raise _nobody(account)
        self._database.write(
            lambda connection: connection.execute(delete(t.sign_in).where(t.sign_in.c.expires <= at))
        )
        self._insert(t.sign_in, row | {"expires": expires}, t.sign_in.c.token_hash == token_hash)
        return SignIn(token_hash, held.name, at, at, expires)

    def find_sign_in(self, token_hash: str) -> SignIn | None:
        """See `Accounts.find_sign_in`."""
        joined = t.sign_in.join(t.account, t.account.c.folded == t.sign_in.c.account)
        row = self._first(
            select(t.sign_in, t.account.c.name)
            .select_from(joined)
            .where(t.sign_in.c.token_hash == token_hash, t.sign_in.c.expires > self._clock())
            .where(t.account.c.disabled.is_(False))
        )
        if row is None:
            return None
        return SignIn(row["token_hash"], row["name"], row["created"], row["last_seen"], row["expires"])

    def touch_sign_in(self, token_hash: str, expires: datetime | None = None) -> None:
        """See `Accounts.touch_sign_in`."""
        seen = {"last_seen": self._clock()} | ({} if expires is None else {"expires": expires})
        change = update(t.sign_in).where(t.sign_in.c.token_hash == token_hash).values(seen)
        self._database.write(lambda connection: connection.execute(change))

    def close_sign_in(self, token_hash: str) -> None:
        """See `Accounts.close_sign_in`."""
        gone = delete(t.sign_in).where(t.sign_in.c.token_hash == token_hash)
        self._database.write(lambda connection: connection.execute(gone))

    def close_sign_ins(self, account: str) -> None:
        """See `Accounts.close_sign_ins`."""
        gone = delete(t.sign_in).where(t.sign_in.c.account == folded(account))
        self._database.write(lambda connection: connection.execute(gone))

    def add_token(self, hash: str, name: str, role: Role) -> Token:  # noqa: A002
        """See `Accounts.add_token`."""
        row = {"hash": hash, "name": name, "role": _role(role), "created": self._clock(), "revoked": None}
        self._insert(t.token, row, or_(t.token.c.hash == hash, t.token.c.name == name))
        found = self.find_token(hash)
        assert found is not None
        return found

    def find_token(self, hash: str) -> Token | None:  # noqa: A002
        """See `Accounts.find_token`."""
        row = self._first(select(t.token).where(t.token.c.hash == hash, t.token.c.revoked.is_(None)))
        return None if row is None else Token(**row)

    def tokens(self) -> tuple[Token, ...]:
        """See `Accounts.tokens`."""
        return tuple(Token(**row) for row in self._all(select(t.token).order_by(t.token.c.name)))

    def revoke_token(self, name: str) -> None:
        """See `Accounts.revoke_token`; one that was revoked before keeps its time."""

        def work(connection: Connection) -> None:
            if connection.scalar(select(t.token.c.hash).where(t.token.c.name == name)) is None:
                raise NoSuchName(f"There is no token named {shorten(name)}.")
            holds = (t.token.c.name == name) & t.token.c.revoked.is_(None)
            connection.execute(update(t.token).where(holds).values(revoked=self._clock()))

        self._database.write(work)

    def _insert(self, table: Table, row: dict[str, Any], same: Any) -> None:
        """Add a row, unless another one is `same`; the very row is one whose answer was lost on the way."""
        for name, value in row.items():
            if isinstance(value, str):
                checked.text(name, value)

        def work(connection: Connection) -> None:
            held = connection.execute(select(table).where(same)).mappings().first()
            if held is None:
                connection.execute(insert(table).values(row))
            elif dict(held) != row:
                raise NameTaken(
                    f"{shorten(row.get('name', 'This sign-in'))} is there already. Choose another name."
                )

        self._database.write(work)

    def _change(self, name: str, **values: Any) -> None:
        def work(connection: Connection) -> None:
            change = update(t.account).where(t.account.c.folded == folded(name)).values(values)
            if not connection.execute(change).rowcount:
                raise _nobody(name)
            if values.get("disabled"):
                connection.execute(delete(t.sign_in).where(t.sign_in.c.account == folded(name)))

        self._database.write(work)

    def _first(self, query: Any) -> RowMapping | None:
        return self._database.read(lambda connection: connection.execute(query).mappings().first())

    def _all(self, query: Any) -> list[RowMapping]:
        return self._database.read(lambda connection: list(connection.execute(query).mappings()))


def _account(row: RowMapping) -> Account:
    return Account(**{name: row[name] for name in ("name", "hash", "role", "disabled", "created")})


def _role(role: Role) -> Role:
    if role not in ROLES:
        raise ArgumentFault("role", role, f"one of {', '.join(ROLES)}")
    return role


def _nobody(name: str) -> NoSuchName:
    return NoSuchName(f"There is no account named {shorten(name)}.")
