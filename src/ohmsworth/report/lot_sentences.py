"""A lot's plan and verdict in words."""

from __future__ import annotations

from ohmsworth.inference.lots.verdicts import ACCEPT, NOT_YET, REJECT
from ohmsworth.report.lot_answer import LotAnswer, LotMeasuredAnswer, LotPlanAnswer, PieceRiskAnswer
from ohmsworth.report.sentences import bench_in_doubt, bench_sentence, bench_warning
from ohmsworth.report.words import capital, count
from ohmsworth.units import show, show_stated


def lot_sentence(answer: LotAnswer) -> str:
    """The answer in one sentence."""
    if answer.inspection == "discontinued" and answer.measured is None:
        return "Take no lot: five were rejected under tightened inspection, and nothing shows that the cause is mended."
    if answer.measured is None or answer.plan is None:
        return plan_sentence(answer)
    verdict = (
        f"{_VERDICTS[answer.verdict or NOT_YET]} {lot_words(answer)}: {_because(answer, answer.measured)}."
    )
    return " ".join([*bench_warning(answer.bench), verdict])


_VERDICTS = {ACCEPT: "Accept", REJECT: "Reject", NOT_YET: "Cannot tell yet about"}
_SAID = {ACCEPT: "is accepted", REJECT: "is rejected", NOT_YET: "can be neither accepted nor rejected yet"}


def judged_sentence(answer: LotAnswer) -> str:
    """What became of a lot whose sample was measured, in one sentence for whoever buys it."""
    assert answer.measured is not None
    said, why = _SAID[answer.verdict or NOT_YET], held_back(answer)
    if answer.verdict == ACCEPT and why:
        said = f"is not accepted, because {why}; by its sample alone it would be"
    verdict = f"{capital(lot_words(answer))} {said}: {_because(answer, answer.measured)}."
    return " ".join([*bench_warning(answer.bench), verdict])


def held_back(answer: LotAnswer) -> str:
    """Why nobody may rely on a lot's sample, however it turned out; "" for nothing."""
    if bench_in_doubt(answer.bench):
        return "the bench is in doubt"
    return "inspection is discontinued" if answer.inspection == "discontinued" else ""


def lot_words(answer: LotAnswer) -> str:
    """``the lot of 200``."""
    return "the lot" if answer.size is None else f"the lot of {answer.size:,}".replace(",", "\u202f")


def plan_sentence(answer: LotAnswer) -> str:
    """What to draw and when to accept, in plain words."""
    plan, limit = answer.plan, _limit(answer)
    assert plan is not None
    whole = answer.size is not None and plan.sample >= answer.size
    draw = (
        f"Measure all {plan.sample} pieces of the lot"
        if whole
        else f"Draw {count(plan.sample, 'piece')} at random from {lot_words(answer)} and measure each"
    )
    if plan.k is not None:
        return f"{draw}; accept the lot when {_distance_rule(answer, plan.k)}."
    first = f"{draw}; accept the lot when {_at_most(plan.accepted or 0)} over {limit}"
    if plan.kind == "double":
        return (
            f"{first}, reject it when {plan.rejected} or more are; otherwise draw {plan.second} more and accept it when "
            f"{_at_most(plan.accepted_both or 0)} in all."
        )
    return f"{first}, and reject it otherwise."


def _at_most(number: int) -> str:
    return "none is" if number == 0 else "at most one is" if number == 1 else f"at most {number} are"


def _distance_rule(answer: LotAnswer, k: float) -> str:
    scale = " on the logarithmic scale" if answer.scale == "log" else ""
    return (
        f"their {_middle(answer)} lies at least {k:.2f} times their scatter below {_limit(answer)}{scale} (the program does the "
        "sum)"
    )


def _middle(answer: LotAnswer) -> str:
    return "median" if answer.scale == "log" else "mean"


def _limit(answer: LotAnswer) -> str:
    """The limit, not broken at a line's end."""
    return show_stated(answer.limit.resistance, "Ω").replace(" ", "\u00a0")


def _because(answer: LotAnswer, found: LotMeasuredAnswer) -> str:
    pieces = f"{count(found.specimens, 'piece')} measured"
    if answer.verdict == NOT_YET and found.more:
        return f"{pieces}, {found.more} more wanted{_so_far(answer, found)}"
    if answer.verdict == NOT_YET and any(w.code == "CONDITION_MOVING" for w in answer.warnings):
        return f"the readings of {pieces} do not settle, and no average of them accepts a lot"
    if found.distance_least is not None:
        return _because_of_distance(answer, found, pieces)
    limit = _limit(answer)
    close = f" and {found.close} {_is(found.close)} too close to call" if found.close else ""
    over = "none" if found.over == 0 else str(found.over)
    return f"of {pieces} {over} {_is(found.over)} over {limit}{close}; {_allowed(int(found.held_against))}"


