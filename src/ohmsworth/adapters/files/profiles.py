"""Profiles of meters and current sources: each ``[[meter]]`` and ``[[source]]`` of a file, or everything that is wrong."""

from __future__ import annotations

import re
from pathlib import Path
from typing import cast

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.labels import LONGEST_NAME
from ohmsworth.adapters.files.study_toml import accuracy_text
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.errors import InputRefused, QuantityFault, shorten
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.names import clean_name
from ohmsworth.units import parse_unit, tidy
from ohmsworth.work.instruments import (
    CLEARS,
    SENDS,
    Clear,
    MeterProfile,
    MeterRange,
    Profiles,
    Sends,
    SourceProfile,
    Talk,
)

#: The profiles that come with the program.
STANDARD = Path(__file__).with_name("profiles.toml")
QUANTITIES = ("voltage", "current", "resistance", "temperature")
ENDS = {"LF": "\n", "CR": "\r", "CR LF": "\r\n"}
#: Written where an instrument has no such question.
NONE = "none"
_BAUDS = (300, 1_000_000)
_FRAME = re.compile("[78][NEO][12]")
_LONGEST_COMMAND = 200
_EXAMPLE = 'Write [[meter]], and under it name = "...", quantity = "voltage", unit = "V" and query = "...".'
_SHORTEST, _LONGEST_WAIT = 0.05, 60.0


def load_profiles(path: Path | None = None) -> Profiles:
    """The profiles that come with the program, and those of the shop's own file at `path`.

    Raises
    ------
    InputRefused
        With every fault of the file; nothing of it is used then.
    """
    found = _read(STANDARD, Profiles({}, {}))
    return found if path is None else _read(path, found)


def _read(path: Path, known: Profiles) -> Profiles:
    table, faults = read_toml(path, _EXAMPLE)
    if table is None:
        raise InputRefused(tuple(faults))
    asked = Asked(table, path.name, faults)
    names = {name.casefold() for name in (*known.meters, *known.sources)}
    meters = [_meter(each, names) for each in asked.several("meter")]
    sources = [_source(each, names) for each in asked.several("source")]
    asked.done()
    if not faults and not meters and not sources:
        asked.fault("meter", "no profile at all", "one or more of [[meter]] and [[source]]", _EXAMPLE)
    if faults:
        raise InputRefused(tuple(faults))
    return Profiles(
        known.meters | {each.name: each for each in meters},
        known.sources | {each.name: each for each in sources},
    )


def _meter(table: Asked, names: set[str]) -> MeterProfile:
    name = _name(table, names)
    quantity = _quantity(table)
    sends = cast(Sends, table.choice("sends", SENDS, "when asked"))
    unit_sent = _yes(table, "unit_sent", default=False)
    profile = MeterProfile(
        name=name,
        quantity=quantity,
        unit=_unit(table, quantity, unit_sent),
        talk=_talk(table, asks=sends == "when asked"),
        query=_command(table, "query"),
        sends=sends,
        before=_command(table, "before"),
        after=_command(table, "after"),
        unit_sent=unit_sent,
        overload=_texts(table, "overload", MeterProfile("", "", "").overload),
        ranges=_ranges(table, quantity),
        words=table.text("words") or "",
        source=table.text("source") or "the shop's own",
    )
    table.done()
    if (sends == "when asked") != bool(profile.query):
        wanted = "a query" if sends == "when asked" else "no query, for this meter sends by itself"
        mend = 'Write query = "..." for a meter that is asked, or sends = "continuously" or "on its key" for another.'
        table.fault("query", "a query" if profile.query else "no query", wanted, mend)
    return profile


def _source(table: Asked, names: set[str]) -> SourceProfile:
    usual = SourceProfile("")
    name = _name(table, names)
    open_circuit = table.quantity("open_circuit_voltage", "voltage")
    sets = open_circuit is None
    profile = SourceProfile(
        name=name,
        talk=_talk(table, asks=True),
        set_current=_template(table, "set_current", "{ampere}", usual.set_current),
        ask_current=_command(table, "ask_current") or usual.ask_current,
        set_compliance=_template(table, "set_compliance", "{volt}", usual.set_compliance if sets else ""),
        ask_compliance=_command(table, "ask_compliance") or (usual.ask_compliance if sets else ""),
        open_circuit_voltage=open_circuit,
        output_on=_command(table, "output_on") or usual.output_on,
        output_off=_command(table, "output_off") or usual.output_off,
        ask_output=_command(table, "ask_output") or usual.ask_output,
        most_current=table.quantity("most_current", "current"),
        least_compliance=table.quantity("least_compliance", "voltage", positive=False, low=0.0) or 0.0,
        most_compliance=table.quantity("most_compliance", "voltage"),
        current_step=table.quantity("current_step", "current") or 0.0,
        compliance_step=table.quantity("compliance_step", "voltage") or 0.0,
        reversible=_yes(table, "reversible", default=True),
        words=table.text("words") or "",
        source=table.text("source") or "the shop's own",
    )
    table.done()
    if not sets and profile.set_compliance:
        mend = "Leave one of the two out: the voltage on an open contact is either fixed or set."
        found = "beside set_compliance"
        table.fault("open_circuit_voltage", found, "one of the two", mend)
    return profile


