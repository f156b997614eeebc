"""Remedies with plain numbers, for checks of courses and care."""

from ohmsworth.advice.remedies import Remedy, Step
from ohmsworth.inference.outcomes import Prior


def remedy(name: str, minutes: float, material: float, helps: float, harm: float = 0.0) -> Remedy:
    """A remedy of one step."""
    steps = (Step(f"Do the {name}.", minutes),)
    return Remedy(name, f"Do {name}", f"doing {name}", steps, material, Prior(helps, 2.0), harm=harm)
