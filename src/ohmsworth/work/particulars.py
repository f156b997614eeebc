"""How the readings of a study came about, for its report: out of the records with their cards, or out of a folder."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.report.particulars import MOST_READINGS, Decision, MeterUsed, Particulars, ReadingRow, Remark
from ohmsworth.units import show, show_stated
from ohmsworth.work.cards.choices import choices
from ohmsworth.work.cards.log import CardState, fold_card
from ohmsworth.work.cards.said import CheckStandardCard, CustomerCard, JobCard, MeterCard, SpecimenCard
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.portable import FolderRow, StudyFolder, StudyLog
from ohmsworth.work.records import NOBODY, NoSuchCard, Records
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_form import MeterForm, StudyForm
from ohmsworth.work.study_lines import NO_REASON
from ohmsworth.work.study_log import KEPT, PUT_BACK, SET_ASIDE, WITHDRAWN, StudyState, fold
from ohmsworth.work.taken_reading import CORRECTED, TakenReading

FormOf = Callable[[str], StudyForm]

_DONE = {
    CORRECTED: "corrected",
    WITHDRAWN: "withdrawn",
    PUT_BACK: "put back",
    SET_ASIDE: "left out",
    KEPT: "kept in spite of a doubt",
}
#: What the program reads by which meter, in the order of the table.
_METERS = {"voltmeter": "voltage", "ammeter": "current", "ohmmeter": "resistance"}
_QUANTITIES = ("voltage", "current", "resistance", "temperature")
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
#: Where the columns of a folder say when a row was read.
_WHEN = ("date", "day", "time")


@dataclass(frozen=True, slots=True)
class Cards:
    """The cards that a study refers to, by number, and those of the shop's meters and check standards in use."""

    by_number: Callable[[int], CardState | None]
    meters: tuple[MeterCard, ...] = ()
    standards: tuple[CheckStandardCard, ...] = ()


@dataclass(frozen=True, slots=True)
class _Row:
    """A reading for the table: its number, what it says, when and by whom, and what became of it."""

    number: int
    entry: Entry
    when: str
    who: str
    became: str = ""
    read_by: Mapping[str, str] = field(default_factory=dict)


def record_particulars(shop: Shop, state: StudyState) -> Particulars:
    """What the records know of a study: its log, its job and customer, its specimens, the cards of its meters."""
    found = (one.said for one in choices(shop.records, "meter"))
    meters = tuple(said for said in found if isinstance(said, MeterCard))
    found = (one.said for one in choices(shop.records, "check standard"))
    standards = tuple(said for said in found if isinstance(said, CheckStandardCard))
    cards = Cards(lambda number: _card(shop.records, number), meters, standards)
    return _of_log(
        state, shop.form_of(state.question), cards, "readings.csv of the study's folder, on its page 'Report'"
    )


def folder_particulars(folder: StudyFolder, form_of: FormOf) -> Particulars:
    """What the files of a folder say; of one that was exported as it is also the log in it."""
    if folder.log is not None and not folder.rows:
        log = folder.log
        state = fold(log.study.lines)
        return _of_log(state, form_of(state.question), _linked(log), "readings.csv in the study's folder")
    form = form_of(folder.question)
    rows = [_folder_row(row, folder) for row in folder.rows]
    at = {row.line: row.entry.specimen for row in folder.rows}
    decisions = [
        Decision(str(n), at.get(n, ""), _DONE[SET_ASIDE], why) for n, why in sorted(folder.set_aside.items())
    ]
    decisions += [Decision(str(n), at.get(n, ""), _DONE[KEPT], "") for n in sorted(folder.kept)]
    return Particulars(
        days=_days(rows),
        people=_people(rows),
        meters=_meters(form, rows, Cards(lambda _: None)),
        decisions=tuple(decisions),
        number=len(rows),
        readings=_readings(rows),
    )


