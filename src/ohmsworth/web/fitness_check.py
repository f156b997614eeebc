"""Reading a check standard: the current both ways, and at once whether the bench is in control."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.report.document import ChartFigure, Headline
from ohmsworth.units import Decimal
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, who
from ohmsworth.web.bench_form import FIRST_UNITS, UNITS, as_polarity, mark_of
from ohmsworth.web.bench_page import CAUTIONS, REASONS
from ohmsworth.web.drawing import report_fragment
from ohmsworth.web.filters import fault_words
from ohmsworth.web.fitness_asked import PLACE, FitnessAsked, read_asked
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import Page, Place, show
from ohmsworth.work.drafts import Draft, read_draft
from ohmsworth.work.quick_check import check_draft, next_mating, standing_study, take_check
from ohmsworth.work.shop_fitness import Asked, Day, day_of, tell_fitness
from ohmsworth.work.standards import Standard, checks_taken
from ohmsworth.work.take_entry import Sending

pages = APIRouter(prefix=f"{PLACE}/check")
#: The fields in the order of the work; those of the second reading carry the sign in their name.
FIELDS = (
    ("voltage", "Voltage, current forward", "voltage"),
    ("voltage-", "Voltage, current reversed", "voltage"),
    ("current", "Current", "current"),
    ("resistance", "Resistance", "resistance"),
)


@dataclass(frozen=True, slots=True)
class CheckField:
    """A figure to be typed."""

    name: str
    label: str
    text: str
    unit: str
    units: tuple[str, ...]
    before: str
    fault: str


@dataclass(frozen=True, kw_only=True)
class CheckPage(Page):
    """The form, and what the last check says."""

    template: ClassVar[str] = "fitness_check.html.j2"
    place: ClassVar[str] = "Bench fitness"

    standard: Standard | None
    turns: tuple[Place, ...]
    in_ohms: bool
    fields: tuple[CheckField, ...]
    note: str
    doubts: tuple[Doubt, ...]
    reasons: tuple[str, ...]
    others: tuple[str, ...]
    kept: bool
    day: Day | None
    tone: tuple[str, str, str]
    chart: Markup
    cautions: tuple[str, ...]
    key: str


@dataclass(frozen=True, slots=True)
class _Typed:
    """What stands in the form: the texts and units by field, what is wrong, what is asked."""

    texts: Mapping[str, str]
    units: Mapping[str, str]
    in_ohms: bool
    note: str = ""
    faults: Mapping[str, str] | None = None
    others: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    key: str = ""


@pages.get("")
def check(request: Request) -> Response:
    """The form; after a check also what it says."""
    asked = read_asked(request)
    entry = _last(request, asked.asked.standard)
    ohms = request.query_params.get("by", "ohms" if entry is not None and entry.resistance else "") == "ohms"
    return show(request, _page(request, asked, _Typed({}, _units(entry), ohms)))


def _last(request: Request, standard: Standard | None) -> Entry | None:
    taken = checks_taken(shop_of(request).records, standard) if standard is not None else ()
    return taken[-1].entry if taken else None


def _units(entry: Entry | None) -> dict[str, str]:
    """The units of the last check."""
    units = {name: FIRST_UNITS[of] for name, _, of in FIELDS}
    for name, _, of in FIELDS:
        typed = getattr(entry, of, None)
        if typed is not None and typed.unit in UNITS[of]:
            units[name] = typed.unit
    return units


def _page(request: Request, asked: FitnessAsked, typed: _Typed) -> CheckPage:
    standard = asked.asked.standard
    kept = "kept" in request.query_params and request.method == "GET"
    day = day_of(shop_of(request), desk_of(request), standard) if standard is not None and kept else None
    return CheckPage(
        title=f"Read {standard.said.name}" if standard is not None else "Read the check standard",
        standard=standard,
        turns=tuple(
            Place(one.said.name, f"{PLACE}/check?standard={one.card}", one == standard) for one in asked.known
        ),
        in_ohms=typed.in_ohms,
        fields=_fields(request, standard, typed),
        note=typed.note,
        doubts=typed.doubts,
        reasons=REASONS,
        others=typed.others,
        kept=kept,
        day=day,
        tone=_tone(day),
        chart=_chart(request, asked, day.fit) if day is not None and day.checks else Markup(),
        cautions=CAUTIONS,
        key=typed.key or shop_of(request).new_key(),
    )


def _fields(request: Request, standard: Standard | None, typed: _Typed) -> tuple[CheckField, ...]:
    last = _last(request, standard)
    before = last.current.text.lstrip("+-") if last is not None and last.current is not None else ""
    faults = typed.faults or {}
    return tuple(
        CheckField(
            name,
            label,
            typed.texts.get(name, ""),
            typed.units[name],
            UNITS[of],
            before if name == "current" else "",
            faults.get(name, ""),
        )
        for name, label, of in FIELDS
        if (of == "resistance") == typed.in_ohms
    )


def _tone(day: Day | None) -> tuple[str, str, str]:
    """How the verdict is shown: its tone, its sign, its words."""
    if day is None:
        return "", "", ""
    if day.fit is None:
        return "open", "…", "not enough checks yet"
    return ("good", "✓", "in control") if day.fit else ("open", "?", "look first")


def _chart(request: Request, asked: FitnessAsked, fit: bool | None) -> Markup:
    """What the report says first: the verdict and its chart; what to do where the bench is to be looked at."""
    plain = replace(asked, asked=Asked(asked.asked.standard), limit_text="")
    report = tell_fitness(shop_of(request), desk_of(request), plain.asked).report
    first = report.sections[0]
    if fit:
        first = replace(
            first, blocks=tuple(one for one in first.blocks if isinstance(one, Headline | ChartFigure))
        )
    report = replace(report, sections=(first,))
    return report_fragment(request, report, lambda name: plain.address(f"{PLACE}/pictures/{name}"))


@pages.post("")
def take(request: Request, sent: Posted) -> Response:
    """Keep the check, ask about it, or say what cannot be read."""
    asked = read_asked(request)
    shop, desk, standard = shop_of(request), desk_of(request), asked.asked.standard
    if standard is None:
        mend = "Write its card first: its name and its value."
        raise InputRefused((Fault("the check standard", "none", "a check standard of the shop", mend),))
    key = sent.text("key") or shop.new_key()
    typed = _as_sent(sent, key)
    try:
        entries, mark = _entries(request, standard, typed)
        study = standing_study(shop, desk, standard, who(request))
        mating = str(next_mating(desk.state(study)))
        entries = [replace(entry, mating=mating) for entry in entries]
        anyway = sent.text("anyway") if sent.text("keep") else ""
        taken = take_check(shop, desk, study, entries, Sending(who(request), key, anyway))
    except InputRefused as refused:
        return show(request, _page(request, asked, _faulty(typed, refused.faults)), 422)
    if not taken.kept:
        missing = ("Say why it is kept: it stands in the record beside the reading.",)
        others = missing if sent.text("keep") else ()
        return show(request, _page(request, asked, replace(typed, doubts=taken.doubts, others=others)), 409)
    answer = go_to(f"{PLACE}/check?standard={standard.card}&kept=yes")
    if mark is not None:
        answer.set_cookie("mark", mark, max_age=365 * 24 * 3600, httponly=True, samesite="strict")
    return answer


def _as_sent(sent: Sent, key: str) -> _Typed:
    units = {
        name: unit if (unit := sent.text(f"{name}_unit")) in UNITS[of] else FIRST_UNITS[of]
        for name, _, of in FIELDS
    }
    texts = {name: sent.text(name) for name, _, _ in FIELDS}
    return _Typed(texts, units, sent.text("by") == "ohms", sent.text("note"), key=key)


def _faulty(typed: _Typed, faults: Sequence[Fault]) -> _Typed:
    """The same form with what is wrong beside its fields."""
    names = {name for name, _, _ in FIELDS}
    words = [(fault, fault_words(fault)) for fault in faults]
    beside = {fault.where: said for fault, said in reversed(words) if fault.where in names}
    rest = tuple(f"{fault.where}: {said}" for fault, said in words if fault.where not in names)
    return replace(typed, faults=beside, others=tuple(dict.fromkeys(rest)))


def _entries(request: Request, standard: Standard, typed: _Typed) -> tuple[list[Entry], Decimal | None]:
    """The readings of the check, with the decimal mark that was seen; raises InputRefused with every field at fault."""
    readings: tuple[tuple[Sign, str], ...] = (("", ""),) if typed.in_ohms else (("+", ""), ("-", "-"))
    last = _last(request, standard)
    entries, faults, seen = [], list[Fault](), None
    for sign, suffix in readings:
        wanted = ("resistance",) if typed.in_ohms else ("voltage", "current")
        fields = {of: f"{of}{suffix}" if of == "voltage" else of for of in wanted}
        figures = {of: (typed.texts[name], typed.units[name]) for of, name in fields.items()}
        before = {}
        if not typed.in_ohms and last is not None and last.current is not None:
            before = {"current": as_polarity(last.current, sign)}
        draft = Draft({}, sign, figures, before, typed.note, who(request))
        try:
            read = read_draft(check_draft(standard, draft), mark_of(request), shop_of(request).clock())
        except InputRefused as refused:
            faults += [replace(fault, where=fields.get(fault.where, fault.where)) for fault in refused.faults]
            continue
        entries.append(read.entry)
        seen = read.mark or seen
    if faults:
        raise InputRefused(tuple(dict.fromkeys(faults)))
    return entries, seen
