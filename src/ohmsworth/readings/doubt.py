"""A doubt about readings: a code that programs can rely on, the rows, and what to do."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that the reader of the answer should know.

    Parameters
    ----------
    code
        Stable upper-case code, listed in ``docs/warnings.md``.
    words
        What is doubtful, in a sentence.
    rows
        Lines of ``readings.csv`` concerned; empty when it is about the study as a whole.
    mend
        What to do about it.
    """

    code: str
    words: str
    rows: tuple[int, ...]
    mend: str
