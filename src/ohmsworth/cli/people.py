"""``ohmsworth people``: who may sign in to the bench, from the command line of the machine that has the records."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import App, Parameter

from ohmsworth.errors import Fault, InputRefused, OhmsworthError

if TYPE_CHECKING:
    from ohmsworth.work.people import People

people = App(
    name="people",
    help="Say who may sign in to the bench, and what each may do there.",
    help_format="plaintext",
)

Records = Annotated[str | None, Parameter(show_default=False)]


@people.command
def add(name: str, *, role: Literal["bench", "office", "reader"], records: Records = None) -> None:
    """Add an account for NAME; the password is asked for, or read from standard input.

    Parameters
    ----------
    name
        By which the person signs in.
    role
        reader looks; bench also takes readings; office also decides on accounts and settings.
    records
        Where the records are; else OHMSWORTH_RECORDS, else this user's own.
    """
    with _people(records) as those:
        kept = those.add(name, *_password(), role, BY)
        _say(f"{kept.name} may sign in with the role {kept.role}.")


@people.command(name="list")
def list_(*, records: Records = None) -> None:
    """List the accounts.

    Parameters
    ----------
    records
        Where the records are; else OHMSWORTH_RECORDS, else this user's own.
    """
    with _people(records) as those:
        accounts = those.all()
        for one in accounts:
            _say(f"{one.name}: {one.role}{', shut' if one.disabled else ''}")
        if not accounts:
            _say("There is no account yet.")


@people.command
def password(name: str, *, records: Records = None) -> None:
    """Set a new password for NAME; every sign-in with the old one is over.

    Parameters
    ----------
    name
        Whose.
    records
        Where the records are; else OHMSWORTH_RECORDS, else this user's own.
    """
    with _people(records) as those:
        those.set_password(name, *_password(), BY)
        _say(f"{name} signs in with the new password from now on.")


@people.command
def disable(name: str, *, records: Records = None) -> None:
    """Let NAME in no longer, from now on.

    Parameters
    ----------
    name
        Whose account is shut; the office can open it again.
    records
        Where the records are; else OHMSWORTH_RECORDS, else this user's own.
    """
    with _people(records) as those:
        those.shut(name, BY)
        _say(f"The account of {name} is shut, and every sign-in of it is over.")


BY = "the command line"


@contextmanager
def _people(records: str | None) -> Iterator[People]:
    from uuid import uuid4

    from ohmsworth import wiring
    from ohmsworth.work.accounts import NameTaken, NoSuchName
    from ohmsworth.work.door_book import DoorBook
    from ohmsworth.work.people import People

    with wiring.open_store(records or wiring.default_records()) as store:
        book = DoorBook(store.records, lambda: uuid4().hex)
        try:
            yield People(store.accounts, wiring.password_hasher(), book)
        except (NameTaken, NoSuchName) as error:
            raise InputRefused((_of_name(error),)) from error


def _of_name(error: OhmsworthError) -> Fault:
    return Fault("name", str(error).rstrip("."), "another name", "See who is there: ohmsworth people list")


def _password() -> tuple[str, str]:
    """Typed twice without being shown; from a pipe, its first line counts for both."""
    if sys.stdin is not None and sys.stdin.isatty():
        from getpass import getpass

        return getpass("Password: "), getpass("The same once more: ")
    typed = sys.stdin.readline().rstrip("\r\n") if sys.stdin is not None else ""
    return typed, typed


def _say(text: str) -> None:
    print("".join(c if c.isprintable() else "�" for c in text))
