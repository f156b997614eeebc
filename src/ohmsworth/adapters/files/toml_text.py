"""A TOML file as a table, or what is wrong with its text."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from ohmsworth.adapters.files.decode import LIKE_A_NEW_STUDY, read_text
from ohmsworth.errors import Fault, shorten


def read_toml(path: Path, missing: str = LIKE_A_NEW_STUDY) -> tuple[dict[str, Any] | None, list[Fault]]:
    """The table of the file; None, with the faults, when it cannot be read. `missing` says how to make one."""
    text, faults = read_text(path, missing)
    if text is None:
        return None, faults
    try:
        return tomllib.loads(text), faults
    except tomllib.TOMLDecodeError as error:
        return None, [_syntax_fault(str(error), text, path.name)]
    except RecursionError:
        found = "brackets inside brackets without end"
        return None, [Fault(path.name, found, "a short file of keys", missing)]
    except ValueError:  # Python's own guard against numbers of thousands of digits
        mend = "Look for a number that was pasted by mistake."
        found = "a number of thousands of digits"
        return None, [Fault(path.name, found, "numbers of a few digits", mend)]


def _syntax_fault(message: str, text: str, name: str) -> Fault:
    place = re.search(r"\(at line (\d+), column (\d+)\)", message)
    where = f"{name}, line {place[1]}, column {place[2]}" if place else f"{name}, last line"
    told = message.split(" (at", maxsplit=1)[0]
    line = text.splitlines()[int(place[1]) - 1] if place and int(place[1]) <= len(text.splitlines()) else ""
    comma = re.fullmatch(r"\s*[\w.-]+\s*=\s*([+-]?[0-9]{1,6}),([0-9]{1,9})\s*(?:#.*)?", line)
    if comma:
        found = f"{comma[1]},{comma[2]} outside quotation marks"
        mend = f"Write {comma[1]}.{comma[2]}, for a number outside quotation marks takes a point."
        return Fault(where, found, "text that is TOML", mend)
    return Fault(
        where,
        f"text that is not TOML ({shorten(told, 120)[1:-1]})",
        'lines such as scale = "log"',
        "Put texts and quantities in quotation marks, one key a line, each key once.",
    )
