"""A certificate and its key: whether they go together, whose names they hold, and until when."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from ohmsworth.errors import Fault, InputRefused

#: Of OpenSSL; the times are compared here, so that they can be said.
_WITHOUT_TIMES = 0x200000


@dataclass(frozen=True, slots=True)
class Certificate:
    """Names (and IP addresses) that it holds for, until when, and what the server needs of it."""

    names: frozenset[str]
    until: datetime
    context: ssl.SSLContext

    def covers(self, name: str) -> bool:
        """Whether browsers take it for `name`."""
        return name in self.names or f"*.{name.partition('.')[2]}" in self.names


def read_certificate(certificate: Path, key: Path, now: datetime) -> Certificate:
    """Read both files as the server will use them.

    Raises
    ------
    InputRefused
        When one cannot be read, they do not go together, or today is not between the dates.
    """
    for option, path in (("--certificate", certificate), ("--key", key)):
        try:
            path.read_bytes()
        except OSError as error:
            raise _refused(
                option, f"{path}: {error.strerror}", "a file that can be read", "See where it is."
            ) from error
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.minimum_version = ssl.TLSVersion.TLSv1_2
    try:
        server.load_cert_chain(certificate, key, password=lambda: "")
    except ssl.SSLError as error:
        if error.reason == "KEY_VALUES_MISMATCH":
            raise _refused(
                "--key", f"{key}, which belongs to another certificate", "the key of the certificate", MEND
            ) from error
        raise _refused(
            "--certificate", f"{certificate} and {key}: {error.reason}", "PEM files", MEND
        ) from error
    stated = _stated(server, certificate)
    begins, ends = (_moment(stated[name]) for name in ("notBefore", "notAfter"))
    if not begins <= now <= ends:
        found = f"one that holds from {begins:%Y-%m-%d} until {ends:%Y-%m-%d}"
        raise _refused("--certificate", found, f"one that holds on {now:%Y-%m-%d}", "Have it renewed.")
    names = frozenset(value.lower() for _, value in stated.get("subjectAltName", ()))
    return Certificate(names, ends, server)


MEND = "Give both as PEM files, the key without a password: --certificate bench.pem --key bench-key.pem."


def _stated(server: ssl.SSLContext, path: Path) -> dict[str, Any]:
    """What the certificate says: the server shows it to a client in memory, which trusts it and nothing else."""
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = False
    client.verify_flags |= ssl.VerifyFlags.VERIFY_X509_PARTIAL_CHAIN | _WITHOUT_TIMES
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    try:
        client.load_verify_locations(path)
        asking = client.wrap_bio(to_client, to_server, server_hostname="bench")
        answering = server.wrap_bio(to_server, to_client, server_side=True)
        for _ in range(4):
            for side in (asking, answering):
                try:
                    side.do_handshake()
                except ssl.SSLWantReadError:
                    continue
        return asking.getpeercert() or {}
    except (ssl.SSLError, ValueError) as error:
        reason = getattr(error, "verify_message", "") or getattr(error, "reason", "") or str(error)
        raise _refused("--certificate", f"{path}: {reason}", "a certificate for a server", MEND) from error


def _moment(text: str) -> datetime:
    return datetime.fromtimestamp(ssl.cert_time_to_seconds(text), UTC)


def _refused(where: str, found: str, expected: str, mend: str) -> InputRefused:
    return InputRefused((Fault(where, found, expected, mend),))
