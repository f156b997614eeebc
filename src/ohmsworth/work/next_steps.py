"""What to do next about an answer, in the order in which it should be done."""

from __future__ import annotations

from collections.abc import Callable

from ohmsworth.advice import (
    Action,
    Compared,
    check_rows,
    check_takes,
    for_bound,
    for_circuit,
    for_comparisons,
    for_datasheet,
    for_nothing,
    for_passed,
    for_specimens,
    for_uncompared,
    for_uses,
    settle_conditions,
    settle_contacts,
    with_cautions,
)
from ohmsworth.advice.bench import bench_moved
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL
from ohmsworth.readings.home import FOLDER, Home
from ohmsworth.report.against_limit import UNKNOWN, verdict_word
from ohmsworth.report.answer import (
    MOVING,
    STATED_MARGIN,
    ActionAnswer,
    Answer,
    ComparisonAnswer,
    SpecimenAnswer,
)
from ohmsworth.report.factors import one_contact
from ohmsworth.report.sentences import (
    bench_in_doubt,
    cheapest,
    is_past,
)
from ohmsworth.report.states import (
    GRAVE,
    best_condition,
    better,
    beyond_signal,
    does_not_settle,
    former,
    helped,
    in_doubt,
    mostly_in_doubt,
    moving_conditions,
    worst_condition,
)
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.report.use_words import unmet, unmet_words
from ohmsworth.report.words import listed, natural

#: Left out for a reason that needs no look at the bench sheet.
_EXPLAINED = ("SET_ASIDE", "STILL_MOVING", "CHECK_STANDARD")


#: From about this current on leads and contacts get hot, ampere.
_HIGH_CURRENT = 0.9


def next_steps(answer: Answer, home: Home = FOLDER) -> tuple[ActionAnswer, ...]:
    """Actions: mend the readings first, then the contacts, then the conclusion.

    Where most readings are in grave doubt there is nothing to do but to check them. `home` is where the study is kept.
    """
    actions = [bench_moved(home)] if bench_in_doubt(answer.bench) else []
    actions += [
        check_rows(w.rows, w.words, True, home)
        if w.code in GRAVE
        else check_takes(w.rows, w.words, w.what_to_do, home)
        for w in in_doubt(answer)
    ]
    actions += [
        check_rows(w.rows, w.words, False, home)
        for w in answer.warnings
        if w.set_aside and w.code not in _EXPLAINED
    ]
    if not mostly_in_doubt(answer):
        actions += _for_contacts(answer, home)
    actions = actions or [_done(answer, home)]
    bound = [
        for_bound(use.name, use.proviso, _unmet(use), use.cautions) for use in answer.uses if use.proviso
    ]
    powerful = (answer.largest_current or 0.0) >= _HIGH_CURRENT
    return tuple(_told(action) for action in [*with_cautions(actions, powerful), *bound])


def _done(answer: Answer, home: Home) -> Action:
    """What to say when nothing has to be done."""
    if answer.limit is None:
        return for_nothing(home)
    one_mating = any(w.code == "ONE_MATING" for w in answer.warnings)
    bound = any(use.proviso for use in answer.uses)
    return for_passed(len(answer.specimens), beyond_signal(answer), one_mating, bound)


def _for_contacts(answer: Answer, home: Home) -> list[Action]:
    """What to do with the contacts as they are now."""
    actions = _settle(answer)
    harmless = _harmless(answer)
    actions += for_specimens(
        _which(answer, lambda s: s.verdict == OVER, "any of the" if harmless else "all"),
        _which(answer, lambda s: s.verdict == OPEN and s.probability_within is not None),
        _which(answer, lambda s: s.verdict == OPEN and verdict_word(s) == UNKNOWN),
        harmless,
        home,
    )
    actions += _conclusions(answer, home) + _datasheet(answer)
    free = [use for use in answer.uses if not use.proviso]
    return actions + [for_circuit(use.name, words, home) for use in free for words in _unmet(use)]


def _unmet(use: UseAnswer) -> list[str]:
    """What a circuit does not meet by itself, each once."""
    return list(dict.fromkeys(unmet_words(use, threshold) for threshold in unmet(use)))


def _settle(answer: Answer) -> list[Action]:
    """Let come to rest what still moves: whole conditions, then single contacts."""
    restless = {c.condition for c in moving_conditions(answer)}
    gone = former(answer)
    actions = [
        settle_conditions(names, present)
        for names, present in ((sorted(restless - gone), True), (sorted(restless & gone), False))
        if names
    ]
    moving = {
        s.id for s in answer.specimens if s.state == MOVING and s.latest and s.condition not in restless
    }
    return actions + ([settle_contacts(sorted(moving, key=natural))] if moving else [])


