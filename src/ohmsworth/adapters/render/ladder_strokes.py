"""The short words on the bar of a lane: one at each further threshold, as far as they fit."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.adapters.render.ladder_frame import Words
from ohmsworth.adapters.render.measure import text_width

SMALL = 11
#: A stroke stands so far from its word.
GAP = 7
#: A disc reaches so far, with a little room around it.
DISC = 8


@dataclass(frozen=True, slots=True)
class Run:
    """Neighbouring marks, the first and last at these pixels, that share their words."""

    first: float
    last: float
    names: tuple[str, ...]

    def full(self) -> str:
        """Every name, in order, none twice."""
        return ", ".join(dict.fromkeys(self.names))

    def short(self) -> str:
        """The first name, and how many there are besides."""
        return f"{self.names[0]} +{len(self.names) - 1}" if len(self.names) > 1 else self.names[0]

    def joined(self, other: Run) -> Run:
        """One run of both, the `other` after it."""
        return Run(self.first, other.last, self.names + other.names)


def stroke_words(
    runs: list[Run], free: float, width: float, y: float, discs: tuple[float, ...] = ()
) -> list[Words]:
    """Words for the marks of a bar that is `free` for words from one pixel on, to `width`, but for `discs` on it.

    Words stand right of their mark. Where the next mark is too close for them the two share their words, which then
    follow the last in the order of the marks; at the right end words stand left of the first, or not at all.
    """
    todo = list(runs)
    words: list[Words] = []
    placed: list[Run] = []
    while todo:
        run = todo.pop(0)
        edge = todo[0].first - GAP if todo else width
        starts = {t: _start(run, t, discs) for t in (run.full(), run.short())}
        text = next((t for t, at in starts.items() if at + text_width(t, SMALL) <= edge), None)
        if text is not None:
            words.append(Words((text,), starts[text], y, size=SMALL))
            placed.append(run)
        elif todo:
            todo[0] = run.joined(todo[0])
        else:
            words = _leftward(run, placed, words, free, y, discs)
    return words


def _start(run: Run, text: str, discs: tuple[float, ...]) -> float:
    """Where `text` begins right of a run and of the discs that it would cover."""
    at = run.last + GAP
    for disc in sorted(discs):
        if at - DISC < disc < at + text_width(text, SMALL) + DISC:
            at = disc + DISC
    return at


def _leftward(
    run: Run, placed: list[Run], words: list[Words], free: float, y: float, discs: tuple[float, ...]
) -> list[Words]:
    """The words of the last `run` left of it, taking in the runs before it until there is room."""
    while True:
        taken = words[-1].ends()[1] + GAP if words else free
        for text in (run.full(), run.short()):
            left = run.first - GAP - text_width(text, SMALL)
            if left >= taken and not any(left - DISC < disc < run.first - GAP + DISC for disc in discs):
                return [*words, Words((text,), run.first - GAP, y, "right", size=SMALL)]
        if not placed:
            return words
        run, placed, words = placed[-1].joined(run), placed[:-1], words[:-1]
