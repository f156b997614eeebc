"""Who may do what: accounts are added, given roles and passwords, shut and let in again; each change is in the door book."""

from __future__ import annotations

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.accounts import ROLES, Account, Accounts, Role
from ohmsworth.work.door_book import DoorBook
from ohmsworth.work.passwords import LONGEST, Hasher, as_typed, new_password
from ohmsworth.work.sign_in import LONGEST_NAME

#: What each role may, in words; each may what those before it may.
ROLE_WORDS: dict[str, str] = {
    "reader": "looks at everything",
    "bench": "also takes readings, and writes studies and cards",
    "office": "also decides on accounts, settings, programs and restoring",
}


class People:
    """Changes accounts.

    Parameters
    ----------
    accounts
        What is kept.
    hasher
        Makes hashes of passwords.
    book
        Where changes are written.
    """

    def __init__(self, accounts: Accounts, hasher: Hasher, book: DoorBook) -> None:
        self._accounts, self._hasher, self._book = accounts, hasher, book

    def all(self) -> tuple[Account, ...]:
        """Every account."""
        return self._accounts.accounts()

    def add(self, name: str, password: str, again: str, role: str, by: str) -> Account:
        """Add an account; raises InputRefused, NameTaken."""
        name = account_name(name)
        typed = new_password(password, again, name)
        account = self._accounts.add_account(name, self._hasher.hash(typed), a_role(role))
        self._book.write("account added", by, account=account.name, role=account.role)
        return account

    def set_password(self, name: str, password: str, again: str, by: str) -> None:
        """Set a new password and close every sign-in that was made with the old one; raises InputRefused, NoSuchName."""
        typed = new_password(password, again, name)
        self._accounts.set_hash(name, self._hasher.hash(typed))
        self._accounts.close_sign_ins(name)
        self._book.write("password set", by, account=name)

    def change_own(self, name: str, old: str, password: str, again: str) -> None:
        """Set one's own password, which takes the old one; raises InputRefused."""
        account = self._accounts.account(name)
        if account is None or not self._hasher.matches(account.hash, as_typed(old[: LONGEST + 1])):
            raise InputRefused(
                (
                    Fault(
                        "the password until now",
                        "another one",
                        "the one that you signed in with",
                        "Type it once more, or ask the office for a new one.",
                    ),
                )
            )
        self.set_password(account.name, password, again, account.name)

    def set_role(self, name: str, role: str, by: str) -> None:
        """Give another role; raises InputRefused, NoSuchName."""
        wanted = a_role(role)
        if wanted != "office":
            self._keep_one_office(name)
        self._accounts.set_role(name, wanted)
        self._book.write("role set", by, account=name, role=wanted)

    def shut(self, name: str, by: str) -> None:
        """Let nobody in by this account, from now on; raises InputRefused, NoSuchName."""
        self._keep_one_office(name)
        self._accounts.disable(name)
        self._accounts.close_sign_ins(name)
        self._book.write("account shut", by, account=name)

    def let_in_again(self, name: str, by: str) -> None:
        """Open a shut account; raises NoSuchName."""
        self._accounts.disable(name, disabled=False)
        self._book.write("account opened again", by, account=name)

    def _keep_one_office(self, name: str) -> None:
        others = [one for one in offices(self._accounts) if one.name.casefold() != name.casefold()]
        held = self._accounts.account(name)
        if held is not None and held.role == "office" and not held.disabled and not others:
            raise InputRefused(
                (
                    Fault(
                        "accounts",
                        f"{shorten(held.name)} is the only one of the office",
                        "one of the office at least",
                        "Give somebody else the role office first.",
                    ),
                )
            )


def offices(accounts: Accounts) -> tuple[Account, ...]:
    """The accounts by which the office can come in."""
    return tuple(one for one in accounts.accounts() if one.role == "office" and not one.disabled)


def a_role(text: str) -> Role:
    """One of the roles; raises InputRefused."""
    for role in ROLES:
        if role == text:
            return role
    raise InputRefused(
        (Fault("role", shorten(text), "bench, office or reader", "Choose what the person is to do."),)
    )


def account_name(text: str) -> str:
    """A name for an account, on one line; raises InputRefused."""
    name = " ".join(text.split())
    if name and len(name) <= LONGEST_NAME and name.isprintable():
        return name
    raise InputRefused(
        (
            Fault(
                "name",
                shorten(text) if name else "nothing",
                f"1 to {LONGEST_NAME} characters",
                "Type the person's name.",
            ),
        )
    )