def _conclusions(answer: Answer, home: Home) -> list[Action]:
    """What the comparisons ask for, and the uses."""
    margin = answer.margin
    # What cannot be told because a condition does not settle asks for that first.
    told = [c for c in one_contact(answer) if c.verdict == ENOUGH or not does_not_settle(c, answer)]
    every = len(told) == len(answer.comparisons)
    if margin is None or margin.source == STATED_MARGIN:
        actions = for_comparisons(
            [_compared(c, answer) for c in told], "as far as the stated margin goes", every, home
        )
        return [for_uncompared(), *actions] if _uncompared(answer) else actions
    # What is past a use's threshold is not well because the others are no better.
    to_mend = _to_mend(answer)
    judging = (best_condition if to_mend else worst_condition)(answer)
    past = is_past(margin, judging)
    judged = [c for c in told if past is False or c.verdict != TOO_SMALL]
    named, go = _judging(answer)
    actions = for_comparisons([_compared(c, answer) for c in judged], f"as far as {named} {go}", every, home)
    if _uncompared(answer):
        actions.append(for_uncompared())
    unclear = past is None and judging.state == MOVING
    if (past is not False or not answer.comparisons) and not unclear:
        actions.append(for_uses(past, named, go))
    return actions


def _judging(answer: Answer) -> tuple[str, str]:
    """The uses by which contacts are judged, and whether they "go" or one "goes": none that no number may release."""
    names = [f"'{use.name}'" for use in answer.uses if not use.proviso]
    if len(names) == len(answer.uses):
        return "the uses named", "go"
    return listed(names), "goes" if len(names) == 1 else "go"


def _to_mend(answer: Answer) -> bool:
    """Whether some contacts are worse by enough to matter, and still are."""
    return any(c.verdict == ENOUGH and not helped(c) for c in answer.comparisons)


def _datasheet(answer: Answer) -> list[Action]:
    """Changes that brought the same contacts within the limit, though the difference does not matter, or may not."""
    found = []
    for c in one_contact(answer):
        if c.read_last is None or helped(c) or c.read_last != better(c):
            continue
        first = c.against if c.read_last == c.of else c.of
        were = [s.verdict for s in answer.specimens if s.condition == first]
        are = [s.verdict for s in answer.specimens if s.condition == c.read_last]
        if were.count(OVER) > 0 and are.count(OVER) == 0:
            many = were.count(OVER)
            told = (
                f"all {many} were"
                if many == len(were) > 1
                else f"{many} of {len(were)} {'was' if many == 1 else 'were'}"
            )
            found.append(for_datasheet(first, c.read_last, told))
    return found


def _uncompared(answer: Answer) -> bool:
    return answer.reference is not None and not answer.comparisons


def _harmless(answer: Answer) -> str:
    """By what being over the limit makes no difference that matters; "" when it may make one."""
    margin, limit = answer.margin, answer.limit
    if margin is None or limit is None or _to_mend(answer):
        return ""
    stated = margin.source == STATED_MARGIN
    # A use says which resistance matters; a stated margin, which change does.
    most = margin.resistance + (limit.resistance if stated else 0.0)
    over = [s for s in answer.specimens if s.verdict == OVER and s.latest]
    restless = {c.condition for c in moving_conditions(answer)}
    if any(s.high is None or s.high >= most or s.condition in restless for s in over):
        return ""
    return "by the stated margin" if stated else f"in {_judging(answer)[0]}"


def _which(answer: Answer, chosen: Callable[[SpecimenAnswer], bool], every: str = "all") -> str:
    """The chosen specimens as they are now, in words, condition by condition."""
    parts = []
    for condition in answer.conditions:
        who = f"'{condition.condition}' contacts" if len(answer.conditions) > 1 else "contacts"
        mine = [s for s in answer.specimens if s.condition == condition.condition and s.latest]
        names = sorted((s.id for s in mine if chosen(s)), key=natural)
        if len(names) == len(mine) > 2:
            parts.append(f"{every} {len(mine)} {who}")
        elif names:
            parts.append(listed(names) + (f" ({condition.condition})" if len(answer.conditions) > 1 else ""))
    return "; ".join(parts)


def _compared(found: ComparisonAnswer, answer: Answer) -> Compared:
    needed = cheapest(found.settle)
    value, low, high = (
        v or 0.0 for v in (found.difference.value, found.difference.low, found.difference.high)
    )
    apart = low > 0 or high < 0 or found.verdict == ENOUGH
    return Compared(
        found.of,
        found.against,
        found.verdict,
        (found.of if value > 0 else found.against) if apart else "",
        found.margin is not None,
        (needed.specimens_per_condition, needed.matings_per_specimen) if needed else None,
        found.read_last,
        found.read_last not in former(answer),
    )


def _told(action: Action) -> ActionAnswer:
    return ActionAnswer(action.words, action.why, action.cautions)
