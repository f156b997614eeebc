"""What has been observed of tarnish, to hold the estimates to and to read beside them."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.materials.facts import Statement
from ohmsworth.materials.span import Span


@dataclass(frozen=True, slots=True)
class Observation:
    """A film that somebody measured.

    Parameters
    ----------
    words
        Where and what.
    time
        Second.
    thickness
        Metre, on silver.
    added
        Ohms added at low force, unwiped; None where it was not measured.
    source
        A key of SOURCES.
    """

    words: str
    time: float
    thickness: float
    added: Span | None
    source: str


_SIX_MONTHS = 365.25 / 2 * 86400
OBSERVATIONS: tuple[Observation, ...] = (
    Observation("museum in urban air, inside a display case", _SIX_MONTHS, 180e-10, None, "silver-museum"),
    Observation("museum in urban air, outside a display case", _SIX_MONTHS, 280e-10, None, "silver-museum"),
    Observation("office air", 3000 * 3600.0, 500e-10, Span(0.1, 1.0), "TamaiKuranaga"),
)

#: How silver is kept.
KEEP_SILVER = Statement(
    "Rubber, wool, felt, some papers and paints give off sulfur and tarnish silver in a closed drawer faster than "
    "room air does. Keep silver in plain polyethylene bags, with paper that takes up sulfur.",
    "practice",
    "tarnish",
)
#: What is known in words.
TARNISH_FACTS: tuple[Statement, ...] = (
    Statement(
        "Hydrogen sulfide and carbonyl sulfide tarnish silver alike; carbon disulfide and sulfur dioxide more than "
        "ten times less.",
        "Franey",
        "tarnish",
    ),
    Statement(
        "Silver tarnishes indoors about as fast as outdoors; copper and nickel corrode some hundred times "
        "slower indoors.",
        "indoor-corrosion",
        "tarnish",
    ),
    Statement(
        "Rubbed to and fro by 50 µm at a force of 0.1 N, a tarnished silver contact soon reads only slightly more "
        "than an untarnished one.",
        "Bresgen",
        "tarnish",
    ),
    Statement(
        "Pressed without rubbing, up to 5 N, a tarnished contact reads more than ten times a chemically cleaned one; "
        "from 5 N on the film is crushed through.",
        "silver-load",
        "force",
    ),
    Statement(
        "Silver sulfide is a semiconductor: its resistance depends on voltage, polarity and time.",
        "Russ",
        "tarnish",
    ),
    KEEP_SILVER,
)
