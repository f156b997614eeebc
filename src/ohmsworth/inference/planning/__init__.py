"""Before anything is read: which design has a good chance to reach its verdict, and which of them is cheapest."""

from ohmsworth.inference.planning.cheapest import (
    Layout,
    Option,
    Prices,
    best_within,
    cheapest_options,
    minutes,
)
from ohmsworth.inference.planning.goals import DETECT, EQUIVALENCE, GOALS, LIMIT, Goal, chance_of, smallest_p
from ohmsworth.inference.planning.levels import Levels
from ohmsworth.inference.planning.order_statistics import specimens_without_model

__all__ = [
    "DETECT",
    "EQUIVALENCE",
    "GOALS",
    "LIMIT",
    "Goal",
    "Layout",
    "Levels",
    "Option",
    "Prices",
    "best_within",
    "chance_of",
    "cheapest_options",
    "minutes",
    "smallest_p",
    "specimens_without_model",
]
