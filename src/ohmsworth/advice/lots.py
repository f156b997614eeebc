"""What to do with a lot: how to draw and measure its sample, what its verdict asks for, what the record asks for."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.actions import Action, settle_conditions
from ohmsworth.advice.cautions import HIGH_CURRENT, UNPOWERED
from ohmsworth.inference.lots.switching import Inspection
from ohmsworth.inference.lots.verdicts import ACCEPT, REJECT
from ohmsworth.readings.home import FOLDER, Home


def draw_sample(number: int, whole: bool, home: Home = FOLDER) -> list[Action]:
    """Draw and measure so many pieces; `whole` says that this is all there are, `home` where the study is kept."""
    drawn = (
        "Take every piece of the lot and number it."
        if whole
        else f"Draw {number} pieces from all over the lot, by lots or by a list of random numbers, and number them."
    )
    why = (
        "The lot is so small that a sample would say too little."
        if whole
        else "A plan speaks only of pieces that all had the same chance to be drawn; those on top of a box often come "
        "from one hour of one machine."
    )
    write, again = "write readings.csv, one specimen a piece", "Run 'ohmsworth lot' on the folder again."
    if home.kept:
        write, again = "type each at the bench, one specimen a piece", "Look at this page again."
    return [
        Action(drawn, why),
        Action(
            f"Measure each by four wires, current forward and reversed, mate it again and repeat; {write}.",
            "Without repetition nothing is known of the uncertainty, and pieces near the limit stay too close to call.",
            (UNPOWERED, HIGH_CURRENT),
        ),
        Action(again, "It judges the lot by this plan."),
    ]


def after_verdict(
    verdict: str, over: Sequence[str], close: Sequence[str], home: Home = FOLDER
) -> list[Action]:
    """What an accepted or a rejected lot asks for; `over` and `close` name pieces in the sample, `home` where it is kept."""
    actions = []
    if verdict == ACCEPT:
        actions.append(Action("Sell the lot.", "The plan accepts it."))
        if over or close:
            actions.append(
                Action(
                    f"Keep back {_named([*over, *close])}.",
                    "A lot is accepted with a few bad ones in it; those that were found need not be sold.",
                )
            )
    if verdict == REJECT:
        actions.append(
            Action(
                "Hold the lot back: return it to the maker, or measure every piece and sell those that are within.",
                "The plan rejects it. Do not draw again until a sample passes: that undoes the plan.",
                (UNPOWERED,),
            )
        )
    if verdict in (ACCEPT, REJECT):
        where = "record in the text of the question" if home.kept else "record in study.toml"
        actions.append(
            Action(
                f'Add "{verdict}ed" to the end of {where} of the next lot.',
                "How strictly the next lot is looked at follows from it.",
            )
        )
    return actions


def undecided(why: str, more: int, close: Sequence[str]) -> list[Action]:
    """What would decide; `why` as in the verdict."""
    if why == "sample":
        return [
            Action(
                f"Draw and measure {more} more {'piece' if more == 1 else 'pieces'} of the same lot.",
                "The sample is not complete.",
                (UNPOWERED,),
            )
        ]
    if why == "close":
        return [
            Action(
                f"Measure {_named(close)} again: more matings, or a better meter.",
                "The lot's verdict hangs on them, and each is too close to the limit to call.",
                (UNPOWERED,),
            )
        ]
    if why == "moving":
        return [settle_conditions(["all"], True)]
    if why == "meter":
        return [
            Action(
                "Measure with a better meter, or have this one calibrated, before you decide.",
                "What all readings share (the meter's gain) reaches across the line between accept and reject; more pieces do "
                "not help.",
                (UNPOWERED,),
            )
        ]
    return [
        Action(
            "Mate and read every piece more often, and ask again.",
            "The scatter of matings and readings hides how much the pieces themselves differ.",
            (UNPOWERED,),
        )
    ]


def by_record(inspection: Inspection) -> list[Action]:
    """What the state of inspection asks for beside the plan."""
    if inspection == "discontinued":
        return [
            Action(
                "Take no further lot from this maker until the cause is found and mended; begin a new record then.",
                "Five lots were rejected under tightened inspection.",
            )
        ]
    if inspection == "reduced":
        return [
            Action(
                "Reduce only while the supply is steady: go back to normal inspection (begin a new record) when the maker, the "
                "batch or the packing changes.",
                "Ten lots in a row were accepted, which speaks for what was, not for what is new.",
            )
        ]
    return []


def _named(names: Sequence[str]) -> str:
    shown = ", ".join(names[:8])
    return f"{shown} and {len(names) - 8} more" if len(names) > 8 else shown
