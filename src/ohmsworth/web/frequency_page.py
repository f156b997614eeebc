"""What the page of a study over frequency shows: the contact that is next, the takes that are kept, and what is played."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar, Literal

from markupsafe import Markup

from ohmsworth.advice.cautions import TONES_APART, TONES_LOUD
from ohmsworth.errors import Fault
from ohmsworth.report.tones_answer import TonesAnswer
from ohmsworth.units import show, show_pm
from ohmsworth.web.bench_form import BenchForm
from ohmsworth.web.frequency_record_part import RecordPart
from ohmsworth.web.guard import LARGEST_SOUND
from ohmsworth.web.label_fields import further_fields, known_names, label_fields
from ohmsworth.web.study_frame import StudyPage
from ohmsworth.web.tone_fields import WishesPart
from ohmsworth.work.audio_ports import Channels
from ohmsworth.work.check_takes import CheckTakes
from ohmsworth.work.columns import Columns
from ohmsworth.work.keep_standard import standard_sentence
from ohmsworth.work.next_take import NextTake
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.record_take import all_takes, take_words
from ohmsworth.work.study_log import StudyState, mating_of
from ohmsworth.work.take_rows import TakeRow
from ohmsworth.work.taken_reading import ReadingState
from ohmsworth.work.tone_files import NEEDS, STEMS, Kind, Series

if TYPE_CHECKING:
    from ohmsworth.readings.study import Study
    from ohmsworth.resistance.impedance.estimated import Estimated
    from ohmsworth.resistance.impedance.known import Known

#: A straight take that was sent without the swapped one: whether to keep it so is asked, or was agreed to.
Alone = Literal["", "asked", "agreed"]
#: What is lost without the swapped take.
ALONE = (
    "The swapped take is missing. Without it the difference between the two inputs, in gain and in phase, stays in the result, "
    "which is less certain for it. Exchange the two plugs, record again and send both; or keep the straight take alone."
)
#: What stands for each series in a choice.
IN_PLACE: tuple[tuple[Series, str], ...] = (
    ("short", "a short: a solid piece in the contact's place"),
    ("load", "the known resistor"),
    ("open", "nothing: an open contact sees the whole of the bridge"),
)
#: Takes of a check standard that are listed.
MOST_CHECKS = 20
CAUTIONS = (TONES_APART, TONES_LOUD)
LIMITS = (
    f"Up to {LARGEST_SOUND // 2**20} MB at once; sound itself is not kept in the records, so keep your files."
)


@dataclass(frozen=True, slots=True)
class PlanPart:
    """What is played: in a sentence, what is to be said of it, and the drawing; `open` where nobody has connected it yet."""

    sentence: str
    findings: tuple[str, ...]
    drawing: Markup
    open: bool


@dataclass(frozen=True, slots=True)
class TakeField:
    """The recording of one take: what to connect for it, in words."""

    kind: Kind
    words: str
    hint: str
    needed: bool


@dataclass(frozen=True, slots=True)
class ContactPart:
    """The contact to be recorded.

    Parameters
    ----------
    key
        Of the line that keeps it.
    where
        Which contact of the sheet it is.
    form
        What is connected.
    led
        Whether the sheet says so.
    sheet
        Whether there is a sheet that leads somewhere.
    check
        The check standard's name, "" where the study names none.
    label_fields, further_fields, known
        The fields of it, as at the bench.
    takes
        The recordings.
    faults, field_faults
        What is wrong: of no field, and by field.
    again
        Whether it was sent before and is still there.
    alone, lost
        Whether a straight take was sent without the swapped one; what is lost by that.
    finished
        Whether every mating of the sheet is recorded or left out, and nothing else was asked for: the form is folded then.
    do
        What was asked for in place of the sheet's contact.
    """

    key: str
    where: str
    form: BenchForm
    led: bool
    sheet: bool
    check: str
    label_fields: tuple[tuple[str, str, str], ...]
    further_fields: tuple[tuple[str, str, str], ...]
    known: Mapping[str, tuple[str, ...]]
    takes: tuple[TakeField, ...]
    faults: tuple[str, ...] = ()
    field_faults: Mapping[str, str] = field(default_factory=dict)
    again: bool = False
    alone: Alone = ""
    lost: str = ALONE
    finished: bool = False
    do: str = ""
    cautions: tuple[str, ...] = CAUTIONS
    limits: str = LIMITS


@dataclass(frozen=True, slots=True)
class KeptPart:
    """What the takes that were just kept told; doubts each with what to do."""

    headline: str
    verdict: str
    tone: str
    sign: str
    of: str
    sentence: str
    doubts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class RowPart:
    """A row of the table of takes."""

    number: int
    nth: int
    specimen: str
    card: int | None
    contact: str
    condition: str
    mating: str
    resistance: str
    reactance: str
    inductance: str
    at: datetime
    by: str
    state: ReadingState
    reason: str
    kept: str
    doubts: tuple[tuple[str, str], ...]
    note: str


@dataclass(frozen=True, slots=True)
class StandardRow:
    """Takes of a standard; `made` is their day, `counts` whether they are taken off contacts now."""

    number: int
    series: Series
    told: str
    made: str
    by: str
    state: str
    reason: str
    counts: bool


@dataclass(frozen=True, slots=True)
class StandardsPart:
    """Short, load and open: those that are kept, and the forms for more."""

    key: str
    rows: tuple[StandardRow, ...]
    takes: tuple[TakeField, ...]
    others: tuple[tuple[int, str, str], ...]
    chosen: str = ""
    told: str = ""
    faults: tuple[str, ...] = ()
    series: tuple[tuple[Series, str], ...] = IN_PLACE


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A take of the check standard."""

    day: str
    resistance: str
    at: str
    study: int
    number: int


