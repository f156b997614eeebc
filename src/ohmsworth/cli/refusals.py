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


def check_targets(html: Path | None, pdf: Path | None, letter: Path | None = None) -> None:
    """Refuse a report or a letter whose name says another kind of file, or whose folder is not there.

    Raises
    ------
    InputRefused
        With every such fault; nothing was written.
    """
    faults = target_faults((("--html", html), ("--pdf", pdf), ("--letter", letter)))
    if faults:
        raise InputRefused(tuple(faults))


#: Endings that an option's file cannot have, or the only one that it can.
_NOT = {
    "--html": (".pdf",), "--pdf": (".html", ".htm"), "--letter": (".html", ".htm", ".pdf", ".json", ".csv", ".toml"),
    "--netlist": (".html", ".htm", ".pdf", ".s2p"),
}  # fmt: skip
_ONLY = {"--touchstone": ".s2p", "--sheet": ".csv"}
#: A name that says what an option's file is.
_SUCH_AS = {
    "--html": "report.html",
    "--letter": "letter.txt",
    "--pdf": "report.pdf",
    "--sheet": "sheet.csv",
    "--netlist": "lead.cir",
    "--touchstone": "lead.s2p",
}


def target_faults(targets: Sequence[tuple[str, Path | None]]) -> list[Fault]:
    """What is wrong with the names of files to be written, each after its option."""
    faults = []
    for option, path in targets:
        if path is None:
            continue
        where, ending = f"{option} {shorten(str(path), 200)}", path.suffix.lower()
        if ending in _NOT.get(option, ()) or ending != _ONLY.get(option, ending):
            name = _SUCH_AS[option]
            other = ", or take the other option." if option in _NOT else "."
            mend = f"Write {option} {path.stem[:40]}{Path(name).suffix}{other}"
            found = f"the ending {path.suffix}" if ending else "no ending"
            faults.append(Fault(where, found, f"a name such as {name}", mend))
        if not os.path.lexists(path.parent):
            found = f"no folder {shorten(str(path.parent), 200)}"
            mend = "Make the folder first, or correct its name."
            faults.append(Fault(where, found, "a folder that is there", mend))
    return faults


def folder_faults(folder: Path | None) -> list[Fault]:
    """What is wrong with the folder for pictures, which is made where only it is missing."""
    if folder is None or os.path.isdir(folder):
        return []
    where = f"--pictures {shorten(str(folder), 200)}"
    if os.path.lexists(folder):
        return [Fault(where, "a file", "a folder", "Choose another name for the folder.")]
    if not os.path.lexists(folder.parent):
        found = f"no folder {shorten(str(folder.parent), 200)} to make it in"
        mend = "Make that folder first, or correct its name."
        return [Fault(where, found, "a folder that is there, or can be made", mend)]
    return []
