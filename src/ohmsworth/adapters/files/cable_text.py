"""The files of a cable's folder as texts: read by the readers of the folder, and written."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from ohmsworth.adapters.files.cable_csv import FILE as TEST
from ohmsworth.adapters.files.cable_csv import read_test
from ohmsworth.adapters.files.cable_folder import least_shown, meter_faults
from ohmsworth.adapters.files.cable_toml import FILE as CABLE
from ohmsworth.adapters.files.cable_toml import read_cable
from ohmsworth.adapters.files.formulas import as_text
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.adapters.files.record_units import column_unit, in_unit
from ohmsworth.errors import InputRefused
from ohmsworth.units import tidy
from ohmsworth.work.cable_form import MOST_CONTACTS, MOST_WAYS, CableForm, number_of, refuse_uncounted
from ohmsworth.work.cable_ports import Described, ReadTest, SheetRow, WrittenRow


def described(toml: str) -> Described:
    """What the text of a cable.toml says.

    Raises
    ------
    InputRefused
        With every fault of it.
    """
    with laid_down({CABLE: toml.encode("utf-8", "replace")}) as folder:
        read = read_cable(folder / CABLE)
    if read.faults or read.request is None:
        raise InputRefused(tuple(read.faults))
    return Described(read.request, read.contacts)


def tested(data: bytes, of: Described) -> ReadTest:
    """What a test.csv says that was measured at the cable `of`.

    Raises
    ------
    InputRefused
        With every fault of it, and where no meter is stated.
    """
    with laid_down({TEST: data}) as folder:
        read, faults = read_test(folder / TEST, of.contacts, least_shown(of.request))
    faults = [*faults, *meter_faults(of.request)]
    if faults:
        raise InputRefused(tuple(faults))
    return read


def written_test(rows: Sequence[WrittenRow]) -> bytes:
    """The bytes of a test.csv, in the unit that most of it was typed in."""
    typed = [row.resistance for row in rows]
    unit = column_unit(typed) if any(typed) else "Ω"
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("from", "to", f"resistance [{unit}]"))
    for row in rows:
        shown = "open" if row.resistance is None else in_unit(row.resistance, unit)
        writer.writerow(tuple(map(as_text, (row.one, row.other, shown))))
    return out.getvalue().encode()


def written_sheet(rows: Sequence[WrittenRow], left: Sequence[SheetRow]) -> bytes:
    """The bytes of a test.csv to be filled in: `rows` that were measured, and below them what is `left`, with empty cells.

    UTF-8 with a byte-order mark, so that a spreadsheet shows Ω for what it is. Steps and notes are for whoever measures:
    reading the file passes them over.
    """
    typed = [row.resistance for row in rows]
    unit = column_unit(typed) if any(typed) else "Ω"
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(("step", "from", "to", f"resistance [{unit}]", "note"))
    for row in rows:
        shown = "open" if row.resistance is None else in_unit(row.resistance, unit)
        writer.writerow(("", *map(as_text, (row.one, row.other, shown)), ""))
    for step, one in enumerate(left, start=1):
        writer.writerow((step, as_text(one.one), as_text(one.other), "", as_text(one.note)))
    return ("\ufeff" + out.getvalue()).encode()


def cable_toml(form: CableForm) -> str:
    """The text of a cable.toml for a plain form: every way straight through, contact by contact.

    Raises
    ------
    InputRefused
        Where its ways or its contacts cannot be counted.
    """
    refuse_uncounted(form)
    ways, contacts = number_of(form.ways, MOST_WAYS) or 1, number_of(form.contacts, MOST_CONTACTS) or 1
    runs = [_run(number) for number in (ways, contacts)]
    named = runs[1] if ways == 1 else runs[0] if contacts == 1 else ".".join(runs)
    one, other = (end.strip() for end in form.ends)
    lines = [*_said(_about(form)), ""]
    for end, connector in zip((one, other), form.connectors, strict=True):
        lines += [f"[ends.{_text(end)}]", *_said((("connector", connector),))]
        listed = [named, "shell"] if form.shell else [named]
        lines += [f"contacts = [{', '.join(map(_text, listed))}]"]
        lines += [*_said(_contact(form)), ""]
    lines += ["[kinds.core]", *_said((("conductor", form.conductor), ("tolerance", form.tolerance))), ""]
    if form.screen.strip():
        said = (("resistance", form.screen), ("tolerance", form.screen_tolerance), ("role", "screen"))
        lines += ["[kinds.screen]", *_said(said), ""]
        way = "" if ways == 1 else f"{runs[0]}."
        lines += _wires("screen", one, other, f"{way}1", "screen")
        if contacts == 3:  # a balanced line
            for name, contact in (("hot", 2), ("cold", 3)):
                lines += _wires(name, one, other, f"{way}{contact}", "core", "line" if ways == 1 else "way")
        else:
            rest = "2" if contacts == 2 else f"2-{contacts}"
            lines += _wires("wire", one, other, f"{way}{rest}", "core")
    else:
        lines += _wires("wire", one, other, named, "core")
    if form.shell:
        lines += _wires("shell", one, other, "shell", "core")
    return "\n".join([*lines, *_meter(form), ""])


def _wires(name: str, one: str, other: str, contacts: str, kind: str, pair: str = "") -> list[str]:
    """A table of wires straight from one end to the other."""
    said = (
        ("name", name),
        ("from", f"{one}:{contacts}"),
        ("to", f"{other}:{contacts}"),
        ("kind", kind),
        ("pair", pair),
    )
    return ["[[wires]]", *_said(said), ""]


def _run(number: int) -> str:
    return "1" if number == 1 else f"1-{number}"


def _about(form: CableForm) -> tuple[tuple[str, str], ...]:
    named = ("name", "serial", "length", "length_tolerance")
    return tuple((key, getattr(form, key)) for key in named)


def _contact(form: CableForm) -> tuple[tuple[str, str], ...]:
    return tuple((key, getattr(form, key)) for key in ("contact_resistance", "contact_limit"))


def _meter(form: CableForm) -> Iterator[str]:
    """The meter where one is stated; with leads it is one of two wires."""
    if not (form.accuracy.strip() or form.resolution.strip()):
        return
    yield "[meter]"
    yield from _said((("accuracy", form.accuracy), ("resolution", form.resolution)))
    if form.leads.strip() or form.leads_uncertainty.strip():
        yield f"wires = {_text('two-wire')}"
        yield from _said((("leads", form.leads), ("leads_uncertainty", form.leads_uncertainty)))


def _said(keys: Sequence[tuple[str, str]]) -> Iterator[str]:
    """What is said of these keys; a key that nothing is said of is left out."""
    for key, text in keys:
        if text.strip():
            yield f"{key} = {_text(tidy(text))}"


def _text(text: str) -> str:
    import tomlkit

    return tomlkit.item(text).as_string()
