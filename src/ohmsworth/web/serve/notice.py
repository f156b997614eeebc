"""A note beside the records that says where they are served, so that a second start finds the first one.

The note holds a secret. Whoever asks the server named in it sends a number of its own; only the server that wrote the note can
answer with that number's code under the secret. So a stranger that has taken the port later is not taken for the bench.
"""

from __future__ import annotations

import hmac
import json
import os
import secrets
from collections.abc import Callable
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path

from ohmsworth.web.proof import HEALTH, code_of

SUFFIX = ".bench"
#: Rounds in which a note that nobody answers for is taken away.
ROUNDS = 5


@dataclass(frozen=True, slots=True)
class Notice:
    """Where records are served.

    Parameters
    ----------
    pid
        Of the program.
    address
        What a browser is sent to, such as ``http://127.0.0.1:8614/``.
    ask
        Where the server is asked who it is: host and port, joined by a colon.
    secure
        Whether it is asked over TLS.
    secret
        What only that server knows.
    """

    pid: int
    address: str
    ask: str
    secure: bool
    secret: str


def new_secret() -> str:
    """A secret for a note."""
    return secrets.token_hex(32)


def read_notice(path: Path) -> Notice | None:
    """The note at `path`; None where there is none, or nothing that can be read."""
    try:
        return Notice(**json.loads(path.read_text("utf-8")))
    except (OSError, ValueError, TypeError):
        return None


def claim(path: Path, own: Notice, answers: Callable[[Notice], bool]) -> Notice | None:
    """Put `own` at `path`, or return the note of the server that has the records already.

    `own` has to be listening: another start may ask it from now on. Where no note can be written, none is: the records can
    be served all the same.
    """
    for _ in range(ROUNDS):
        try:
            _write_new(path, own)
        except FileExistsError:
            other = read_notice(path)
            if other is not None and other.pid != own.pid and answers(other):
                return other
            _take_away(path, other)
        except OSError:
            return None
        else:
            return None
    return None


def withdraw(path: Path, own: Notice) -> None:
    """Take the own note away; another's is left."""
    _take_away(path, own)


def _write_new(path: Path, notice: Notice) -> None:
    handle = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump(asdict(notice), file)


def _take_away(path: Path, known: Notice | None) -> None:
    """Take away the note that was read; one that has been put there since is put back."""
    aside = path.with_name(f"{path.name}.{secrets.token_hex(4)}")
    with suppress(OSError):
        path.rename(aside)
        if read_notice(aside) != known:
            with suppress(OSError):
                aside.rename(path)
        aside.unlink(missing_ok=True)


def ask(notice: Notice, patience: float = 5.0) -> bool:
    """Whether the server of `notice` answers, and is the one that wrote it."""
    import http.client
    import ssl

    number = secrets.token_hex(16)
    host, _, port = notice.ask.rpartition(":")
    connection: http.client.HTTPConnection
    try:
        if notice.secure:
            # The code proves who answers; the certificate is made out to another name than the loopback's.
            context = ssl.create_default_context()
            context.check_hostname, context.verify_mode = False, ssl.CERT_NONE
            connection = http.client.HTTPSConnection(host, int(port), timeout=patience, context=context)
        else:
            connection = http.client.HTTPConnection(host, int(port), timeout=patience)
        try:
            connection.request("GET", f"{HEALTH}?number={number}", headers={"Host": _called(notice)})
            answer = json.loads(connection.getresponse().read(10_000))
        finally:
            connection.close()
        return hmac.compare_digest(str(answer["code"]), code_of(notice.secret, number))
    except (OSError, ValueError, KeyError, TypeError, http.client.HTTPException):
        return False


def _called(notice: Notice) -> str:
    from urllib.parse import urlsplit

    return urlsplit(notice.address).netloc