def _is(number: int) -> str:
    return "is" if number < 2 else "are"


def _allowed(number: int) -> str:
    if number < 0:
        return "a sample of this size can accept no lot"
    return "none may be over" if number == 0 else f"at most {number} may be over"


def _so_far(answer: LotAnswer, found: LotMeasuredAnswer) -> str:
    if answer.plan is not None and answer.plan.k is not None:
        return ""
    return f" ({found.over} over and {found.close} too close to call so far)"


def _because_of_distance(answer: LotAnswer, found: LotMeasuredAnswer, pieces: str) -> str:
    """How far the middle lies off the limit, told from the side that decides."""
    least, most = found.distance_least or 0.0, found.distance_most
    needed = f"{found.held_against:.2f} times are needed"
    if answer.verdict == ACCEPT:
        return (
            f"even with what the measurement hides counted against it, the {_middle(answer)} of {pieces} lies "
            f"{_far(least, answer)}, and {needed}"
        )
    if answer.verdict == REJECT:
        return (
            f"even with what the measurement hides counted in its favour, the {_middle(answer)} of {pieces} lies "
            f"{'' if (most or 0.0) < 0 else 'only '}{_far(most or 0.0, answer)}, and {needed}"
        )
    end = "without end" if most is None else f"{most:.2f} times"
    span = f"{least:.2f} to {end}".replace("-", "−")
    return (
        f"the {_middle(answer)} of {pieces} lies {span} their scatter below {_limit(answer)}, depending on what the measurement "
        f"hides, and {needed}"
    )


def _far(distance: float, answer: LotAnswer) -> str:
    if distance < 0:
        return f"above {_limit(answer)}"
    return f"{distance:.2f} times their scatter below {_limit(answer)}"


def in_hundred(chance: float) -> str:
    """``95 times in 100``."""
    if chance >= 0.9995:
        return "practically always"
    if chance < 0.0005:
        return "practically never"
    number = 100 * chance
    return f"{number:.0f} times in 100" if 0.995 <= number <= 99.005 else f"{number:.1f} times in 100"


def share_words(share: float) -> str:
    """``1 %``, ``0.65 %``, not broken at a line's end."""
    return f"{100 * share:.2g}\u00a0%" if share < 0.995 else "100\u00a0%"


def lot_findings(answer: LotAnswer, guard: str | float) -> tuple[str, ...]:
    """What stands beside the sentence."""
    found: list[str] = []
    plan = answer.plan
    if plan is not None:
        found.append(
            f"What the plan risks: it accepts a lot with {share_words(answer.acceptable)} over the limit "
            f"{in_hundred(plan.accepts_acceptable)}, one with {share_words(answer.rejectable)} over "
            f"{in_hundred(plan.accepts_rejectable)}."
        )
    if answer.measured is not None:
        found.append(_share_sentence(answer, answer.measured))
    if answer.measured is not None and plan is not None:
        found.append(f"The plan was: {plan_sentence(answer)}")
    found += _sorting(answer.piece_risks)
    if answer.bench is not None and not bench_in_doubt(answer.bench):
        found.append(bench_sentence(answer.bench))
    found.append(_inspection_sentence(answer))
    if plan is not None and plan.kind == "double":
        found.append(
            f"From a lot with {share_words(answer.acceptable)} over the limit it draws {plan.drawn_on_average:.0f} on average."
        )
    if answer.others and answer.measured is None:
        found.append(_others_sentence(answer))
    if answer.measured is None:
        found.append(f"A piece near the limit is judged with {guard_words(guard, answer.coverage)}.")
    return tuple(found)


def _share_sentence(answer: LotAnswer, found: LotMeasuredAnswer) -> str:
    confidence = f"{100 * found.confidence:g}\u00a0%"
    low = f", and at least {share_words(found.share_low)} (either with" if found.share_low else " (with"
    return (
        f"Of the lot, about {share_words(found.share)} are over the limit; at most {share_words(found.share_high)}{low} "
        f"{confidence} confidence{', both measurement and sampling counted in' if answer.plan else ''})."
    )


