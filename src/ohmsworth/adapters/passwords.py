"""Hashes of passwords by Argon2id."""

from __future__ import annotations

from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import Argon2Error, InvalidHashError
from argon2.low_level import Type

#: The second recommended option of RFC 9106, section 4: 64 MiB, three passes, four lanes.
PASSES, KIBIBYTES, LANES, SALT, LENGTH = 3, 64 * 1024, 4, 16, 32
#: Hashes made at once: many sign-ins together must not take the memory of the machine.
AT_ONCE = 2


class Argon2Hasher:
    """The hasher behind `ohmsworth.work.passwords.Hasher`."""

    def __init__(self, passes: int = PASSES, kibibytes: int = KIBIBYTES, lanes: int = LANES) -> None:
        self._hasher = PasswordHasher(passes, kibibytes, lanes, LENGTH, SALT, type=Type.ID)
        self._turns = BoundedSemaphore(AT_ONCE)

    def hash(self, password: str) -> str:
        """See `Hasher.hash`."""
        with self._turns:
            return self._hasher.hash(password)

    def matches(self, hash: str, password: str) -> bool:  # noqa: A002
        """See `Hasher.matches`."""
        with self._turns:
            try:
                return self._hasher.verify(hash, password)
            except (Argon2Error, InvalidHashError):
                return False

    def is_old(self, hash: str) -> bool:  # noqa: A002
        """See `Hasher.is_old`."""
        return self._hasher.check_needs_rehash(hash)
