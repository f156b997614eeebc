"""A season of work of a shop that does not exist."""

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

__all__ = [
    "OPEN",
    "Design",
    "LikeWires",
    "TrueCable",
    "WireKind",
    "as_test_csv",
    "build",
    "exchanged",
    "touching",
    "with_excess",
]