def _of_log(state: StudyState, form: StudyForm, cards: Cards, place: str) -> Particulars:
    rows = [
        _Row(
            one.nth,
            one.entry,
            _taken_at(one),
            _who(one.entry.operator or one.by),
            _became(one),
            one.read_by,
        )
        for one in state.counted
    ]
    job, customer = _job(state, cards)
    return Particulars(
        job=job,
        customer=customer,
        days=_days(rows),
        people=_people(rows),
        specimens=_specimens(state, cards),
        meters=_meters(form, rows, cards),
        decisions=tuple(told for one in state.readings for told in _decided(one)),
        remarks=_remarks(state),
        number=len(rows),
        readings=_readings(rows),
        counted="reading",
        place=place,
    )


def _card(records: Records, number: int) -> CardState | None:
    try:
        return read_card(records, number)
    except NoSuchCard:
        return None


def _linked(log: StudyLog) -> Cards:
    """The cards that came with an exported folder."""

    def by_number(number: int) -> CardState | None:
        card = log.linked.get(number)
        return None if card is None or card.kind == "study" else fold_card(card.kind, card.lines)

    return Cards(by_number)


def _job(state: StudyState, cards: Cards) -> tuple[str, str]:
    """The job and its customer; without a job the customer of whom all specimens are."""
    said = _said(cards, state.job)
    if isinstance(said, JobCard):
        customer = _said(cards, said.customer)
        name = customer.name if isinstance(customer, CustomerCard) else ""
        return " – ".join(part for part in (said.number, said.title) if part), name
    owners = set()
    for number in state.specimens.values():
        specimen = _said(cards, number)
        owner = _said(cards, specimen.customer) if isinstance(specimen, SpecimenCard) else None
        owners.add(owner.name if isinstance(owner, CustomerCard) else "")
    return "", owners.pop() if len(owners) == 1 else ""


def _said(cards: Cards, number: int | None) -> object:
    card = None if number is None else cards.by_number(number)
    return None if card is None else card.said


def _specimens(state: StudyState, cards: Cards) -> tuple[tuple[str, str], ...]:
    """Specimens with cards: the name in the study, and what the card says of it."""
    found = []
    for name, number in state.specimens.items():
        said = _said(cards, number)
        if isinstance(said, SpecimenCard):
            serial = "" if said.serial == name else f"serial {said.serial}"
            plating = f"plating {said.plating}" if said.plating else ""
            found.append((name, "; ".join(part for part in (said.what, serial, plating) if part) or "–"))
    return tuple(found)


def _meters(form: StudyForm, rows: Sequence[_Row], cards: Cards) -> tuple[MeterUsed, ...]:
    """The meters that the question states, those that the program read, and the check standard."""
    found = []
    for name, quantity in _METERS.items():
        stated: MeterForm = getattr(form, name)
        read = sorted({row.read_by[quantity] for row in rows if row.read_by.get(quantity)})
        used = any(getattr(row.entry, quantity) is not None for row in rows)
        if not used and not stated.accuracy:
            continue
        called = stated.note or ", ".join(read)
        accuracy = f"± ({stated.accuracy})" if stated.accuracy else ""
        if accuracy and stated.resolution:
            accuracy += f", one count {stated.resolution}"
        card = next((one for one in cards.meters if _is_called(called, one.name)), None)
        found.append(MeterUsed(name, called, accuracy, _calibrated(card)))
    if form.check_name:
        value = form.check_value + (
            f" ± {form.check_uncertainty} (standard uncertainty)" if form.check_uncertainty else ""
        )
        standard = next((one for one in cards.standards if one.name == form.check_name), None)
        value = value or (f"{show_stated(standard.value, 'Ω')} by its card" if standard else "")
        found.append(MeterUsed("check standard", form.check_name, value, _calibrated(standard)))
    return tuple(found)


def _is_called(note: str, name: str) -> bool:
    """Whether a meter's note begins with the name of a card, as the form writes it: "name, up to 100 mV"."""
    return note == name or note.startswith(f"{name},")


def _calibrated(card: MeterCard | CheckStandardCard | None) -> str:
    if card is None or card.calibrated is None:
        return ""
    serial = f"serial {card.serial}" if card.serial else ""
    certificate = f"certificate {card.certificate}" if card.certificate else ""
    return ", ".join(part for part in (f"{card.calibrated:%Y-%m-%d}", certificate, serial) if part)


