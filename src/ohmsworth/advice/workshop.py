"""What to do in the workshop before and while a cable is built, in the order of the work."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cautions import CABLE_APART, CABLE_VOLTAGE, CUTTING, SOLDERING


def buy_first(missing: Sequence[str]) -> list[Action]:
    """Wire that is not in stock."""
    if not missing:
        return []
    words = f"Get {'; '.join(missing)}."
    return [Action(words, "Pieces are never spliced: a reel with room for them is needed.")]


def cut_pieces(planned: bool) -> list[Action]:
    """Cutting, by the plan or by the list."""
    which = "reel by reel in the order of the plan" if planned else "by the cut list"
    words = f"Cut the pieces {which}, and mark each with its cable and length at once."
    return [Action(words, "A piece without a mark is measured twice.", (CUTTING,))]


def keep_rests() -> list[Action]:
    """What is left on reels."""
    words = (
        "Write what is left on each reel into the list of reels, and throw away what the plan calls scrap."
    )
    return [Action(words, "The next plan counts on it.")]


def build_and_test() -> list[Action]:
    """What follows."""
    return [
        Action(
            "Strip and terminate by the wiring list of each cable.",
            "It says which wire goes where.",
            (CUTTING, SOLDERING),
        ),
        Action(
            "Test each finished cable, wire by wire, by the test sheet in its report.",
            "Before it leaves the workshop.",
            (CABLE_APART, CABLE_VOLTAGE),
        ),
    ]
