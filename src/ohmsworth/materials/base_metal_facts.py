"""Base metals of contacts, copper and its alloys: what each is good and bad at."""

from __future__ import annotations

from ohmsworth.materials.conductors import COPPER_RESISTIVITY
from ohmsworth.materials.facts import PlatingFacts, Statement
from ohmsworth.materials.span import Span


def of_conductivity(low: float, high: float) -> Span:
    """Resistivity in ohm metre of an alloy whose conductivity is `low` to `high` parts of 100 % IACS."""
    return Span(COPPER_RESISTIVITY / high, COPPER_RESISTIVITY / low)


_BARE = Statement("Bare it turns dark: as a contact surface it is plated.", "practice", "tarnish")
_FRETS = Statement("Bare it frets.", "fretting-memory", "fretting")

COPPER = PlatingFacts(
    name="copper",
    base=True,
    resistivity=of_conductivity(0.97, 1.02),
    thickness=None,
    force=None,
    good=(
        Statement("Conducts best of what one can afford: 100 % IACS.", "IACS", "conductivity"),
        Statement("Corrodes some hundred times slower indoors than outdoors.", "indoor-corrosion", "tarnish"),
        Statement("Cheap beside its alloys for springs.", "practice", "cost"),
    ),
    bad=(
        Statement("Too soft for a spring: it gives way and loses its force.", "practice", "force"),
        _BARE,
        _FRETS,
        Statement("On gold, and damp, the copper corrodes.", "anodic-index", "galvanic"),
        Statement("Slides badly on itself: it sticks.", "practice", "lubricity"),
    ),
    notes=(Statement("97 to 102 % IACS by purity and hardness.", "plating-handbooks", "conductivity"),),
)

BRASS = PlatingFacts(
    name="brass",
    base=True,
    resistivity=of_conductivity(0.25, 0.28),
    thickness=None,
    force=None,
    good=(
        Statement("Cheap, and easy to turn: the usual metal of pins and shells.", "practice", "cost"),
        Statement("28 % IACS (70 parts copper, 30 zinc).", "copper-guide", "conductivity"),
    ),
    bad=(
        Statement("A weak spring that tires and gives way when warm.", "practice", "force"),
        Statement(
            "Zinc creeps through silver and gold: it needs nickel or copper between.", "practice", "tarnish"
        ),
        _BARE,
        _FRETS,
        Statement("Under tension and with ammonia near, it cracks.", "practice", "use"),
        Statement("On gold, and damp, the brass corrodes.", "anodic-index", "galvanic"),
    ),
    notes=(Statement("25 to 28 % IACS, by zinc and lead.", "plating-handbooks", "conductivity"),),
)

PHOSPHOR_BRONZE = PlatingFacts(
    name="phosphor bronze",
    base=True,
    resistivity=of_conductivity(0.13, 0.20),
    thickness=None,
    force=None,
    good=(
        Statement("A good spring that resists fatigue.", "bronze-data", "force"),
        Statement("Costs less than beryllium copper.", "practice", "cost"),
    ),
    bad=(
        Statement("Conducts 14 to 20 % of what copper does.", "bronze-data", "conductivity"),
        _BARE,
        _FRETS,
        Statement("On gold, and damp, the bronze corrodes.", "anodic-index", "galvanic"),
    ),
    notes=(Statement("13 % IACS with 8 parts of tin in the hundred.", "plating-handbooks", "conductivity"),),
)

BERYLLIUM_COPPER = PlatingFacts(
    name="beryllium copper",
    base=True,
    resistivity=of_conductivity(0.15, 0.60),
    thickness=None,
    force=None,
    good=(
        Statement("Among the strongest springs: high force in a small socket.", "copper-guide", "force"),
        Statement("Keeps its force when warm.", "practice", "heat"),
    ),
    bad=(
        Statement("Dear.", "copper-guide", "cost"),
        Statement("The strong alloys conduct 15 to 30 % of what copper does.", "plating-handbooks", "conductivity"),
        _BARE,
        _FRETS,
        Statement("On gold, and damp, it is the beryllium copper that corrodes.", "plating-handbooks", "galvanic"),
    ),
    notes=(
        Statement("Alloys with little beryllium reach 45 to 60 % IACS.", "plating-handbooks", "conductivity"),
        Statement(
            "Do not file, sand, grind or overheat it: beryllium dust and fume harm the lungs for life. Follow its "
            "safety data sheet and local rules.",
            "practice",
            "safety",
        ),
    ),
)  # fmt: skip
