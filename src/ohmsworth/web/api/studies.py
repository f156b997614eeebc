"""Studies over JSON: listed, opened, read, and answered."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse, Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry
from ohmsworth.report.answer import as_json
from ohmsworth.report.sheet import SheetRow
from ohmsworth.web.api.forms import (
    After,
    CardOut,
    Change,
    DoubtOut,
    LineOut,
    Most,
    NewReading,
    NewStudy,
    Number,
    ReadingOut,
    Refusal,
    TakenOut,
    card_out,
    line_out,
    reading_out,
)
from ohmsworth.web.at_hand import desk_of, shop_of, study_state, who
from ohmsworth.work.answer_record import answer_record
from ohmsworth.work.bench_sheet import simple_sheet
from ohmsworth.work.columns import Columns, columns_of
from ohmsworth.work.drafts import FIGURES, Draft, read_draft
from ohmsworth.work.live_study import live_study
from ohmsworth.work.reading_changes import change_reading
from ohmsworth.work.records import Card, NoSuchCard
from ohmsworth.work.study_cards import open_study
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_entry import Sending, Taken, take_entry

REFUSALS: dict[int | str, dict[str, Any]] = {
    401: {"model": Refusal},
    403: {"model": Refusal},
    404: {"model": Refusal},
    422: {"model": Refusal},
    503: {"model": Refusal},
}
pages = APIRouter(prefix="/api", tags=["studies"], responses=REFUSALS)


@pages.get("/studies")
def studies(
    request: Request,
    search: Annotated[str, Query(max_length=200)] = "",
    state: Annotated[str | None, Query(pattern="^(open|closed)$")] = None,
    first: After = 0,
    most: Most = 100,
) -> list[CardOut]:
    """Studies, the last worked on first."""
    found = shop_of(request).records.cards("study", search=search, state=state, first=first, most=most)
    return [card_out(card) for card in found]


@pages.post("/studies", status_code=201)
def new_study(request: Request, sent: NewStudy) -> CardOut:
    """Open a study; the same key twice opens it once."""
    shop = shop_of(request)
    shop.read_question(sent.toml, {})
    sheet: tuple[SheetRow, ...] = ()
    if sent.specimens is not None:
        conditions = sent.conditions or ["as delivered"]
        names = {name: [f"{name} {i + 1}" for i in range(sent.specimens)] for name in conditions}
        sheet = simple_sheet(conditions, names, sent.matings)
    number = open_study(shop, sent.toml, sheet, who(request), sent.key)
    return card_out(shop.records.card(number))


@pages.get("/studies/{study}")
def one_study(request: Request, study: Number) -> CardOut:
    """One study."""
    return card_out(_study(request, study)[0])


@pages.get("/studies/{study}/question", response_class=Response)
def question(request: Request, study: Number) -> Response:
    """The text of its study.toml."""
    return Response(_study(request, study)[1].question, media_type="application/toml")


@pages.get("/studies/{study}/log")
def log(request: Request, study: Number, after: After = 0) -> list[LineOut]:
    """Its log from line `after` + 1 on, which is how another program follows it."""
    _study(request, study)
    return [line_out(line) for line in shop_of(request).records.lines(study, after)]


@pages.get("/studies/{study}/readings")
def readings(request: Request, study: Number) -> list[ReadingOut]:
    """Every reading as it stands, also those withdrawn."""
    return [reading_out(one) for one in _study(request, study)[1].readings]


@pages.post(
    "/studies/{study}/readings",
    responses={200: {"model": TakenOut}, 409: {"model": TakenOut}},
    response_model=TakenOut,
)
def take(request: Request, study: Number, sent: NewReading) -> JSONResponse:
    """Take a reading: 200 with its number; 409 with doubts, until it comes again under the same key with `anyway`."""
    shop, desk = shop_of(request), desk_of(request)
    _, state = _study(request, study)
    sending = Sending(who(request), sent.key, sent.anyway.strip())
    columns = columns_of(desk.question(study, state), state)
    taken = take_entry(shop, desk, study, state, _entry(request, sent, columns), sending)
    out = _taken_out(taken)
    return JSONResponse(out.model_dump(mode="json"), 200 if taken.number is not None else 409)


@pages.post("/studies/{study}/readings/{number}/changes")
def change(request: Request, study: Number, number: Number, sent: Change) -> ReadingOut:
    """Withdraw a reading, put it back, keep it or set it aside; the reason stands in the record."""
    _, state = _study(request, study)
    change_reading(shop_of(request), study, state, number, sent.change, sent.reason, who(request), sent.key)
    after = study_state(request, study)
    return next(reading_out(one) for one in after.readings if one.number == number)


@pages.get("/studies/{study}/answer", response_class=JSONResponse)
def answer(request: Request, study: Number) -> JSONResponse:
    """The whole answer, in the format of `ohmsworth schema answer`."""
    _, state = _study(request, study)
    return JSONResponse(as_json(answer_record(desk_of(request), study, state).answer))


@pages.get("/studies/{study}/answer-so-far", response_class=JSONResponse)
def so_far(request: Request, study: Number) -> JSONResponse:
    """What the readings say by now, looks allowed for; null before the first reading."""
    _, state = _study(request, study)
    found = live_study(desk_of(request), study, state)
    return JSONResponse(None if found is None else as_json(found))


def _study(request: Request, number: int) -> tuple[Card, StudyState]:
    """The study; raises NoSuchCard also for a card of another kind."""
    card = shop_of(request).records.card(number)
    if card.kind != "study":
        raise NoSuchCard(f"Card {number} is no study.")
    return card, study_state(request, number)


def _entry(request: Request, sent: NewReading, columns: Columns) -> Entry:
    """What was sent as an entry, refused with every field at fault."""
    figures = {}
    for name in FIGURES:
        text = getattr(sent, name)
        if text is not None:
            figures[name] = (text, "")
    labels = {
        name: getattr(sent, name) for name in ("specimen", "condition", "contact", "mating")
    } | sent.others
    draft = Draft(
        columns.completed(labels),
        sent.polarity,
        figures,
        note=sent.note,
        operator=sent.operator,
        step=sent.step,
        needed=columns.needed,
    )
    read = read_draft(draft, "point", shop_of(request).clock())
    if sent.time is None:
        return read.entry
    from dataclasses import replace

    if sent.time.tzinfo is None:
        mend = "Add it, such as 2026-03-01T10:15:00+01:00."
        raise InputRefused((Fault("time", "a time without a zone", "a time with its zone", mend),))
    return replace(read.entry, time=sent.time)


def _taken_out(taken: Taken) -> TakenOut:
    judgement = taken.judgement
    reading = judgement.reading
    return TakenOut(
        number=taken.number,
        nth=taken.after.nths.get(taken.number) if taken.number is not None else None,
        headline=judgement.headline,
        resistance=reading.value if reading else None,
        expanded_uncertainty=reading.expanded if reading else None,
        movement=judgement.movement,
        verdict=judgement.verdict,
        probability_within=judgement.probability,
        doubts=[DoubtOut(code=one.code, words=one.words, mend=one.mend) for one in judgement.doubts],
        notes=list(taken.notes),
    )
