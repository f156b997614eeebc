"""A study done again: its question and its sheet in a new study, and the day by which that is wanted."""

from __future__ import annotations

from datetime import date

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import (
    FILE,
    FOR_JOB,
    NOTE,
    QUESTION,
    RETEST,
    SHEET,
    SPECIMEN,
    StudyState,
    sheet_fields,
)

#: A year outside of these is a slip.
YEARS = range(2000, 2200)
#: Why a re-test is not wanted any more.
DONE = "done again"


def want_retest(shop: Shop, study: int, by_day: str, reason: str, by: str, key: str) -> None:
    """Write the day by which a study is to be done again; without a day, that it is not wanted any more.

    Raises
    ------
    InputRefused
        When the day is none.
    """
    day = by_day.strip()
    if day and not _is_day(day):
        mend = "Write year, month and day; leave it empty when no re-test is wanted."
        raise InputRefused((Fault("retest", shorten(day), "a day such as 2027-03-31", mend),))
    line = NewLine(key, RETEST, {"by": day}, reason=reason)
    shop.records.add(study, by, [line], study_face)


def _is_day(text: str) -> bool:
    try:
        return len(text) == 10 and date.fromisoformat(text).year in YEARS
    except ValueError:
        return False


def do_again(shop: Shop, study: int, state: StudyState, by: str, key: str) -> int:
    """Open a new study that asks the same of the same specimens on the same sheet, and return its card.

    A re-test that was wanted is not wanted any more then. Files that the question names come along.
    """
    lines = [NewLine(key, QUESTION, {"toml": state.question})]
    for file in (one for one in state.files if one.beside):
        fields = {"name": file.name, "media_type": file.media_type, "beside": True}
        content = shop.records.content(study, file.number)
        lines.append(NewLine(f"{key}.file.{file.number}", FILE, fields, content=content))
    if state.sheet:
        lines.append(NewLine(f"{key}.sheet", SHEET, sheet_fields(state.sheet)))
    for number, (name, card) in enumerate(state.specimens.items()):
        lines.append(NewLine(f"{key}.specimen.{number}", SPECIMEN, {"name": name, "card": card}))
    if state.job is not None:
        lines.append(NewLine(f"{key}.job", FOR_JOB, {"job": state.job}))
    lines.append(NewLine(f"{key}.note", NOTE, {"text": f"Study no. {study} done again."}))
    again = shop.records.open_card("study", by, lines, study_face)
    if state.retest is not None:
        reason = f"{DONE} as study no. {again}"
        line = NewLine(f"{key}.done", RETEST, {"by": ""}, reason=reason)
        shop.records.add(study, by, [line], study_face)
    return again
