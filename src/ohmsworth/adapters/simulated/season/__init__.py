"""A season of work of a shop that does not exist."""

from ohmsworth.adapters.simulated.season.asked import SHOWN, write_care, write_order
from ohmsworth.adapters.simulated.season.built import CERTIFIED, DRUM_GROWN, FLAWS, LONG, ORDERS
from ohmsworth.adapters.simulated.season.cables import (
    OPEN,
    Design,
    LikeWires,
    TrueCable,
    WireKind,
    as_test_csv,
    build,
    exchanged,
    touching,
    with_excess,
)
from ohmsworth.adapters.simulated.season.visits import (
    AGEING,
    TREATMENTS,
    VISITS,
    Visit,
    write_ageing,
    write_visit,
)
from ohmsworth.adapters.simulated.season.whole import invented_season

__all__ = [
    "AGEING",
    "CERTIFIED",
    "DRUM_GROWN",
    "FLAWS",
    "LONG",
    "OPEN",
    "ORDERS",
    "SHOWN",
    "TREATMENTS",
    "VISITS",
    "Design",
    "LikeWires",
    "TrueCable",
    "Visit",
    "WireKind",
    "as_test_csv",
    "build",
    "exchanged",
    "invented_season",
    "touching",
    "with_excess",
    "write_ageing",
    "write_care",
    "write_order",
    "write_visit",
]
