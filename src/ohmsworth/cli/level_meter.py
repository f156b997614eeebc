"""The level of both inputs in the terminal while something is recorded."""

from __future__ import annotations

import sys
from types import TracebackType

from ohmsworth.cli.printing import print_text
from ohmsworth.work.level_check import decibels, show_level

#: Seconds between two lines where a line cannot be written over.
APART = 2.0
#: Characters of a bar, and the level at its beginning in decibels.
WIDTH, LOWEST = 20, -60.0


class MeterLines:
    """One line that is written over in a terminal; a line every two seconds elsewhere.

    Parameters
    ----------
    seconds
        How long it will be.
    inputs
        Numbers of the inputs.
    """

    def __init__(self, seconds: float, inputs: tuple[int, int]) -> None:
        self._seconds, self._inputs = seconds, inputs
        self._over = sys.stdout is not None and sys.stdout.isatty()
        self._next = 0.0
        self._open = False

    def __enter__(self) -> MeterLines:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._open:
            print_text("")

    def show(self, seconds: float, peaks: tuple[float, float]) -> None:
        """Show the peaks of the last moment."""
        text = level_line(seconds, self._seconds, self._inputs, peaks)
        if not self._over:
            if seconds >= self._next:
                self._next = seconds + APART
                print_text(text)
        elif sys.stdout is not None:
            encoding = sys.stdout.encoding or "utf-8"
            sys.stdout.write("\r" + text.encode(encoding, "replace").decode(encoding))
            sys.stdout.flush()
            self._open = True


def level_line(seconds: float, whole: float, inputs: tuple[int, int], peaks: tuple[float, float]) -> str:
    """Time, and a bar and a number for each input; always as wide.

    Examples
    --------
    >>> level_line(2.5, 10.0, (1, 2), (0.5, 0.0))
    '   2.5 of 10.0 s  input 1 [##################..]   −6.0 dB  input 2 [....................]   silence'
    """
    told = [
        f"input {number} [{_bar(peak)}] {show_level(peak):>9}"
        for number, peak in zip(inputs, peaks, strict=True)
    ]
    return f"{seconds:6.1f} of {whole:.1f} s  " + "  ".join(told)


def _bar(peak: float) -> str:
    full = round(WIDTH * min(max(1 - decibels(peak) / LOWEST, 0.0), 1.0)) if peak > 0 else 0
    return "#" * full + "." * (WIDTH - full)
