"""A rule: one effect of a use as a function of contact resistance, with the value from which it matters."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ohmsworth.consequence.use import Array, Setting, Use, Worse

Compute = Callable[[Array], Array]

BOTH_LEGS = "every contact of both legs"
ONE_LEG = "every contact of one leg, the other leg ideal"
LEGS_AND_SCREEN = "every contact of both legs and of the screen"


@dataclass(frozen=True, slots=True)
class Rule:
    """How an effect is computed and judged.

    Parameters
    ----------
    compute
        Ohm of each contact at `position`, any shape, to the effect in `unit`, same shape.
    passing
        The sentence that is true at the threshold.
    reason, source
        Why the threshold is what it is by default.

    Notes
    -----
    The others are those of `Effect`.
    """

    key: str
    words: str
    unit: str
    frequency: float | None
    position: str
    worse: Worse
    compute: Compute
    threshold: float | None
    passing: str
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of use: its settings, what must hold between them, its rules, and its curves over frequency.

    Parameters
    ----------
    check
        Raises ArgumentFault when settings that are each acceptable do not go together.
    curves
        Use, ohm of shape (n,), hertz of shape (m,) to named arrays of shape (n, m).
    """

    kind: str
    settings: tuple[Setting, ...]
    check: Callable[[Use], None]
    rules: Callable[[Use], tuple[Rule, ...]]
    curves: Callable[[Use, Array, Array], dict[str, Array]]
