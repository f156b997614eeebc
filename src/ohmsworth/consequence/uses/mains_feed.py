"""A mains feed: line, neutral and protective earth, with contacts at both ends."""

from __future__ import annotations

from ohmsworth.consequence.rule import Curve, Kind
from ohmsworth.consequence.use import Use
from ohmsworth.consequence.uses.mains_circuit import check_mains
from ohmsworth.consequence.uses.mains_rules import mains_rules
from ohmsworth.consequence.uses.mains_settings import MAINS_SETTINGS

CAUTIONS = (
    (
        "Mains voltage kills. Work on mains wiring is for licensed electricians under local codes; this tool gives no "
        "permission for it, whatever figure it shows."
    ),
    (
        "Before anything is touched: disconnect, lock out against being switched on again, and prove dead, conductor by "
        "conductor, with a tester that is proved before and after."
    ),
    "Read the contacts of a lead only while it is unplugged at both ends and nothing is connected to it.",
    (
        "A figure below a threshold releases nothing: insulation, polarity, strain relief, protective devices and workmanship "
        "are not looked at here. Local codes and the makers' instructions prevail."
    ),
    (
        "A plug, socket or cable that is hot, brown, soft or smells of burning: switch off at the board, keep it out of use, "
        "and call a licensed electrician."
    ),
)


def _no_curves(_use: Use) -> tuple[Curve, ...]:
    """There is one frequency, that of the mains."""
    return ()


#: What follows every sentence about it.
PROVISO = "A figure gives no permission to use a mains feed or to work on it: local codes and a licensed electrician come first."
MAINS_FEED = Kind(
    "mains feed",
    MAINS_SETTINGS,
    check_mains,
    mains_rules,
    _no_curves,
    CAUTIONS,
    cable="two-core",
    proviso=PROVISO,
)
