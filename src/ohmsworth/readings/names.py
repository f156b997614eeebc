"""Names that look like a slip of the typist's, and specimens of which hardly anything was read."""

from __future__ import annotations

import re
from collections import defaultdict

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.home import FOLDER, Home, counted_as, to_look
from ohmsworth.readings.table import Labels, ReadingTable, distinct_pairs
from ohmsworth.units import tidy

#: Letters that a word needs before one of them can be a slip: shorter words are told apart by a letter.
_SHORTEST = 4
#: A wrong letter is a slip only in a name that is this much rarer than the right one.
_RARER = 2
#: A specimen with a fourth of its fellows' rows, where those have at least four, is one that was hardly read.
_FEWER, _ROWS, _FELLOWS = 4, 4, 2
#: A blank that is not all that keeps two numbers apart: 'ch 1' is 'ch1', '1 12' is not '11 2'.
_BLANK = re.compile(r"(?<!\d) | (?!\d)")
_DIGITS, _WORDS = re.compile(r"\d+"), re.compile(r"[^\W\d_]+")


def clean_name(text: str) -> str:
    """A name with its blanks made one kind and single, so that names which look alike are one."""
    return " ".join(tidy(text).split())


def column_name(text: str) -> str:
    """The name that a heading goes by, whatever its capitals and blanks."""
    return " ".join(text.lower().replace("_", " ").split())


def pair_name(plug: str, socket: str) -> str:
    """The name of plug and socket together, where a reading has no other."""
    return f"{clean_name(plug)} × {clean_name(socket)}"


def twin_key(text: str) -> str:
    """What two names share that differ in capital letters and blanks only."""
    return _BLANK.sub("", text.casefold())


def find_odd_names(table: ReadingTable, home: Home = FOLDER) -> list[Doubt]:
    """Doubts NEAR_NAMES and FEW_ROWS."""
    return [
        *_near("condition", table.condition, table),
        *_near("specimen", table.specimen, table),
        *_few(table, home),
    ]


def _near(column: str, labels: Labels, table: ReadingTable) -> list[Doubt]:
    rows = np.bincount(labels.codes, minlength=len(labels.names))
    found = []
    for a, b in _one_slip_apart([labels.names[c] if rows[c] else "" for c in range(len(rows))], rows):
        rare, usual = (a, b) if rows[a] <= rows[b] else (b, a)
        found.append(
            Doubt(
                "NEAR_NAMES",
                f"the {column} '{labels.names[rare]}' is one typing slip away from '{labels.names[usual]}': one "
                "and the same, or two?",
                tuple(table.line[labels.codes == rare].tolist()),
                f"If they are one, write the name in one way; if two, nothing. They are taken as two {column}s.",
            )
        )
    return found


def _one_slip_apart(names: list[str], rows: np.ndarray) -> list[tuple[int, int]]:
    """Pairs of names with the same numbers and words, but for one slip in one word."""
    # Names that are one slip apart share a name with a letter left out, if no more than one is missing.
    sharing: dict[str, list[int]] = defaultdict(list)
    for i, name in enumerate(names):
        text = name.casefold()
        for short in {text, *(text[:k] + text[k + 1 :] for k in range(len(text)) if text[k].isalpha())}:
            sharing[short].append(i)
    pairs = {(a, b) for group in sharing.values() for a in group[:20] for b in group[:20] if a < b}
    return sorted(
        pair for pair in pairs if _is_slip(names[pair[0]], names[pair[1]], *rows[list(pair)].tolist())
    )


def _is_slip(a: str, b: str, rows_a: int, rows_b: int) -> bool:
    """Digits decide: 'new 1' and 'new 2' are two."""
    a, b = a.casefold(), b.casefold()
    if _DIGITS.findall(a) != _DIGITS.findall(b) or _WORDS.sub("", a) != _WORDS.sub("", b):
        return False
    words = [(v, w) for v, w in zip(_WORDS.findall(a), _WORDS.findall(b), strict=False) if v != w]
    if len(words) != 1 or min(map(len, words[0])) < _SHORTEST:
        return False
    v, w = words[0]
    if len(v) != len(w):
        return abs(len(v) - len(w)) == 1 and _dropped(*sorted((v, w), key=len))
    wrong = [k for k in range(len(v)) if v[k] != w[k]]
    if len(wrong) == 2:
        k, m = wrong
        return m == k + 1 and v[k] == w[m] and v[m] == w[k]
    return len(wrong) == 1 and max(rows_a, rows_b) >= _RARER * min(rows_a, rows_b)


def _dropped(short: str, long: str) -> bool:
    return any(long[:k] + long[k + 1 :] == short for k in range(len(long)))


def _few(table: ReadingTable, home: Home) -> list[Doubt]:
    """Specimens with far fewer rows than the others under their condition, all of which have more."""
    unique, pair = distinct_pairs(table.condition.codes, table.specimen.codes)
    rows = np.bincount(pair, minlength=len(unique))
    found = []
    for c in np.unique(unique[:, 0]):
        mine = np.flatnonzero(unique[:, 0] == c)
        usual = float(np.median(rows[mine]))
        few = mine[rows[mine] * _FEWER <= usual]
        if usual < _ROWS or len(few) == 0 or len(mine) - len(few) < max(_FELLOWS, 3 * len(few)):
            continue
        for i in few:
            condition, specimen = (int(code) for code in unique[i])
            own = (table.condition.codes == condition) & (table.specimen.codes == specimen)
            found.append(_few_doubt(table, own, int(rows[i]), usual, home))
    return found


def _few_doubt(table: ReadingTable, own: np.ndarray, rows: int, usual: float, home: Home) -> Doubt:
    specimen = table.specimen.names[table.specimen.codes[own][0]]
    many = counted_as(home)
    have = f"1 {many[:-1]}" if rows == 1 else f"{rows} {many}"
    return Doubt(
        "FEW_ROWS",
        f"{specimen} has {have}, the others of its condition {usual:.0f} as a rule: another specimen's name, mistyped?",
        tuple(table.line[own].tolist()),
        f"{to_look(home)}; correct the name, or read that specimen as often as the others. It counts as a "
        "specimen of its own.",
    )
