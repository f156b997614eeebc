"""One line at a time on the terminal, in letters that it has."""

from __future__ import annotations

import sys


def say(text: str) -> None:
    """Print `text` at once; a terminal that is gone is no reason to stop serving."""
    if sys.stdout is None:
        return
    encoding = sys.stdout.encoding or "utf-8"
    readable = "".join(c if c.isprintable() or c == "\n" else "�" for c in text)
    try:
        sys.stdout.write(readable.encode(encoding, "replace").decode(encoding) + "\n")
        sys.stdout.flush()
    except OSError:
        sys.stdout = None
