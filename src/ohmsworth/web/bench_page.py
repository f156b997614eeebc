"""What the bench page shows: the step that leads, the form, what became of the last entry, and what comes after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from ohmsworth.errors import Fault
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entry import Entry
from ohmsworth.report.judgement import Judgement
from ohmsworth.report.step_words import TURN as TURN_ROUND
from ohmsworth.units import show
from ohmsworth.web.bench_form import BenchForm, last_entry, reads_ohms, units_beside
from ohmsworth.web.bench_meters_part import MetersPart, RunPart
from ohmsworth.web.filters import counted, fault_words
from ohmsworth.web.label_fields import further_fields, known_names, label_fields
from ohmsworth.web.pages import Fragment
from ohmsworth.web.source_part import SourcePart
from ohmsworth.web.study_frame import StudyPage
from ohmsworth.work.columns import Columns
from ohmsworth.work.entry_notes import TURN
from ohmsworth.work.next_step import NextStep
from ohmsworth.work.steps import ahead
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_entry import Taken
from ohmsworth.work.taken_reading import TakenReading
from ohmsworth.work.typed import READ_AS

#: Readings and steps shown beside the form.
MOST_RECENT, MOST_AHEAD = 8, 400
#: The end of a step's words that a milliohm meter does not need.
FORWARD = ", current forward"
#: Why a person keeps a doubtful reading, as a start.
REASONS = (
    "the meter shows it so",
    "read twice, the same",
    "the contact really is like that",
    "the range was changed",
)
TONES = {"within": ("good", "✓"), "over": ("bad", "✗"), "too close to call": ("open", "?")}
WAYS = {
    "+": "Forward is the way round that you choose now, such as the red current lead on the plug: keep it for every reading.",
    "-": "Reversed: exchange the two current leads at the source, and leave the voltmeter's where they are. "
    "A minus before the figures may be typed or left out.",
}
CAUTIONS = (
    "Only on equipment that is switched off, unplugged and disconnected.",
    "Mains and distribution wiring is for licensed electricians, under local codes.",
    "Signal contacts: at most 20 mV and 100 mA, or films are broken through and the reading is not the contact's own.",
    "High test currents heat leads, probes and contacts: switch the current off before you move a probe.",
    "What the makers of the meters, the source and the connectors say comes first.",
)


@dataclass(frozen=True, slots=True)
class Shown:
    """What is to be said about what was just done.

    `wanted` where a reading beside the sheet was asked for; `led` where Enter led from the voltage to the current.
    """

    taken: Taken | None = None
    faults: tuple[Fault, ...] = ()
    said: Mapping[str, str] = field(default_factory=dict)
    words: str = ""
    anyway_missing: bool = False
    wanted: bool = False
    led: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """One number to be typed; `before` with its unit is what it is where it is left empty."""

    name: str
    label: str
    text: str
    unit: str
    units: tuple[str, ...]
    before: str
    before_unit: str
    said: str
    fault: str
    first: bool
    mark_unclear: bool


@dataclass(frozen=True, slots=True)
class Result:
    """What the reading that was just kept is worth; `read_as` is how its figures were read where they could be read otherwise."""

    headline: str
    verdict: str
    tone: str
    sign: str
    movement: str
    of: str
    read_as: tuple[str, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """A step that will come, for a page that has to go on without the server."""

    step: int
    specimen: str
    condition: str
    mating: str
    polarity: str
    words: str


@dataclass(frozen=True, slots=True)
class Now:
    """Everything that the leading part of the bench shows."""

    study: int
    last: int
    closed: bool
    finished: bool
    said: str
    where: str
    do: str
    which_way: str
    key: str
    form: BenchForm
    labels_asked: bool
    label_fields: tuple[tuple[str, str, str], ...]
    further_fields: tuple[tuple[str, str, str], ...]
    known: Mapping[str, tuple[str, ...]]
    figures: tuple[Figure, ...]
    temperature_units: tuple[str, ...]
    questions: tuple[Doubt, ...]
    headline: str
    together: str
    anyway: str
    anyway_fault: str
    reasons: tuple[str, ...]
    faults: tuple[str, ...]
    result: Result | None
    prompts: tuple[str, ...]
    recent: tuple[TakenReading, ...]
    twice: Mapping[int, tuple[TakenReading, ...]]
    doubted: tuple[TakenReading, ...]
    sheet_line: int
    last_reading: int | None
    last_nth: int | None
    by: str = ""
    led: bool = False
    off_sheet: bool = False
    comma_said: bool = False
    meters: MetersPart | None = None
    run: RunPart | None = None


@dataclass(frozen=True, kw_only=True)
class Bench(StudyPage):
    """The bench page."""

    template: ClassVar[str] = "bench.html.j2"

    now: Now
    source: SourcePart
    cautions: tuple[str, ...] = CAUTIONS
    open_cautions: bool = False


@dataclass(frozen=True, kw_only=True)
class BenchNow(Fragment):
    """The leading part alone."""

    template: ClassVar[str] = "bench_now.html.j2"

    now: Now


@dataclass(frozen=True, kw_only=True)
class BenchNews(Fragment):
    """That something was added by somebody else."""

    template: ClassVar[str] = "bench_news.html.j2"

    study: int
    last: int
    words: str


@dataclass(frozen=True, kw_only=True)
class BenchAhead(Fragment):
    """The steps to come, for a page that has to go on without the server."""

    template: ClassVar[str] = "bench_ahead.html.j2"

    steps: tuple[Step, ...]


def news_of(state: StudyState, after: int) -> str:
    """What others did since line `after`, in a sentence or two."""
    new = [one for one in state.readings if one.number > after]
    names = ", ".join(sorted({one.entry.operator or one.by for one in new}))
    said = (
        f"{'One reading' if len(new) == 1 else f'{len(new)} readings'} more, by {names}."
        if new
        else "Something was changed."
    )
    twice = [step for step, ones in state.twice.items() if ones[-1].number > after]
    return said + "".join(f" Step {step} was read twice; both are kept." for step in twice)


def make_ahead(state: StudyState) -> BenchAhead:
    """The steps that are neither read nor skipped."""
    return BenchAhead(steps=tuple(_as_step(one) for one in ahead(state, MOST_AHEAD)))


def make_now(
    study: int,
    state: StudyState,
    columns: Columns,
    step: NextStep | None,
    form: BenchForm,
    key: str,
    shown: Shown,
) -> Now:
    """Put the leading part together."""
    judgement = shown.taken.judgement if shown.taken else None
    open_question = shown.taken is not None and shown.taken.number is None
    by_field = {fault.where: fault_words(fault) for fault in shown.faults}
    figures = _figures(state, form, shown, by_field)
    names = {figure.name for figure in figures}
    counted = state.counted
    beside = shown.wanted or shown.faults or open_question
    finished = step is None and _sheet_done(state) and not beside
    return Now(
        study=study,
        last=state.last,
        closed=state.closed,
        finished=finished,
        said=shown.words,
        where=_where(state, step),
        do=_do(state, step, ohms=len(figures) == 1),
        which_way=_which_way(state, form),
        key=key,
        form=form,
        labels_asked=form.free,
        label_fields=label_fields(form, columns),
        further_fields=further_fields(form, columns),
        known=known_names(state),
        figures=figures,
        temperature_units=units_beside("temperature", form.temperature_unit),
        questions=judgement.doubts if judgement is not None and open_question else (),
        headline=_asked(judgement) if judgement is not None and open_question else "",
        together=_together(judgement) if judgement is not None and open_question else "",
        anyway="",
        anyway_fault="Say why: it stands in the record beside the reading." if shown.anyway_missing else "",
        reasons=REASONS,
        faults=tuple(f"{where}: {words}" for where, words in by_field.items() if where not in names),
        result=_result(judgement, shown.said, last_entry(state))
        if judgement is not None and not open_question
        else None,
        prompts=_prompts(shown.taken.notes, step) if shown.taken is not None and not open_question else (),
        recent=tuple(sorted(state.readings, key=lambda one: -one.number)[:MOST_RECENT]),
        twice=state.twice,
        doubted=state.doubted,
        sheet_line=state.sheet_line,
        last_reading=max((one.number for one in counted), default=None),
        last_nth=max((one.nth for one in counted), default=None),
        led=shown.led,
        off_sheet=bool(state.sheet) and form.step is None and not finished,
    )


def _where(state: StudyState, step: NextStep | None) -> str:
    if step is not None and step.partner:
        return "The last mating has a reading without its partner: read it with the current the other way too"
    if step is None or step.left is None:
        return "" if not state.sheet else "A reading that the sheet does not ask for"
    return f"Step {step.row.step} of {len(state.sheet)} · {step.left_words}"


def _do(state: StudyState, step: NextStep | None, *, ohms: bool) -> str:
    """What to do; a milliohm meter that is never turned round has no current to be told of."""
    if step is None:
        return "Say what is connected, then type what the meters show."
    one_way = all(row.polarity in ("+", "") for row in state.sheet)
    return step.short.removesuffix(FORWARD) if ohms and one_way else step.short


def _which_way(state: StudyState, form: BenchForm) -> str:
    """What forward and reversed mean, until one reading of the kind is taken; nothing where the current is never turned."""
    turned = any(row.polarity == "-" for row in state.sheet) or form.free
    if not turned or any(one.entry.polarity == form.polarity for one in state.counted):
        return ""
    return WAYS.get(form.polarity, "")


def _sheet_done(state: StudyState) -> bool:
    done = {*state.answered, *state.skipped}
    return bool(state.sheet) and all(row.step in done for row in state.sheet)


def _figures(
    state: StudyState, form: BenchForm, shown: Shown, by_field: Mapping[str, str]
) -> tuple[Figure, ...]:
    last = last_entry(state)
    names = ("resistance",) if reads_ohms(state, form) else ("voltage", "current")
    labels = {"voltage": "Voltage", "current": "Current", "resistance": "Resistance"}
    found = []
    for i, name in enumerate(names):
        before = before_unit = said = ""
        if name == "current" and last is not None and last.current is not None:
            before, before_unit = last.current.text.lstrip("+-"), last.current.unit
            said = f"Left empty: {before} {before_unit}, as before."
            said += " Enter takes it." if shown.led else ""
        unit = form.units[name]
        units = units_beside(name, unit)
        kept = shown.taken is not None and shown.taken.number is not None
        text = "" if kept else form.texts.get(name, "")
        said = said if kept else shown.said.get(name, said)
        found.append(
            Figure(
                name,
                labels[name],
                text,
                unit,
                units,
                before,
                before_unit,
                said,
                by_field.get(name, ""),
                i == (1 if shown.led else 0),
                "decimal mark of this screen" in by_field.get(name, ""),
            )
        )
    return tuple(found)


def _asked(judgement: Judgement) -> str:
    """What is asked about: the figures just typed, not what they make with earlier ones."""
    return judgement.headline if judgement.alone is None else show(judgement.alone, "Ω", 4)


def _together(judgement: Judgement) -> str:
    if judgement.alone is None:
        return ""
    return f"With the current both ways it would make {judgement.headline}."


def _result(judgement: Judgement, said: Mapping[str, str], last: Entry | None) -> Result:
    tone, sign = TONES.get(judgement.verdict or "", ("", ""))
    return Result(
        judgement.headline,
        judgement.verdict or "",
        tone,
        sign,
        judgement.movement or "",
        _of(judgement, last),
        tuple(words for words in said.values() if words.startswith(READ_AS)),
        (*(words for words in said.values() if not words.startswith(READ_AS)), *judgement.lines),
    )


def _of(judgement: Judgement, last: Entry | None) -> str:
    """Whose the result is: one contact's, and not yet that of its condition."""
    contact = judgement.contact
    name = "this contact" if last is None else last.specimen
    name = f"{name}, contact {last.contact}" if last is not None and last.contact else name
    if contact is None or not judgement.verdict:
        return name
    if not contact.scatter_known:
        return f"{name} as it is mated now, by the meters alone"
    return f"{name}, from {counted(contact.matings, 'mating')}"


def _prompts(notes: tuple[str, ...], step: NextStep | None) -> tuple[str, ...]:
    """The notes on a reading; the next step says already where the current is to be turned round."""
    turned = step is not None and step.change == TURN_ROUND
    return tuple(note for note in notes if not (turned and note == TURN))


def _as_step(step: NextStep) -> Step:
    row = step.row
    return Step(row.step, row.specimen, row.condition, str(row.mating or ""), row.polarity, step.short)