@dataclass(frozen=True, slots=True)
class CheckPart:
    """What a check standard told by takes; `off` where the last does not agree."""

    name: str
    sentence: str
    off: bool
    rows: tuple[CheckRow, ...]


@dataclass(frozen=True, kw_only=True)
class Frequency(StudyPage):
    """The whole page."""

    template: ClassVar[str] = "frequency.html.j2"

    faults: tuple[str, ...]
    wishes: WishesPart
    plan: PlanPart | None
    contact: ContactPart | None
    kept: KeptPart | None
    record: RecordPart | None
    rows: tuple[RowPart, ...]
    counted: str
    at: str
    pictures: Markup
    standards: StandardsPart
    checks: tuple[CheckPart, ...]


def contact_part(
    state: StudyState,
    columns: Columns,
    form: BenchForm,
    step: NextTake | None,
    loaded: LoadedTones,
    check: str,
    key: str,
    faults: Sequence[Fault] = (),
) -> ContactPart:
    """The contact of `form`, which is that of `step` where the sheet leads; as nobody has asked for it yet."""
    led = step is not None and form.step == step.row.step
    labels = label_fields(form, columns)
    names = {name for name, _, _ in labels}
    by_field = (
        {}
        if led
        else {one.where: f"Found {one.found}; expected {one.expected}. {one.mend}" for one in faults}
    )
    return ContactPart(
        key,
        _where(step if led else None, state),
        form,
        led,
        step is not None,
        check,
        labels,
        further_fields(form, columns),
        known_names(state),
        take_fields(loaded),
        tuple(str(one) for one in faults if led or one.where not in names),
        {name: words for name, words in by_field.items() if name in names},
    )


def as_asked(part: ContactPart, state: StudyState, do: str, typed: bool, alone: Alone) -> ContactPart:
    """The contact as somebody has asked for it by `do`, or has `typed` it already."""
    do = do if do in ("free", "check") else ""
    asked = any(not row.note for row in state.sheet)
    finished = asked and not (part.sheet or typed or do)
    where = _all_recorded(state) if finished else part.where
    again = bool(part.faults or part.field_faults or alone)
    return replace(part, where=where, again=again, alone=alone, finished=finished, do=do)


def _where(step: NextTake | None, state: StudyState) -> str:
    if step is not None:
        left = "the last one" if step.left == 1 else f"{step.left} are left, this one included"
        return f"Mating {step.nth} of {step.of} of the sheet; {left}"
    if not state.sheet:
        return ""
    return "A contact that the sheet does not ask for"


def _all_recorded(state: StudyState) -> str:
    """That nothing of the sheet is left, and whether all of it was recorded."""
    rows = [row for row in state.sheet if not row.note]
    left_out = any(row.step in state.skipped and mating_of(row) not in state.recorded for row in rows)
    return f"Every mating that the sheet asks for is recorded{' or left out' if left_out else ''}"


def take_fields(loaded: LoadedTones) -> tuple[TakeField, ...]:
    """The recordings that the card asks for."""
    found = []
    for take in all_takes(loaded):
        kind = STEMS[take.file.removesuffix(".wav")][1]
        words, *calm = take_words(loaded, Channels(), take)
        found.append(TakeField(kind, words, " ".join(calm), NEEDS[kind] == kind))
    return tuple(found)


def plan_part(answer: TonesAnswer, drawing: Markup, state: StudyState) -> PlanPart:
    """What is said of the plan."""
    began = bool(state.takes or state.standards)
    return PlanPart(answer.sentence, answer.findings[:1], drawing, not began)


def row_part(row: TakeRow, cards: Mapping[str, int]) -> RowPart:
    """A row of the table."""
    reading, entry = row.take.reading, row.take.reading.entry
    at = row.at
    return RowPart(
        reading.number,
        reading.nth,
        entry.specimen,
        cards.get(entry.specimen),
        entry.contact,
        entry.condition,
        entry.mating,
        "" if at is None else with_half(at.resistance, "Ω"),
        "" if at is None else with_half(at.reactance, "Ω"),
        "" if at is None or at.inductance.value <= 0 else with_half(at.inductance, "H"),
        entry.time or reading.at,
        entry.operator or reading.by,
        reading.state,
        reading.reason,
        reading.kept or "",
        () if row.state is None else tuple((words, mend) for _, words, mend in row.state.doubts),
        entry.note,
    )


def with_half(one: Estimated, unit: str) -> str:
    """A number with half the width of its 95 % interval."""
    low, high = one.interval()
    return show_pm(one.value, (high - low) / 2, unit)


def standard_rows(question: Study, known: Known, state: StudyState) -> tuple[StandardRow, ...]:
    """Takes of short, load and open, the last first, each with what it told."""
    used = {one.number for one in state.standard_of.values()}
    return tuple(
        StandardRow(
            one.number,
            one.series,
            standard_sentence(question, known, state, one),
            f"{one.at.astimezone():%Y-%m-%d}",
            one.by,
            one.state,
            one.reason,
            one.number in used,
        )
        for one in reversed(state.standards)
    )


def check_parts(found: Sequence[CheckTakes]) -> tuple[CheckPart, ...]:
    """The takes of each check standard, the last first."""
    return tuple(
        CheckPart(
            one.name,
            one.sentence,
            one.agrees is False,
            tuple(
                CheckRow(
                    f"{take.at.astimezone():%Y-%m-%d}",
                    with_half(take.resistance, "Ω"),
                    show(take.frequency, "Hz"),
                    take.study,
                    take.number,
                )
                for take in reversed(one.takes[-MOST_CHECKS:])
            ),
        )
        for one in found
    )
