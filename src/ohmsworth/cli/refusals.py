"""The faults of a refusal in print: identical ones of one column told once, every line named."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from ohmsworth.errors import Fault, InputRefused, shorten

#: So many identical faults are told as one.
ALIKE = 3
_LINE = re.compile(r"(?P<file>[^,]+), line (?P<line>[0-9]+)(?P<rest>(?:, column .*)?)")


def grouped(faults: Sequence[Fault]) -> list[Fault]:
    """`faults`, those that differ by their line alone as one where the first of them stands."""
    groups: dict[tuple[str, ...], list[int]] = {}
    keys = []
    for fault in faults:
        match = _LINE.fullmatch(fault.where)
        place = (match["file"], match["rest"]) if match else (fault.where,)
        keys.append((*place, fault.found, fault.expected, fault.mend))
        groups.setdefault(keys[-1], []).append(int(match["line"]) if match else 0)
    told = []
    for fault, key in zip(faults, keys, strict=True):
        lines = groups[key]
        if len(lines) < ALIKE or len(key) == 4:
            told.append(fault)
        elif lines[0] == int(_LINE.sub(r"\g<line>", fault.where)):
            where = f"{key[0]}, {len(lines)} rows, lines {ranges(lines)}{key[1]}"
            told.append(replace(fault, where=where))
    return told


def ranges(lines: Sequence[int]) -> str:
    """``2–19, 23``: every one of `lines`, runs as ranges."""
    runs: list[list[int]] = []
    for line in sorted(lines):
        if runs and line == runs[-1][1] + 1:
            runs[-1][1] = line
        else:
            runs.append([line, line])
    return ", ".join(f"{low}–{high}" if high > low else f"{low}" for low, high in runs)


def check_targets(html: Path | None, pdf: Path | None) -> None:
    """Refuse a report whose name says another kind of file, or whose folder is not there.

    Raises
    ------
    InputRefused
        With every such fault; nothing was written.
    """
    faults = []
    for option, path, other in (("--html", html, ".pdf"), ("--pdf", pdf, ".html")):
        if path is None:
            continue
        where = f"{option} {shorten(str(path), 200)}"
        wrong = (other, ".htm") if other == ".html" else (other,)
        if path.suffix.lower() in wrong:
            mend = f"Write {option} {path.stem[:40]}.{option[2:]}, or take the other option."
            faults.append(
                Fault(where, f"the ending {path.suffix}", f"a name such as report.{option[2:]}", mend)
            )
        if not os.path.lexists(path.parent):
            found = f"no folder {shorten(str(path.parent), 200)}"
            faults.append(
                Fault(where, found, "a folder that is there", "Make the folder first, or correct its name.")
            )
    if faults:
        raise InputRefused(tuple(faults))
