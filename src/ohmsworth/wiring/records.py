"""Adapters of the shop's records and of the accounts that may use them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from ohmsworth.work.accounts import Store
    from ohmsworth.work.passwords import Hasher
    from ohmsworth.work.records import Records


def open_records(address: str) -> AbstractContextManager[Records]:
    """The shop's records at a path or an address of PostgreSQL; made, or brought up to date, where needed."""
    from ohmsworth.adapters.records import open_records as open_them

    return open_them(address)


def refuse_missing_records(address: str, where: str = "records") -> None:
    """Records that are only asked are not made where there are none.

    Parameters
    ----------
    address
        A path, or an address of PostgreSQL.
    where
        What they are called where there are none.

    Raises
    ------
    InputRefused
        Where `address` is a path and nothing is there.
    """
    from ohmsworth.errors import Fault, InputRefused, shorten

    if "://" not in address and not Path(address).expanduser().exists():
        mend = "Name the file of the shop's records; the bench shows it when it starts."
        raise InputRefused((Fault(where, shorten(address, 200), "records that are there", mend),))


def open_store(address: str) -> AbstractContextManager[Store]:
    """The records together with the accounts that may use them."""
    from ohmsworth.adapters.records import open_store as open_it

    return open_it(address)


def restore_records(backup: Path, address: str) -> None:
    """Copy every row of a backup into records that are still empty."""
    from ohmsworth.adapters.records import restore_records as restore

    restore(backup, address)


def default_records() -> str:
    """Where this user's records are when nobody says: OHMSWORTH_RECORDS, else the folder that the system has for such data."""
    import os

    from platformdirs import user_data_dir

    return os.environ.get("OHMSWORTH_RECORDS") or str(
        Path(user_data_dir("ohmsworth", False)) / "shop.records"
    )


def password_hasher() -> Hasher:
    """What makes and checks the hashes of passwords."""
    from ohmsworth.adapters.passwords import Argon2Hasher

    return Argon2Hasher()
