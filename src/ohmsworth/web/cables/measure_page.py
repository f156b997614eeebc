"""What the measuring page shows: the verdict, the measurement that leads, what the last one was worth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import ActionAnswer
from ohmsworth.report.cable_answer import CableAnswer, CableMeasurementAnswer
from ohmsworth.web.cables.frame import CablePage, RowInShort, in_short, tone_of
from ohmsworth.web.filters import counted, fault_words
from ohmsworth.web.pages import Fragment
from ohmsworth.work.builds.face import NOT_TESTED
from ohmsworth.work.builds.log import CableState, MeasuredRow
from ohmsworth.work.builds.sentences import AS_ASKED, Leading, Said, leading_of
from ohmsworth.work.builds.slips import Slip
from ohmsworth.work.cable_ports import WrittenRow

if TYPE_CHECKING:
    from ohmsworth.work.builds.desk import CableDesk

#: Units of a resistance that a cable is tested with.
UNITS = ("mΩ", "Ω", "kΩ", "MΩ")
MOST_RECENT = 6
REASONS = ("the meter shows it so", "read twice, the same", "the joint really is like that")
CAUTIONS = (
    "Only on a cable that is disconnected at every end and carries no voltage.",
    "Mains and distribution wiring is for licensed electricians, under local codes; insulation is not judged here.",
    "What the makers of the meter and the connectors say comes first.",
)


@dataclass(frozen=True, slots=True)
class Shown:
    """What was just done: the sentence on a row, how it was read, what is asked about it, what cannot be read."""

    said: Said | None = None
    read_as: str = ""
    words: str = ""
    slip: Slip | None = None
    anyway_missing: bool = False
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Typing:
    """The field as it stands: text and unit, and the contacts where a person chose them."""

    text: str = ""
    unit: str = "Ω"
    one: str = ""
    other: str = ""


@dataclass(frozen=True, slots=True)
class MeasureNow:
    """Everything that the leading part shows; `leading` is None where nothing is left to measure or nothing can be."""

    cable: int
    state: str
    tone: str
    sign: str
    sentence: str
    where: str
    leading: Leading | None
    metered: bool
    asked: bool
    form: Typing
    units: tuple[str, ...]
    key: str
    fault: str
    faults: tuple[str, ...]
    slip: Slip | None
    anyway_missing: bool
    said: Said | None
    read_as: str
    words: str
    steps: tuple[ActionAnswer, ...]
    wanted: tuple[CableMeasurementAnswer, ...]
    recent: tuple[RowInShort, ...]
    last: MeasuredRow | None
    comma_said: bool
    reasons: tuple[str, ...] = REASONS


@dataclass(frozen=True, kw_only=True)
class MeasurePage(CablePage):
    """The page."""

    template: ClassVar[str] = "cable_measure.html.j2"

    now: MeasureNow
    cautions: tuple[str, ...] = CAUTIONS


@dataclass(frozen=True, kw_only=True)
class MeasurePart(Fragment):
    """The leading part alone."""

    template: ClassVar[str] = "cable_now.html.j2"

    now: MeasureNow


def make_now(
    desk: CableDesk, cable: int, state: CableState, form: Typing, key: str, shown: Shown, comma_said: bool
) -> MeasureNow:
    """Put the leading part together."""
    answer: CableAnswer | None = None
    faults: Sequence[Fault] = shown.faults
    leading, metered = None, True
    try:
        metered = desk.teller.described(state.toml).request.meter is not None
        answer = desk.answer(state)
        if metered:
            leading, wrong = _leading(desk, state, form)
            faults = [*faults, *wrong]
    except InputRefused as refused:
        faults = [*faults, *refused.faults]
    verdict = "cannot be read" if answer is None else answer.verdict or NOT_TESTED
    beside = next((fault_words(fault) for fault in faults if fault.where == "resistance"), "")
    used = [row for row in state.rows if row.state == "used"]
    return MeasureNow(
        cable=cable,
        state=verdict,
        tone=tone_of(verdict)[0],
        sign=tone_of(verdict)[1],
        sentence=answer.sentence if answer else "",
        where=_where(answer, leading) if answer else "",
        leading=leading,
        metered=metered,
        asked=leading is not None and leading.purpose == AS_ASKED,
        form=form,
        units=UNITS if form.unit in UNITS else (form.unit, *UNITS),
        key=key,
        fault=beside,
        faults=tuple(
            f"{fault.where}: {fault_words(fault)}" for fault in faults if fault.where != "resistance"
        ),
        slip=shown.slip,
        anyway_missing=shown.anyway_missing,
        said=shown.said,
        read_as=shown.read_as,
        words=shown.words,
        steps=answer.actions if answer is not None and leading is None else (),
        wanted=answer.wanted if answer is not None else (),
        recent=tuple(map(in_short, state.rows[: -MOST_RECENT - 1 : -1])),
        last=used[-1] if used else None,
        comma_said=comma_said,
    )


def _leading(desk: CableDesk, state: CableState, form: Typing) -> tuple[Leading | None, tuple[Fault, ...]]:
    """What is measured next: what somebody asked for, or what the answer leads to; and what is wrong with the former."""
    answer, request = desk.leading(state), desk.teller.described(state.toml).request
    after = answer.following
    wrong: tuple[Fault, ...] = ()
    if form.one and form.other:
        try:
            row = desk.teller.row(state.toml, WrittenRow(form.one, form.other, None))
        except InputRefused as refused:
            wrong = refused.faults
        else:
            sides = tuple(map(str, row.one)), tuple(map(str, row.other))
            if after is None or sides != (after.one, after.other):
                after = next((one for one in answer.wanted if (one.one, one.other) == sides), None)
                after = after or CableMeasurementAnswer(*sides, "asked")
    return (None if after is None else leading_of(request, answer, after)), wrong


def _where(answer: CableAnswer, leading: Leading | None) -> str:
    """How far one is."""
    if leading is None:
        return ""
    read = sum(wire.line is not None for wire in answer.wires)
    if leading.wire and read < len(answer.wires):
        return f"{read} of {counted(len(answer.wires), 'wire')} read"
    left = (
        f"{answer.pairs_left} of {counted(answer.pairs, 'pair')} may still touch" if answer.pairs_left else ""
    )
    return " · ".join(part for part in (leading.purpose, left) if part)
