"""What to do for a bench: before the day begins, and to make it tell more."""

from __future__ import annotations

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cautions import UNPOWERED
from ohmsworth.readings.home import FOLDER, Home, stated_in

#: What reduces each source of uncertainty of a bench; the meters' own are those of a budget.
BENCH_REMEDIES = {
    "repeatability": "average several trials; clean and seat the clips; a larger current if the film allows it",
    "operators": "agree on one way to clip on and to wait, and let everybody practise it",
    "specimen × operator": "fix the leads to the specimen in one place, so that everybody reads the same stretch",
    "day to day": "let the meters warm up, keep the temperature, read the check standard each day",
    "scatter of the check standard": "average several readings; reverse the current; keep the temperature",
}


def look_first(suspects_meter: bool) -> list[Action]:
    """What to look at when the check standard says that the bench is not as it was."""
    actions = [
        Action(
            "Measure no contacts for a verdict yet. Clean the clips, seat the check standard anew, wait, and read it again.",
            "A poor clip, a reversed lead or a meter that is still warming up is the usual cause, and the cheapest to mend.",
            (UNPOWERED,),
        ),
        Action(
            "If it stays so: change one thing at a time (leads, battery, meter, current source) and read it again each time.",
            "What you change back and forth with the reading is the cause.",
        ),
    ]
    if suspects_meter:
        actions.append(
            Action(
                "If nothing helps, have the meter or the check standard compared with another.",
                "One of the two has moved; the charts cannot say which.",
            )
        )
    return actions


def begin_checks(have: int, wanted: int, home: Home = FOLDER) -> Action:
    """Begin, or go on, to read a check standard."""
    if have == 0:
        where = "under Bench fitness" if home.kept else "and write it into check.csv"
        return Action(
            f"Keep one stable low resistor as a check standard, read it each day before the work, {where}.",
            "Without it nothing shows that the bench is today as it was yesterday.",
            (UNPOWERED,),
        )
    return Action(
        f"Go on reading the check standard each day: {have} so far, {wanted} make dependable limits.",
        "Limits from few checks are rough.",
        (UNPOWERED,),
    )


def bench_moved(home: Home = FOLDER) -> Action:
    """The check standard was off when contacts were read."""
    where = "Bench fitness" if home.kept else "'ohmsworth fitness'"
    return Action(
        f"Before you pass these figures on, read the check standard again: {where} says what to look at.",
        "The check standard says that the bench was not as it was when its limits were set.",
        (UNPOWERED,),
    )


def finer_digit() -> Action:
    """The checks are all alike."""
    return Action(
        "Read the check standard on a range with a finer last digit, or with a larger current.",
        "Checks that are all alike show the meter's last digit and not its scatter.",
        (UNPOWERED,),
    )


def read_again_tomorrow() -> Action:
    """Nothing stands in the way of today's work."""
    return Action(
        "Go ahead. Read the check standard again before the next day's work, and after anything on the bench was changed.",
        "The verdict holds for the last check and the bench as it stood then.",
        (UNPOWERED,),
    )


def make_study(home: Home = FOLDER) -> Action:
    """Nothing is known of repeatability."""
    who = (
        "each says who is at the bench"
        if home.kept
        else "write who read into the column 'operator' of readings.csv"
    )
    return Action(
        f"Make a repeatability study: five specimens or more, two operators or more, each three times; {who}.",
        "The check standard shows the bench at one resistor only, and not who reads it.",
        (UNPOWERED,),
    )


def improve(source: str, share: float, remedy: str) -> Action:
    """The largest line of the budget."""
    return Action(
        f"To tell more, begin with {source}: {remedy}.",
        f"It makes {100 * share:.0f} % of the variance; anything else changes less.",
        (UNPOWERED,),
    )


def state_meters(home: Home = FOLDER) -> Action:
    """No meter's accuracy is stated."""
    keys = "" if home.kept else " ([bench.voltmeter], [bench.ammeter] or [bench.ohmmeter])"
    return Action(
        f"State {stated_in(home)} what the meters' makers promise{keys}.",
        "An error that is the same in every reading shows in no chart and in no study.",
    )
