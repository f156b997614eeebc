"""The shop's key: made once, kept for its owner alone, used to sign (Ed25519, RFC 8032)."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from cryptography.exceptions import InvalidSignature, UnsupportedAlgorithm
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten

#: What the public half is called: the private one's name with this behind it.
PUBLIC = ".pub"
#: A key is far smaller.
_LARGEST = 64 * 1024
_MAKE = "Make one with 'ohmsworth make-key FILE'."


class FileSigner:
    """The signer behind `ohmsworth.work.papers.ports.Signer`."""

    def __init__(self, key: Ed25519PrivateKey) -> None:
        self._key = key

    @property
    def public_key(self) -> bytes:
        """See `Signer.public_key`."""
        return self._key.public_key().public_bytes_raw()

    def sign(self, message: bytes) -> bytes:
        """See `Signer.sign`."""
        return self._key.sign(message)


def fits(public_key: bytes, message: bytes, signature: bytes) -> bool:
    """Whether `signature` of `message` was made with the private key that belongs to `public_key`."""
    try:
        Ed25519PublicKey.from_public_bytes(public_key).verify(signature, message)
    except (InvalidSignature, ValueError):
        return False
    return True


def make_key(path: Path, passphrase: str) -> tuple[Path, Path]:
    """Write a new private key to `path`, and the public one beside it; neither takes the place of a file.

    Parameters
    ----------
    path
        Of the private key, which its owner alone may read.
    passphrase
        With which it is encrypted; "" for none.

    Raises
    ------
    OutputFault
        When a file cannot be written, or is there already.
    """
    key = Ed25519PrivateKey.generate()
    locked: serialization.KeySerializationEncryption = serialization.NoEncryption()
    if passphrase:
        locked = serialization.BestAvailableEncryption(passphrase.encode())
    private = key.private_bytes(Encoding.PEM, serialization.PrivateFormat.PKCS8, locked)
    public = key.public_key().public_bytes(Encoding.PEM, PublicFormat.SubjectPublicKeyInfo)
    beside = path.with_name(path.name + PUBLIC)
    if os.path.lexists(beside):
        raise _there(beside)
    _write_new(path, private, 0o600)
    try:
        _write_new(beside, public, 0o644)
    except BaseException:
        path.unlink()  # a key without its public half is of no use
        raise
    return path, beside


def _there(path: Path) -> OutputFault:
    return OutputFault(f"{path} is there already, and a key is never replaced; choose another name.")


def _write_new(path: Path, data: bytes, mode: int) -> None:
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
    except FileExistsError as error:
        raise _there(path) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputFault(f"{path} cannot be written: {reason}. Choose another place, or free it.") from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        with suppress(OSError):
            path.unlink()
        raise OutputFault(f"{path} cannot be written: {error.strerror}. Free some room.") from error


def load_signer(path: Path, passphrase: Callable[[], str]) -> FileSigner:
    """The private key in `path`; `passphrase` is asked for only where the key has one.

    Raises
    ------
    InputRefused
        When there is none, it is none of this kind, or the passphrase does not fit.
    """
    where = f"the key {shorten(path.name)}"
    data = _content(path, where, "a private key")
    if b"BEGIN PUBLIC KEY" in data:
        mend = f"Name the private one: the file without {PUBLIC}."
        raise InputRefused((Fault(where, "a public key", "a private key, which signs", mend),))
    key: object = None
    try:
        key = serialization.load_pem_private_key(data, None)
    except TypeError:  # how the library says that there is a passphrase
        key = _unlocked(data, passphrase(), where)
    except (ValueError, UnsupportedAlgorithm):
        key = None
    if not isinstance(key, Ed25519PrivateKey):
        raise InputRefused((Fault(where, "something else", "a private key for Ed25519 as PEM", _MAKE),))
    return FileSigner(key)


def _unlocked(data: bytes, passphrase: str, where: str) -> object:
    try:
        return serialization.load_pem_private_key(data, passphrase.encode())
    except (ValueError, TypeError, UnsupportedAlgorithm) as error:
        mend = "Type it again, or set OHMSWORTH_KEY_PASSPHRASE."
        raise InputRefused(
            (Fault(where, "another passphrase", "the passphrase of this key", mend),)
        ) from error


def load_public_key(path: Path) -> bytes:
    """The public key in `path`, 32 bytes.

    Raises
    ------
    InputRefused
        When there is none, or it is none of this kind.
    """
    where = f"the key {shorten(path.name)}"
    return read_public_key(_content(path, where, "a public key"), path.name)


def read_public_key(data: bytes, name: str) -> bytes:
    """The public key in the bytes of a file called `name`, 32 bytes.

    Raises
    ------
    InputRefused
        When it is none of this kind.
    """
    where = f"the key {shorten(name)}"
    if b"PRIVATE KEY" in data:
        mend = f"Name the public one, {shorten(name + PUBLIC)}; the private one stays with its owner."
        raise InputRefused((Fault(where, "a private key", "a public key", mend),))
    try:
        key = serialization.load_pem_public_key(data)
    except (ValueError, UnsupportedAlgorithm):
        key = None
    if not isinstance(key, Ed25519PublicKey):
        mend = "Ask the shop for its public key, a file such as shop.key.pub."
        raise InputRefused((Fault(where, "something else", "a public key for Ed25519 as PEM", mend),))
    return key.public_bytes_raw()


def public_key_file(path: Path) -> bytes:
    """The bytes of the public key's file beside the private key `path`.

    Raises
    ------
    InputRefused
        When there is none, or it is none of this kind.
    """
    beside = path.with_name(path.name + PUBLIC)
    load_public_key(beside)
    return _content(beside, f"the key {shorten(beside.name)}", "a public key")


def _content(path: Path, where: str, expected: str) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(_LARGEST)
    except FileNotFoundError as error:
        raise InputRefused((Fault(where, "no such file", expected, _MAKE),)) from error
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "an unreadable file"
        raise InputRefused(
            (Fault(where, reason, expected, "Check the file and its permissions."),)
        ) from error
