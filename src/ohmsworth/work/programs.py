"""Programs that may use the bench: each shows a token, of which only the SHA-256 is kept."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from ohmsworth.work.accounts import Accounts, Token
from ohmsworth.work.door_book import DoorBook
from ohmsworth.work.people import a_role, account_name
from ohmsworth.work.sign_in import hash_of

#: By which a token is known for one, in a log or a file where it should not be.
PREFIX = "ohmsworth_"
CAME = "program came"


class Programs:
    """Makes, knows and revokes tokens.

    Parameters
    ----------
    accounts
        What is kept.
    clock
        Gives the moment with its zone.
    book
        Where changes are written, and once a day that a program came.
    new_token
        Gives 32 random bytes or more.
    """

    def __init__(
        self,
        accounts: Accounts,
        clock: Callable[[], datetime],
        book: DoorBook,
        new_token: Callable[[], str],
    ) -> None:
        self._accounts, self._clock, self._book, self._new_token = accounts, clock, book, new_token
        self._came: dict[str, date] = {}

    def all(self) -> tuple[Token, ...]:
        """Every token, revoked ones too."""
        return self._accounts.tokens()

    def make(self, name: str, role: str, by: str) -> str:
        """A new token, which can be shown this once; raises InputRefused, NameTaken."""
        secret = PREFIX + self._new_token()
        kept = self._accounts.add_token(hash_of(secret), account_name(name), a_role(role))
        self._book.write("program let in", by, program=kept.name, role=kept.role)
        return secret

    def known(self, secret: str) -> Token | None:
        """The token that a program shows, while it holds."""
        if not secret.startswith(PREFIX):
            return None
        token = self._accounts.find_token(hash_of(secret))
        today = self._clock().date()
        if token is not None and self._came.get(token.name) != today:
            self._came[token.name] = today
            self._book.write(CAME, token.name)
        return token

    def revoke(self, name: str, by: str) -> None:
        """Let a program in no longer; raises NoSuchName."""
        self._accounts.revoke_token(name)
        self._came.pop(name, None)
        self._book.write("program shut out", by, program=name)

    def last_used(self) -> dict[str, date]:
        """The day on which each program came last, as far as the end of the book tells."""
        days: dict[str, date] = {}
        for line in self._book.last(most=5000):
            if line.kind == CAME:
                days.setdefault(line.by, line.at.date())
        return days
