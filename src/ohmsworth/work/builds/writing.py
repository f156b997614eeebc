"""What may be done to a cable in the records: describing it, measuring it, withdrawing a row. Each adds lines."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ohmsworth.cables.no_path import says_no_path
from ohmsworth.cables.request import CableRow
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.units import Decimal
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.log import DESCRIBED, MEASURED, NOTE, PUT_BACK, WITHDRAWN, CableState, row_fields
from ohmsworth.work.builds.slips import Slip, slip_of
from ohmsworth.work.builds.teller import between
from ohmsworth.work.cable_ports import WrittenRow
from ohmsworth.work.cards.reasons import long_reason_faults, reason_faults
from ohmsworth.work.cards.typed import clean_text
from ohmsworth.work.records import NewLine
from ohmsworth.work.typed import read_typed

LONGEST_NOTE, LONGEST_SIDE = 5000, 20_000


@dataclass(frozen=True, slots=True)
class RowDraft:
    """A measurement as text: contacts on either side, what was typed, and the unit that the field remembers."""

    one: str
    other: str
    resistance: str
    unit: str = "Ω"


@dataclass(frozen=True, slots=True)
class Sending:
    """In whose name it is written, under which key, and why it is kept in spite of a doubt."""

    by: str
    key: str
    anyway: str = ""


@dataclass(frozen=True, slots=True)
class Measured:
    """What became of a measurement: `number` is its line, None while `slip` is not answered.

    `said` is how the figure was read where that is worth saying, `mark` the decimal mark that was seen.
    """

    row: CableRow
    number: int | None
    slip: Slip | None
    said: str
    mark: Decimal | None
    after: CableState


def open_cable(desk: CableDesk, toml: str, by: str, key: str) -> int:
    """Put a cable into the records and return its card; the same `key` twice does it once.

    Raises
    ------
    InputRefused
        With every fault of its description.
    """
    text = kept_text(toml)
    desk.teller.ahead(text)
    return desk.records.open_card("cable", by, [NewLine(key, DESCRIBED, {"toml": text})], desk.face)


def describe_again(desk: CableDesk, cable: int, toml: str, seen: int, reason: str, sending: Sending) -> None:
    """Write the description anew; what it said before stays in the log. `seen` is the line that the form had shown.

    Raises
    ------
    InputRefused
        With every fault of it, also where rows that were measured do not fit it; without a reason; where somebody else wrote it
        in between.
    """
    state, text = desk.state(cable), kept_text(toml)
    if any(line.key == sending.key for line in state.descriptions):
        return
    faults = reason_faults(reason, "why it is changed")
    if seen < state.described:
        other = state.descriptions[-1].by
        found, mend = f"changed by {other} since this form was opened", "Look at what stands there now."
        faults.append(Fault("this description", found, "the description as the form showed it", mend))
    try:
        desk.teller.ahead(text)
        desk.teller.answer(text, state.written)
    except InputRefused as refused:
        faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))
    line = NewLine(sending.key, DESCRIBED, {"toml": text}, reason=clean_text(reason))
    desk.records.add(cable, sending.by, [line], desk.face)


def measure(desk: CableDesk, cable: int, draft: RowDraft, mark: Decimal, sending: Sending) -> Measured:
    """Keep one measurement, or ask about it where it looks like a slip.

    Raises
    ------
    InputRefused
        With every field at fault; `where` of a fault is "from", "to" or "resistance" where it is about one of them.
    """
    state = desk.state(cable)
    written, said, seen = read_draft(draft, mark)
    row = _read(desk, state, written)
    before = next((one for one in state.rows if one.key == sending.key), None)
    if before is not None:
        row = _read(desk, state, before.written)  # what stands there, whatever came with its key now
        return Measured(row, before.number, None, said, seen, state)
    anyway = clean_text(sending.anyway)
    slip = slip_of(desk.teller.described(state.toml).request, desk.teller.ahead(state.toml).build, row)
    if slip is not None and not anyway:
        return Measured(row, None, slip, said, seen, state)
    faults = long_reason_faults(anyway)
    if faults:
        raise InputRefused(tuple(faults))
    line = NewLine(sending.key, MEASURED, row_fields(written), reason=anyway if slip is not None else "")
    (kept,) = desk.records.add(cable, sending.by, [line], desk.face)
    return Measured(row, kept.number, slip, said, seen, desk.state(cable))


def read_draft(draft: RowDraft, mark: Decimal) -> tuple[WrittenRow, str, Decimal | None]:
    """The row as it will be kept, how its figure was read, and the decimal mark that was seen; raises InputRefused."""
    faults = [
        Fault(
            name,
            "nothing" if not text.strip() else "more than anybody has",
            "contacts such as A:1",
            "Name them.",
        )
        for name, text in (("from", draft.one), ("to", draft.other))
        if not text.strip() or len(text) > LONGEST_SIDE
    ]
    if not draft.resistance.strip():
        mend = "Type it and press Enter; write open where there is no path."
        faults.append(Fault("resistance", "nothing", "what the meter shows", mend))
    if faults:
        raise InputRefused(tuple(faults))
    one, other = (" ".join(side.split()) for side in (draft.one, draft.other))
    if says_no_path(draft.resistance):
        return WrittenRow(one, other, None), "", None
    read = read_typed(draft.resistance, "resistance", "resistance", draft.unit, mark)
    return WrittenRow(one, other, read.typed), read.said, read.mark


def _read(desk: CableDesk, state: CableState, written: WrittenRow) -> CableRow:
    """The row as its folder is read; its faults by the fields of the form."""
    try:
        return desk.teller.row(state.toml, written)
    except InputRefused as refused:
        raise InputRefused(tuple(map(_by_field, refused.faults))) from refused


def _by_field(fault: Fault) -> Fault:
    column = fault.where.rpartition("column '")[2].rstrip("'")
    if column in ("from", "to", "resistance"):
        return replace(fault, where=column)
    return replace(fault, where="from") if fault.where.startswith("test.csv, line") else fault


def take_test(desk: CableDesk, cable: int, data: bytes, by: str, key: str) -> tuple[int, int]:
    """Keep the rows of a test.csv; return how many were new, and how many stood there already.

    A row is known where the last one between the same contacts says the same, and, in a file that begins with all rows that stand
    here, where it is one of those: a file that was taken out, filled in further and
    sent again brings what is new in it.

    Raises
    ------
    InputRefused
        With every fault of the file; nothing of it is kept then.
    """
    state = desk.state(cable)
    read = desk.teller.ports.tested(data, desk.teller.described(state.toml))
    there = [(between(row), row.ohm) for row in (desk.teller.row(state.toml, one) for one in state.written)]
    last, lines = dict(there), list[NewLine]()
    # A file that begins with every row that stands here was filled in further: what follows is new, repeated readings too.
    begins = [(between(row), row.ohm) for row in read.rows[: len(there)]] == there
    for k, (row, written) in enumerate(zip(read.rows, read.written, strict=True)):
        places = between(row)
        known = k < len(there) if begins else places in last and last[places] == row.ohm
        if known:
            continue
        last[places] = row.ohm
        lines.append(NewLine(f"{key}.{row.line}", MEASURED, row_fields(written)))
    if lines:
        desk.records.add(cable, by, lines, desk.face)
    return len(lines), len(read.rows) - len(lines)


def change_row(desk: CableDesk, cable: int, number: int, back: bool, reason: str, sending: Sending) -> None:
    """Withdraw a row, or put it back; it stays in the log.

    Raises
    ------
    InputRefused
        Without a reason; when there is no such row, or it stands so already.
    """
    state = desk.state(cable)
    if any(line.key == sending.key for line in desk.records.lines(cable, number)):
        return
    row = next((one for one in state.rows if one.number == number), None)
    faults = reason_faults(reason, "why it is put back" if back else "why it is withdrawn")
    if row is None:
        faults.append(Fault(f"row {number}", "no such row", "a row of this cable", "Look at its table."))
    elif (row.state == "used") == back:
        found = "not withdrawn" if back else "withdrawn already"
        faults.append(Fault(f"row {row.nth}", found, "the other state", "Nothing is to be done."))
    if faults:
        raise InputRefused(tuple(faults))
    line = NewLine(sending.key, PUT_BACK if back else WITHDRAWN, about=number, reason=clean_text(reason))
    desk.records.add(cable, sending.by, [line], desk.face)


def write_note(desk: CableDesk, cable: int, text: str, by: str, key: str) -> None:
    """Write a note on a cable.

    Raises
    ------
    InputRefused
        For an empty note, and one longer than a page.
    """
    desk.state(cable)
    text = clean_text(text, several_lines=True)
    if not 0 < len(text) <= LONGEST_NOTE:
        found = f"a text of {len(text)} characters" if text else "nothing"
        mend = "Write it; a longer text belongs into a file."
        raise InputRefused((Fault("note", found, f"1 to {LONGEST_NOTE} characters", mend),))
    desk.records.add(cable, by, [NewLine(key, NOTE, {"text": text})], desk.face)


def kept_text(toml: str) -> str:
    """A text with the ends of lines that files have, and nothing that no database takes."""
    return "\n".join(toml.replace("\0", "\ufffd").splitlines()) + "\n"
