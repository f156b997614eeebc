"""What can go wrong, in words that a person at a bench can act on.

Every error is an :class:`OhmsworthError`; each is also the built-in error that a programmer would expect.
"""

from __future__ import annotations

from dataclasses import dataclass


class OhmsworthError(Exception):
    """Root of every error that this package raises on purpose."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with what was handed in.

    Parameters
    ----------
    where
        File, and row, column or key inside it.
    found
        What stands there (shortened).
    expected
        What would have been accepted.
    mend
        What to do about it.
    """

    where: str
    found: str
    expected: str
    mend: str

    def __str__(self) -> str:
        return f"{self.where}: found {self.found}; expected {self.expected}. {self.mend}"


class InputRefused(OhmsworthError, ValueError):
    """The input holds faults; all of them are listed, and nothing was written."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


class QuantityFault(OhmsworthError, ValueError):
    """A text is not the quantity that was asked for."""

    def __init__(self, found: str, expected: str, mend: str) -> None:
        super().__init__(f"found {found}; expected {expected}. {mend}")
        self.found = found
        self.expected = expected
        self.mend = mend


class ArgumentFault(OhmsworthError, ValueError):
    """A function was called with a value outside its range of validity."""

    def __init__(self, name: str, got: object, wanted: str) -> None:
        super().__init__(f"{name}: got {got!r}, wanted {wanted}")
        self.name = name


class UnknownName(OhmsworthError, LookupError):
    """A name (of a conductor, plating, use, ...) is not known; the message offers the nearest."""

    def __init__(self, kind: str, name: str, known: tuple[str, ...]) -> None:
        nearest = nearest_name(name, known)
        hint = f" Did you mean {nearest!r}?" if nearest else ""
        super().__init__(f"unknown {kind} {shorten(name)}.{hint} Known: {', '.join(known)}")
        self.nearest = nearest
        self.known = known


class OutputFault(OhmsworthError, OSError):
    """A file could not be written."""


def nearest_name(name: str, known: tuple[str, ...], cutoff: float = 0.6) -> str | None:
    """The known name most like `name`, or None when none is close."""
    import difflib  # only on the way to an error message

    lowered = {candidate.lower(): candidate for candidate in known}
    close = difflib.get_close_matches(name[:80].lower(), list(lowered), n=1, cutoff=cutoff)
    return lowered[close[0]] if close else None


def shorten(text: str, limit: int = 40) -> str:
    """`text` quoted for a message: one line, no control characters, at most `limit` characters."""
    clean = "".join(c if c.isprintable() else "�" for c in text[: limit + 1])
    return repr(clean if len(text) <= limit else clean[:limit] + "…")
