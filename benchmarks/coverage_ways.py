"""Ways of making a 95 % interval of the difference of the last condition and the first."""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.inference.engine import Engine, contrast, make_engine
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.kenward_roger import contrast_freedom, small_sample
from ohmsworth.inference.reml import Fit, fit_reml
from ohmsworth.inference.unequal import levels_to_split

COVERAGE = 0.95
TITLES = {
    "normal": "REML, normal",
    "bounded": "Kenward-Roger, bounded",
    "default": "this",
    "equal": "this, scatter equal",
}


def weights(design: Design) -> np.ndarray:
    """The last condition minus the first."""
    found = np.zeros(design.conditions)
    found[-1], found[0] = 1.0, -1.0
    return found


def engines(design: Design) -> tuple[Engine, Engine]:
    """By default, and with equal scatter: fitted once where both are the same model."""
    equal = make_engine(design, "equal")
    alike = not levels_to_split(design, "auto") and not design.paired
    return (equal if alike else make_engine(design, "auto")), equal


def bounded_fit(equal: Engine) -> Fit:
    """REML with every variance at zero or above and one scatter for all; the engine's own fit where it is that."""
    return equal.fit if (equal.fit.variance >= 0).all() else fit_reml(equal.design)


def told(engine: Engine) -> Estimate:
    """What Ohmsworth answers with."""
    return contrast(engine, engine.design.conditions - 1, 0)[2]


def estimates(default: Engine, equal: Engine) -> dict[str, Estimate]:
    """The difference by every way; a peer is the normal distribution, the other Kenward and Roger at the zero bound."""
    fit = bounded_fit(equal)
    parts, along = small_sample(fit), weights(fit.design)
    middle, adjusted = float(along @ fit.mean), max(float(along @ parts.adjusted @ along), 0.0)
    return {
        "normal": Estimate(middle, float(along @ parts.plain @ along), np.inf),
        "bounded": Estimate(middle, adjusted, contrast_freedom(parts, along)),
        "default": told(default),
        "equal": told(equal),
    }
