"""What went wrong in the store, in words: what it means for what was kept, and how to mend it."""

from __future__ import annotations

import sqlite3

from sqlalchemy import exc

from ohmsworth.adapters.records.place import Place
from ohmsworth.work.records import RecordsFault

SAFE = "Everything kept before is safe"

#: By the beginning of the name that SQLite gives the error: the longest that fits counts.
_SQLITE = {
    "SQLITE_BUSY": (
        "{} are in use by another program that does not let go.",
        f"{SAFE}; this was not kept. Close the other program, then try again.",
    ),
    "SQLITE_LOCKED": (
        "{} are in use by another program that does not let go.",
        f"{SAFE}; this was not kept. Close the other program, then try again.",
    ),
    "SQLITE_FULL": (
        "The disk is full: {} cannot grow.",
        f"{SAFE}; this was not kept. Make room on the disk, then try again.",
    ),
    "SQLITE_READONLY": (
        "{} cannot be written: the file or its folder is read-only.",
        f"{SAFE}; this was not kept. Allow this user to write both the file and its folder, then try again.",
    ),
    "SQLITE_PERM": (
        "{} cannot be opened: this user may not.",
        "Nothing is lost. Allow this user to read and write both the file and its folder.",
    ),
    "SQLITE_CANTOPEN": (
        "{} cannot be opened: the file is gone, or this user may not read and write it and its folder.",
        "Nothing that is in the file is lost. See that it is there, and that this user may write both it and its folder.",
    ),
    "SQLITE_NOTADB": (
        "{} are not a records file: something else stands in it.",
        "It was left as it is. Give another path, or restore the newest backup to a new path.",
    ),
    "SQLITE_CORRUPT": (
        "{} are damaged.",
        "Stop writing, keep the file and those beside it with its name as they are, and restore the newest backup anew.",
    ),
    "SQLITE_IOERR": (
        "The disk does not read or write {} as it should.",
        f"{SAFE}; this was not kept. See that the disk is there, has room and is sound, then try again.",
    ),
}

_POSTGRES = {
    "42501": (
        "{}: this user may not do that in the database.",
        "Nothing is lost. Give the user the right to make and write tables in the database.",
    ),
    "25006": ("{} cannot be written: the database is read-only.", f"{SAFE}; this was not kept."),
    "53100": (
        "The disk of the database is full: {} cannot grow.",
        f"{SAFE}; this was not kept. Make room on its disk, then try again.",
    ),
    "55P03": (
        "{} are held by another program that does not let go.",
        f"{SAFE}; this was not kept. Try again; if it stays so, look for a program that left a transaction open.",
    ),
    "53300": (
        "{} take no more connections.",
        f"{SAFE}; this was not kept. Try again in a moment, or allow more connections.",
    ),
    "XX00": (
        "{} are damaged.",
        "Stop writing, keep the database as it is, and restore the newest backup into a new one.",
    ),
}

_AWAY = (
    "{} cannot be reached: the database does not answer.",
    f"{SAFE}; this was not kept. See that the database runs and the network is up, then try again.",
)

#: On the way in the server gives no code, but its words begin with this.
_REFUSED = (
    "{} cannot be opened: the database answers, but does not let this user in, or is not there.",
    f"{SAFE}; this was not kept. Look at what it says, and at the address of the records.",
)

#: Of PostgreSQL: the connection is gone or the server is coming or going; two transactions were in each other's way.
_GONE = ("08", "57P")
_CLASHED = ("40001", "40P01", "23505")


def fault_of(error: Exception, place: Place) -> RecordsFault:
    """`error` as a person at a bench can act on it."""
    cause = error.orig if isinstance(error, exc.DBAPIError) else error
    if isinstance(error, exc.TimeoutError):
        return _fault(
            ("{}: too many are waiting for them.", f"{SAFE}; this was not kept. Try again."), place, error
        )
    if isinstance(cause, sqlite3.Error):
        words = _of_table(_SQLITE, getattr(cause, "sqlite_errorname", "") or "")
    else:
        away = _REFUSED if not _state(error) and "FATAL:" in str(cause) else _AWAY
        words = away if is_away(error) else _of_table(_POSTGRES, _state(error))
    return _fault(words or ("{}: this could not be done.", f"{SAFE}; this was not kept."), place, cause)


def busy(place: Place, cause: Exception) -> RecordsFault:
    """Another writer does not let go."""
    return _fault(_SQLITE["SQLITE_BUSY"], place, cause)


def read_only(place: Place, cause: Exception) -> RecordsFault:
    """What belongs beside the file cannot be made."""
    return _fault(_SQLITE["SQLITE_READONLY"], place, cause)


def is_away(error: Exception) -> bool:
    """Whether the PostgreSQL server is not there (now), so that the same may succeed in a moment."""
    if not isinstance(error, exc.DBAPIError) or isinstance(error.orig, sqlite3.Error):
        return False
    state = _state(error)
    if state:
        return state.startswith(_GONE)
    return error.connection_invalidated or type(error.orig).__name__ == "OperationalError"


def is_clash(error: Exception) -> bool:
    """Whether another transaction came first, so that the same has to be done anew from its beginning."""
    return _state(error).startswith(_CLASHED)


def _state(error: Exception) -> str:
    return getattr(getattr(error, "orig", error), "sqlstate", None) or ""


def _of_table(table: dict[str, tuple[str, str]], code: str) -> tuple[str, str] | None:
    fits = [known for known in table if code.startswith(known)]
    return table[max(fits, key=len)] if fits else None


def _fault(words: tuple[str, str], place: Place, cause: BaseException | None) -> RecordsFault:
    what, mend = words
    sentence = what.format(place.words)
    detail = " ".join(str(cause).split())[:200]
    return RecordsFault(f"{sentence[0].upper()}{sentence[1:]} {mend} (The store says: {detail})")
