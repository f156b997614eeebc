"""Names of files that are safe to write into a folder, whoever sent them and whatever the system."""

from __future__ import annotations

import re
import unicodedata

#: Characters of a name that is made here, and of one that is taken as it comes.
LONGEST, LONGEST_TAKEN = 120, 200
_RESERVED = re.compile(r"(?:con|prn|aux|nul|clock\$|com[0-9¹²³]|lpt[0-9¹²³])(?:\.|$)", re.IGNORECASE)
_FORBIDDEN = re.compile(r'[\\/:*?"<>|]')


def is_plain(name: str) -> bool:
    """Whether `name` is that of one file in its folder, on every common system."""
    return bool(name) and safe_name(name, longest=LONGEST_TAKEN) == name


def safe_name(text: str, otherwise: str = "file", longest: int = LONGEST) -> str:
    """`text` as the name of a file: one part, no character that a system forbids, at most `longest` characters."""
    clean = unicodedata.normalize("NFC", text)
    clean = "".join("_" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp") else c for c in clean)
    clean = _FORBIDDEN.sub("_", clean).strip().strip(".").strip() or otherwise
    clean = f"_{clean}" if _RESERVED.match(clean) else clean
    if len(clean) <= longest:
        return clean
    stem, dot, ending = clean.rpartition(".")
    if not dot or len(ending) > 12 or not stem:
        return clean[:longest].rstrip(". ")
    return f"{stem[: longest - len(ending) - 1].rstrip('. ')}.{ending}"


def paper_name(number: str) -> str:
    """What the file of a certificate is called."""
    return safe_name(f"certificate-{number}.json")