def _name(table: Asked, names: set[str]) -> str:
    name = clean_name(table.text("name") or "")
    if "name" not in table.table:
        table.fault("name", "no such key", 'a name, such as name = "bench voltmeter"', "Add it.")
    elif name and (len(name) > LONGEST_NAME or not name.isprintable()):
        wanted = f"a name of at most {LONGEST_NAME} characters"
        table.fault("name", shorten(name), wanted, "Write another name.")
    elif name.casefold() in names:
        mend = "Write another name: one of that name stands above, or comes with the program."
        table.fault("name", f"{shorten(name)} a second time", "each name once", mend)
    names.add(name.casefold())
    return name


def _quantity(table: Asked) -> str:
    if "quantity" not in table.table:
        wanted = " or ".join(f'"{one}"' for one in QUANTITIES)
        table.fault("quantity", "no such key", wanted, 'Add quantity = "...".')
    return table.choice("quantity", QUANTITIES, QUANTITIES[0])


def _unit(table: Asked, quantity: str, unit_sent: bool) -> str:
    unit = table.text("unit")
    if unit_sent:
        if unit is not None:
            mend = "Leave one of the two out."
            table.fault(
                "unit", "a unit, though unit_sent says that the meter sends it", "one of the two", mend
            )
        return ""
    if unit is None:
        if "unit" not in table.table:
            mend = 'Add unit = "V" for an answer in volt, or unit_sent = true where the meter sends its unit.'
            table.fault("unit", "no such key", "the unit of the number that the meter sends", mend)
        return ""
    try:
        parse_unit(unit, quantity)
    except QuantityFault as error:
        table.fault("unit", error.found, error.expected, error.mend)
    return tidy(unit)


def _talk(table: Asked, asks: bool) -> Talk:
    usual = Talk()
    timeout = table.quantity("timeout", "time", _SHORTEST, _LONGEST_WAIT)
    baud = table.whole("baud", *_BAUDS)
    frame = table.text("frame") or usual.frame
    if not _FRAME.fullmatch(frame):
        mend = "Write data bits, parity (N, E or O) and stop bits, as the meter's manual gives them."
        table.fault("frame", shorten(frame), '"8N1" or the like', mend)
    return Talk(
        send_end=ENDS[table.choice("send_end", tuple(ENDS), "LF")],
        answer_end=ENDS[table.choice("answer_end", tuple(ENDS), "LF")],
        timeout=timeout or usual.timeout,
        clear=cast(Clear, table.choice("clear", CLEARS, usual.clear)),
        identify=_question(table, "identify", usual.identify if asks else ""),
        expected=_command(table, "expected"),
        ask_error=_question(table, "ask_error", usual.ask_error if asks else ""),
        setup=_texts(table, "setup", ()),
        baud=baud or usual.baud,
        frame=frame,
    )


def _question(table: Asked, key: str, default: str) -> str:
    """A question that may be missing: written "none" then."""
    text = _command(table, key) or default
    return "" if text == NONE else text


def _command(table: Asked, key: str) -> str:
    """A line as it is sent; empty when left out."""
    text = table.text(key) or ""
    if text and _no_line(text):
        table.fault(key, shorten(text), *_LINE)
        return ""
    return text


_LINE = (
    f"one line of at most {_LONGEST_COMMAND} plain characters (ASCII)",
    "Copy the command from the instrument's manual.",
)


def _no_line(text: str) -> bool:
    return len(text) > _LONGEST_COMMAND or not text.isascii() or not text.isprintable()


def _template(table: Asked, key: str, place: str, default: str) -> str:
    text = _command(table, key) or default
    if text and (
        text.count(place) != 1 or text.replace(place, "").count("{") or "}" in text.replace(place, "")
    ):
        mend = f'Write {place} where the number belongs, as in "{default or place}".'
        table.fault(key, shorten(text), f"a command with {place} in it once", mend)
    return text


def _texts(table: Asked, key: str, default: tuple[str, ...]) -> tuple[str, ...]:
    texts = tuple(str(text) for text in table.items(key, str, "texts in quotation marks"))
    for text in texts:
        if _no_line(text) or not text.strip():
            table.fault(key, shorten(text) if text else "an empty text", *_LINE)
    return texts if key in table.table else default


def _yes(table: Asked, key: str, *, default: bool) -> bool:
    table.allow(key)
    value = table.table.get(key, default)
    if not isinstance(value, bool):
        table.fault(key, found_value(value), "true or false", f"Write {key} = true without quotation marks.")
        return default
    return value


def _ranges(meter: Asked, quantity: str) -> tuple[MeterRange, ...]:
    found: list[MeterRange] = []
    for table in meter.several("range"):
        up_to = table.quantity("up_to", quantity)
        resolution = table.quantity("resolution", quantity)
        text = table.text("accuracy")
        command = _command(table, "command")
        gain, counts = accuracy_text(table, text) if text is not None else (0.0, 0.0)
        table.done()
        for key, example in (("up_to", "20 mV"), ("accuracy", "0.5 % + 3 counts"), ("resolution", "1 µV")):
            if key not in table.table:
                mend = f'Add it, such as {key} = "{example}", from the meter\'s specification.'
                table.fault(key, "no such key", "what the maker states of this range", mend)
        if up_to is not None and found and up_to <= found[-1].up_to:
            table.fault(
                "up_to", "no more than the range before it", "ranges from the smallest up", "Sort them."
            )
        if up_to is not None and resolution is not None and resolution >= up_to:
            table.fault("resolution", "as large as the range", "the size of one count", "Check the unit.")
        found.append(MeterRange(up_to or 0.0, Accuracy(gain, counts, resolution or 0.0), command))
    return tuple(found)