def _sorting(risks: tuple[PieceRiskAnswer, ...]) -> list[str]:
    """The consumer's and the producer's risk of the guard band in use, in pieces of a thousand."""
    used = next((risk for risk in risks if risk.chosen), None)
    if used is None:
        return []
    bad, good = (
        f"{1000 * risk:.2g}" if risk >= 5e-6 else "under 0.01" for risk in (used.consumer, used.producer)
    )
    passed = show(used.passed_up_to, "Ω")
    told = f"{bad} would be passed though over the limit (consumer's risk)"
    held = f"{good} held back though within (producer's risk)"
    return [
        f"If every piece were sorted by its reading, passed up to {passed}: of 1000 pieces like these {told}, and {held}."
    ]


def _inspection_sentence(answer: LotAnswer) -> str:
    record = f"by the record of {count(answer.lots_before, 'lot')}"
    told = {
        "normal": "Inspection is normal"
        + (f" {record}." if answer.lots_before else ": no lots on record yet."),
        "tightened": f"Inspection is tightened {record}: two of five in a row were rejected; the plan asks for shares 1.6 times "
        "smaller.",
        "reduced": f"Inspection is reduced {record}: ten in a row were accepted; the plan lets shares be 2.5 times larger, so "
        "its risks at the shares you named are larger than you asked for.",
        "discontinued": f"Inspection is discontinued {record}: five were rejected under tightened inspection.",
    }
    return told[answer.inspection]


def _others_sentence(answer: LotAnswer) -> str:
    return "For the same risks, " + "; ".join(_other(plan) for plan in answer.others) + "."


def _other(plan: LotPlanAnswer) -> str:
    if plan.kind == "variables":
        return f'measuring (method = "variables") would draw {plan.sample}'
    if plan.kind == "double":
        return (
            f'two samples (sampling = "double") would draw {plan.sample} and perhaps {plan.second} more, '
            f"{plan.drawn_on_average:.0f} on average from a good lot"
        )
    return f'counting (method = "attributes") would draw {plan.sample}'


def guard_words(guard: str | float, coverage: float) -> str:
    """The guard band in words."""
    if isinstance(guard, float):
        return (
            f"a guard band that lets {100 * guard:g} % of all pieces through though they are over (where too little is "
            f"known for that: one for {100 * coverage:g} % confidence)"
        )
    told = {
        "none": "no guard band: the reading alone decides",
        "U": "a guard band of U, twice the standard uncertainty",
        "1.645 u": "a guard band of 1.645 standard uncertainties",
        "confidence": f"a guard band for {100 * coverage:g} % confidence",
    }
    return told[guard]


def lot_method(answer: LotAnswer, guard: str | float) -> tuple[str, ...]:
    """How the plan and the verdict were reached."""
    finite = answer.size is not None
    counts = "hypergeometric (the lot is finite)" if finite else "binomial (a supply without end)"
    method = [
        f"Each piece is judged with {guard_words(guard, answer.coverage)}; a piece counts by its worst contact."
    ]
    if answer.plan is not None and answer.plan.k is not None:
        method += [
            "Standard deviation method (s): the plan and its curve by the non-central t distribution, exact for "
            + ("normal logarithms of the resistance." if answer.scale == "log" else "normal resistances."),
            _INFLATION,
            f"The bound of the share by the non-central t at the least distance; measured {_on(answer)}.",
        ]
    else:
        method += [
            f"Counting: the chance of so many bad ones in a sample is {counts}; the plan is the smallest that holds both risks.",
            "Uncertainty by guarding: a piece too close to call is counted as bad to accept the lot, as good to reject it.",
            "Bounds of the share are exact binomial ones (Clopper and Pearson), which are safe for a finite lot.",
        ]
    method.append(
        "Switching by the record: tightened after two of five rejected, normal again after five accepted, discontinued after "
        "five rejected while tightened, reduced after ten accepted until one is rejected."
    )
    if answer.published is not None:
        method.append(
            f"Beside it, the published table for this lot, level II, acceptance quality limit "
            f"{share_words(answer.published.limit)}: it holds the producer's risk roughly, the consumer's not at all."
        )
    return tuple(method)


_INFLATION = (
    "Uncertainty by inflation: to accept, the mean is moved towards the limit by the guard band of what all readings share, "
    "and the scatter is taken as observed, with the measurement's in it; to reject, both are taken the other way."
)


def _on(answer: LotAnswer) -> str:
    return "on logarithms" if answer.scale == "log" else "on ohms"


def lot_sources(method: str, recorded: bool) -> list[str]:
    """Keys of the sources that a lot's answer leans on."""
    keys = ["JCGM106", "MIL-STD-105E"]
    keys += ["MIL-STD-414"] if method == "variables" else ["ClopperPearson"]
    return keys + (["ISO2859-1"] if recorded else [])
