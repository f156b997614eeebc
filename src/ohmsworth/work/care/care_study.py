"""The use case of care: one contact as found, what it costs to leave it or to treat it, and when to look again."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date

from ohmsworth.advice.care import LEAVE, Care, Found, Option, advise_care, for_care
from ohmsworth.advice.care_costs import CostRange, cost_ranges
from ohmsworth.advice.courses import MEASURE
from ohmsworth.advice.remedies import USUAL_NAMES, PlatingLost, Remedy, usual_remedies
from ohmsworth.consequence import smallest_threshold
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import ActionAnswer, Bound, SourceAnswer
from ohmsworth.report.care.care_answer import (
    FORMAT,
    CareAnswer,
    LeftOutAnswer,
    MakerAnswer,
    NextLookAnswer,
    OptionAnswer,
    SwitchAnswer,
    TrendAnswer,
)
from ohmsworth.report.care.care_pages import care_report, care_summary
from ohmsworth.report.care.care_sentences import (
    care_findings,
    care_method,
    care_sentence,
    option_words,
    switch_words,
)
from ohmsworth.report.document import Document
from ohmsworth.sources import source
from ohmsworth.work.care.found_contact import found_contact
from ohmsworth.work.care.looks import (
    line_of,
    look_answer,
    look_when_treated,
    looks_when_left,
    trend_answer,
    with_found,
)
from ohmsworth.work.care.shop_outcomes import SEED, change_seen, changes_seen, help_answer, outcomes_seen
from ohmsworth.work.care_ports import CareRequest, LoadedCare
from ohmsworth.work.uses import made_uses

#: The only metal whose film is known well enough to tell a day by it.
_TARNISHES = "silver"


@dataclass(frozen=True, slots=True)
class ToldCare:
    """An answer with its report and what of it fits a terminal."""

    answer: CareAnswer
    report: Document
    summary: Document


def report_care(loaded: LoadedCare, today: date) -> ToldCare:
    """Say what to do with a contact, with its report.

    Parameters
    ----------
    loaded
        The question.
    today
        The day of asking, for a contact of which nobody says when it was found.

    Raises
    ------
    InputRefused
        As `care_study`.
    """
    answer = care_study(loaded, today)
    return ToldCare(answer, care_report(answer), care_summary(answer))


def care_study(loaded: LoadedCare, today: date) -> CareAnswer:
    """Say what to do with a contact; as `report_care`.

    Raises
    ------
    InputRefused
        When no use lends a limit, the readings leave their uncertainty open, or a day of the history is still to come.
    """
    request = loaded.request
    today = request.found_on or today
    _refuse_future(loaded, today)
    limit = care_limit(request)
    found, warnings = found_contact(loaded)
    remedies = care_remedies(loaded, limit.resistance)
    plating = request.plating
    care = advise_care(found, limit.resistance, remedies, request.prices, plating.thickness, plating.done)
    trend, look, why = _when(loaded, care, found, limit, today)
    answer = CareAnswer(
        format=FORMAT,
        subject=request.subject,
        sentence="",
        advice=care.best.name,
        findings=(),
        maker=_maker(request),
        asked_on=today.isoformat(),
        coverage=request.coverage,
        currency=request.currency,
        limit=limit,
        resistance=found.resistance,
        standard_uncertainty=found.uncertainty,
        degrees_of_freedom=found.freedom if math.isfinite(found.freedom) else None,
        chance_matters=care.chance_matters,
        options=_options(care, request),
        left_out=tuple(LeftOutAnswer(one.name, one.why) for one in care.left_out),
        switches=(),
        helps=tuple(help_answer(one, loaded.outcomes, request.coverage) for one in care.remedies),
        changes=changes_seen(loaded.outcomes, request.coverage),
        trend=trend,
        next_look=look,
        why_no_look=why,
        actions=tuple(ActionAnswer(a.words, a.why, a.cautions) for a in for_care(care)),
        warnings=warnings,
        method=(),
        sources=(),
    )
    return _told(answer, care)


def _told(answer: CareAnswer, care: Care) -> CareAnswer:
    """The answer with its sentences."""
    switches = tuple(
        SwitchAnswer(
            s.what, s.value, s.at, s.instead, switch_words(s.what, s.value, s.at, s.instead, answer.currency)
        )
        for s in care.switches
    )
    answer = replace(answer, switches=switches)
    method, keys = care_method(answer)
    told = tuple(source(key) for key in keys)
    return replace(
        answer,
        sentence=care_sentence(answer),
        findings=care_findings(answer),
        method=method,
        sources=tuple(SourceAnswer(one.key, one.citation, one.standing) for one in told),
    )


def _refuse_future(loaded: LoadedCare, today: date) -> None:
    later = [row for row in loaded.history if row.day > today]
    mend = "Correct the day."
    told = f"not after {today.isoformat()}"
    faults = [
        Fault(f"history.csv, line {row.line}, column 'date'", row.day.isoformat(), told, mend)
        for row in later
    ]
    if faults:
        raise InputRefused(tuple(faults))


def care_limit(request: CareRequest) -> Bound:
    """Above which the contact matters: as stated, else the smallest threshold of the uses.

    Raises
    ------
    InputRefused
        Where no use lends one.
    """
    if request.limit is not None:
        return Bound(request.limit.resistance, request.limit.source)
    threshold = smallest_threshold(made_uses(request.uses))
    if threshold is None or threshold.resistance is None:
        found = "uses that lend no resistance to care by"
        mend = 'State it: [limit] with resistance = "..." and its source. Work on mains is never judged by such a number.'
        raise InputRefused(
            (Fault("care.toml, key 'use'", found, "a use with a threshold that can be reached", mend),)
        )
    return Bound(threshold.resistance, f"{threshold.use}: {threshold.words}")


def care_remedies(loaded: LoadedCare, limit: float) -> tuple[Remedy, ...]:
    """The usual remedies that the shop can do, with what its records say of them, what is forbidden, what they take off."""
    request = loaded.request
    maker = request.maker
    forbidden = {} if maker is None else dict.fromkeys(maker.forbids, f"{maker.who}'s")
    every = usual_remedies(
        {name: request.materials.get(name, 0.0) for name in USUAL_NAMES},
        forbidden,
        {name: outcomes_seen(loaded.outcomes, name, limit) for name in USUAL_NAMES},
    )
    lost = {name: PlatingLost(span, "practice") for name, span in request.plating.taken_off.items()}
    return tuple(replace(one, lost=lost.get(one.name)) for one in every if one.name in request.materials)


def _maker(request: CareRequest) -> MakerAnswer:
    said = request.maker
    return (
        MakerAnswer(False, "", (), ())
        if said is None
        else MakerAnswer(True, said.who, said.words, said.forbids)
    )


def _options(care: Care, request: CareRequest) -> tuple[OptionAnswer, ...]:
    ranges = cost_ranges(
        [option.course.names for option in care.options],
        care.chance_matters,
        care.remedies,
        request.prices,
        SEED,
        request.coverage,
    )
    return tuple(_option(option, range_) for option, range_ in zip(care.options, ranges, strict=True))


def _option(option: Option, found: CostRange) -> OptionAnswer:
    costs, left = option.course.costs, option.times_left
    return OptionAnswer(
        option.name,
        option_words(option.name),
        option.course.names[1:],
        costs.total,
        found.low,
        found.high,
        costs.labour,
        costs.material,
        costs.further,
        costs.failing,
        found.cheapest,
        option.course.chance_bad,
        option.pays_above,
        None if left is None else left.low,
        None if left is None or not math.isfinite(left.high) else left.high,
    )


def _when(
    loaded: LoadedCare, care: Care, found: Found, limit: Bound, today: date
) -> tuple[TrendAnswer | None, NextLookAnswer | None, str]:
    """The trend, the next look, and why there is none."""
    request, best = loaded.request, care.best.name
    rows = with_found(loaded.history, today, found.resistance) if loaded.history else ()
    line = line_of(rows)
    trend = None if line is None else trend_answer(rows, line, limit.resistance, today, request.coverage)
    storage = request.storage
    air = storage.environment if storage is not None and request.plating.metal == _TARNISHES else None
    if best == MEASURE:
        return trend, None, "Measure it first: when to look again follows from what it reads."
    if best == LEAVE:
        since = storage.clean_since if storage else None
        looks = looks_when_left(line, air, since, found.resistance, limit.resistance, today, request.coverage)
        look = look_answer(looks, today, "")
    else:
        change = change_seen(loaded.outcomes, best, request.coverage)
        after = None if change is None else change.after
        look = look_answer(look_when_treated(air, after, limit.resistance), today, best)
    why = "" if look is not None else _no_look(request, best)
    return trend, look, why


def _no_look(request: CareRequest, best: str) -> str:
    if best != LEAVE:
        return "When to look again follows from what it reads after the treatment: ask once more with that reading."
    if request.storage is not None and request.plating.metal != _TARNISHES:
        metal = (
            f"plated with {request.plating.metal}" if request.plating.metal else "whose plating is not stated"
        )
        return (
            f"How fast the air harms a contact {metal} is not known here, and there are too few dated readings for a trend: "
            "read it again at the next service."
        )
    return (
        "Neither the air it is kept in nor three dated readings are known: read it again at the next service."
    )
