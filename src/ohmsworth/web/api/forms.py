"""What comes in and goes out, as JSON. Quantities come as people write them and go out with their digits, unit and SI value."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.records import Card, Line
from ohmsworth.work.taken_reading import TakenReading

Name = Annotated[str, StringConstraints(max_length=200)]
Words = Annotated[str, StringConstraints(max_length=2000)]
#: Chosen by the caller, never used for anything else: what is sent twice under one key is kept once.
Key = Annotated[str, StringConstraints(min_length=8, max_length=100, pattern=r"^[A-Za-z0-9._:-]+$")]
#: Numbers that the store can hold.
Number = Annotated[int, Field(ge=1, le=2**63 - 1)]
After = Annotated[int, Field(ge=0, le=2**63 - 1)]
Most = Annotated[int, Field(ge=1, le=1000)]


class Strict(BaseModel):
    """Nothing that is not asked for."""

    model_config = ConfigDict(extra="forbid")


class NewReading(Strict):
    """One reading: voltage and current, or a resistance, each with its unit."""

    key: Key
    specimen: Name
    condition: Name
    contact: Name = ""
    mating: Name = ""
    polarity: Literal["+", "-", "0", ""] = ""
    voltage: Name | None = Field(None, examples=["0.2513 mV"])
    current: Name | None = Field(None, examples=["100.02 mA"])
    resistance: Name | None = Field(None, examples=["2.61 mΩ"])
    temperature: Name | None = Field(None, examples=["21.5 °C"])
    time: datetime | None = Field(None, description="When it was read, with its zone; left out, now.")
    operator: Name = ""
    note: Name = ""
    step: Number | None = Field(None, description="The step of the bench sheet that it answers.")
    others: Annotated[dict[Name, Name], Field(max_length=20)] = Field(default_factory=dict)
    anyway: Words = Field("", description="Why it is kept in spite of doubts.")


class Change(Strict):
    """What is done to a reading, and why."""

    key: Key
    change: Literal["withdraw", "put back", "keep", "set aside"]
    reason: Words


class NewStudy(Strict):
    """A new study from the text of a study.toml; with numbers of specimens and matings a sheet is laid."""

    key: Key
    toml: Annotated[str, StringConstraints(max_length=200_000)]
    conditions: Annotated[list[Name], Field(max_length=50)] = Field(default_factory=list)
    specimens: Annotated[int, Field(ge=1, le=200)] | None = None
    matings: Annotated[int, Field(ge=1, le=100)] = 1


class QuantityOut(BaseModel):
    """A quantity as it was typed, and in SI."""

    text: str
    unit: str
    si: float


class EntryOut(BaseModel):
    """One reading as written down."""

    specimen: str
    condition: str
    contact: str
    mating: str
    polarity: str
    voltage: QuantityOut | None
    current: QuantityOut | None
    resistance: QuantityOut | None
    temperature: QuantityOut | None
    time: datetime | None
    operator: str
    note: str
    step: int | None
    others: dict[str, str]


class ReadingOut(BaseModel):
    """A reading as it stands now."""

    number: int = Field(
        description="The line of the log that keeps it; addresses and other lines refer to it."
    )
    nth: int = Field(
        description="Which reading of the study it is, from 1: the number that pages and reports show. It stays so."
    )
    key: str
    state: Literal["used", "set aside", "withdrawn"]
    reason: str
    kept: str | None
    by: str
    at: datetime
    entry: EntryOut


class CardOut(BaseModel):
    """A card of the records."""

    number: int
    kind: str
    title: str
    state: str
    opened: datetime
    touched: datetime
    due: str | None
    due_for: str


class LineOut(BaseModel):
    """A line of a card's log."""

    number: int
    key: str
    kind: str
    by: str
    at: datetime
    about: int | None
    reason: str
    fields: dict[str, object]
    entry: EntryOut | None


class DoubtOut(BaseModel):
    """What has to be answered before a reading is kept."""

    code: str
    words: str
    mend: str


class TakenOut(BaseModel):
    """What became of a reading; `number` and `nth` are None while its doubts are not answered."""

    number: int | None = Field(description="The line of the log that keeps it.")
    nth: int | None = Field(
        description="Which reading of the study it is, from 1: the number that pages and reports show."
    )
    headline: str
    resistance: float | None
    expanded_uncertainty: float | None
    movement: str | None
    verdict: str | None
    probability_within: float | None
    doubts: list[DoubtOut]
    notes: list[str]


class FaultOut(BaseModel):
    """One thing wrong with what was sent."""

    where: str
    found: str
    expected: str
    mend: str


class Refusal(BaseModel):
    """Why nothing was done."""

    message: str
    faults: list[FaultOut] = Field(default_factory=list)


def quantity_out(typed: Typed | None) -> QuantityOut | None:
    """A quantity on its way out."""
    return None if typed is None else QuantityOut(text=typed.text, unit=typed.unit, si=typed.value)


def entry_out(entry: Entry) -> EntryOut:
    """An entry on its way out."""
    return EntryOut(
        specimen=entry.specimen,
        condition=entry.condition,
        contact=entry.contact,
        mating=entry.mating,
        polarity=entry.polarity,
        voltage=quantity_out(entry.voltage),
        current=quantity_out(entry.current),
        resistance=quantity_out(entry.resistance),
        temperature=quantity_out(entry.temperature),
        time=entry.time,
        operator=entry.operator,
        note=entry.note,
        step=entry.step,
        others=dict(entry.others),
    )


def reading_out(reading: TakenReading) -> ReadingOut:
    """A reading on its way out."""
    return ReadingOut(
        number=reading.number,
        nth=reading.nth,
        key=reading.key,
        state=reading.state,
        reason=reading.reason,
        kept=reading.kept,
        by=reading.by,
        at=reading.at,
        entry=entry_out(reading.entry),
    )


def card_out(card: Card) -> CardOut:
    """A card on its way out."""
    face = card.face
    return CardOut(
        number=card.number,
        kind=card.kind,
        title=face.title,
        state=face.state,
        opened=card.opened,
        touched=card.touched,
        due=face.due.isoformat() if face.due else None,
        due_for=face.due_for,
    )


def line_out(line: Line) -> LineOut:
    """A line on its way out."""
    return LineOut(
        number=line.number,
        key=line.key,
        kind=line.kind,
        by=line.by,
        at=line.at,
        about=line.about,
        reason=line.reason,
        fields=dict(line.fields),
        entry=entry_out(line.entry) if line.entry else None,
    )