def _decided(one: TakenReading) -> list[Decision]:
    """What was done to a reading after it was taken, or as it was."""
    of = ", ".join(part for part in (one.entry.specimen, one.entry.condition) if part)
    number, found = str(one.nth), []
    if one.kept and not any(line.kind == KEPT for line in one.changes):
        found.append(Decision(number, of, _DONE[KEPT], one.kept, _who(one.by), _moment(one.at)))
    for line in one.changes:
        if line.kind in _DONE:
            why = line.reason.strip()
            found.append(Decision(number, of, _DONE[line.kind], why, _who(line.by), _moment(line.at)))
    return found


def _remarks(state: StudyState) -> tuple[Remark, ...]:
    numbers = state.nths
    return tuple(
        Remark(
            str(line.fields.get("text", "")),
            "" if line.about is None else f"reading {numbers.get(line.about, line.about)}",
            _who(line.by),
            _moment(line.at),
        )
        for line in state.notes
    )


def _became(one: TakenReading) -> str:
    if one.state == "set aside":
        return f"left out: {one.reason.strip() or NO_REASON}"
    return f"kept: {one.kept.strip() or NO_REASON}" if one.kept is not None else ""


def _who(name: str) -> str:
    return "" if name == NOBODY else name


def _taken_at(one: TakenReading) -> str:
    typed = " ".join(one.entry.others[name] for name in _WHEN if one.entry.others.get(name))
    return typed or _moment(one.entry.time or one.at)


def _moment(at: datetime) -> str:
    """Date and time on this machine's clock, as on the pages."""
    return f"{at.astimezone() if at.tzinfo else at:%Y-%m-%d %H:%M}"


def _folder_row(row: FolderRow, folder: StudyFolder) -> _Row:
    entry = row.entry
    typed = " ".join(entry.others[name] for name in _WHEN if entry.others.get(name))
    when = typed or (f"{entry.time:%Y-%m-%d %H:%M:%S}" if entry.time else "")
    became = f"left out: {folder.set_aside[row.line]}" if row.line in folder.set_aside else ""
    return _Row(row.line, entry, when, entry.operator, became or ("kept" if row.line in folder.kept else ""))


def _days(rows: Sequence[_Row]) -> tuple[str, ...]:
    return tuple(sorted({match[0] for row in rows if (match := _DAY.match(row.when))}))


def _people(rows: Sequence[_Row]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.who for row in rows if row.who))


def _readings(rows: Sequence[_Row]) -> tuple[ReadingRow, ...]:
    """The rows of the table; none where they are too many to list."""
    if len(rows) > MOST_READINGS:
        return ()
    units = {
        name: {typed.unit for row in rows if (typed := getattr(row.entry, name)) is not None}
        for name in _QUANTITIES
    }
    return tuple(_reading(row, units) for row in rows)


def _reading(row: _Row, units: Mapping[str, set[str]]) -> ReadingRow:
    entry = row.entry
    cells = {name: getattr(entry, name) for name in ("specimen", "condition", "contact", "mating")}
    cells |= {n: text for n, text in entry.others.items() if n not in _WHEN and not n.startswith("note")}
    cells |= {"polarity": entry.polarity}
    for name in _QUANTITIES:
        heading, text = _figure(name, getattr(entry, name), units[name])
        if name == "resistance" and not units[name]:
            text = _ohm(entry)
        cells[heading] = text
    note = "; ".join(part for part in (row.became, entry.note, entry.others.get("note", "")) if part)
    return ReadingRow(str(row.number), cells | {"when": row.when, "by": row.who, "note": note})


def _figure(name: str, typed: Typed | None, units: set[str]) -> tuple[str, str]:
    """The heading with the unit where all share one, and the digits as they were typed."""
    if len(units) == 1:
        return f"{name} [{min(units)}]", "" if typed is None else typed.text
    return name, "" if typed is None else f"{typed.text} {typed.unit}"


def _ohm(entry: Entry) -> str:
    """What voltage and current of one reading make, the thermal EMF still in it."""
    if entry.voltage is None or entry.current is None or entry.polarity == "0" or not entry.current.value:
        return ""
    return show(abs(entry.voltage.value / entry.current.value), "Ω", 4)
