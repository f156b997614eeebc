"""study.toml to a :class:`Study`, or everything that is wrong with it."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import cast

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.consequence import USE_KINDS, make_use, settings_of
from ohmsworth.errors import Fault, OhmsworthError, QuantityFault, UnknownName, shorten
from ohmsworth.materials import PLATINGS, conductor_from_text
from ohmsworth.readings.meters import Accuracy
from ohmsworth.readings.study import DEFAULT_EMF, Bench, Limit, Scale, Scatter, Study, UseRequest
from ohmsworth.units import parse_quantity

FILE = "study.toml"
NO_QUESTION = "What is the resistance of these contacts?"


def read_study(path: Path) -> tuple[Study | None, list[Fault]]:
    """Read the file; None and the faults when it cannot be used."""
    text, faults = read_text(path)
    if text is None:
        return None, faults
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return None, [_syntax_fault(str(error))]
    except RecursionError:
        return None, [
            Fault(
                FILE,
                "brackets inside brackets without end",
                "a short file of keys",
                "Start from 'ohmsworth new'.",
            )
        ]
    faults = []
    study = _study(Asked(table, FILE, faults))
    return (None if faults else study), faults


def _syntax_fault(message: str) -> Fault:
    place = re.search(r"\(at line (\d+), column (\d+)\)", message)
    where = f"{FILE}, line {place[1]}, column {place[2]}" if place else FILE
    return Fault(
        where,
        f"text that is not TOML ({message.split(' (at', maxsplit=1)[0]})",
        'lines such as limit = "3 mΩ"',
        "Put texts and quantities in quotation marks, one key a line.",
    )


def _study(asked: Asked) -> Study:
    study = Study(
        question=asked.text("question") or NO_QUESTION,
        reference=asked.text("reference"),
        scale=cast(Scale, asked.choice("scale", ("log", "linear"), "log")),
        scatter=cast(Scatter, asked.choice("scatter", ("auto", "equal", "by condition"), "auto")),
        coverage=asked.number("coverage", 0.6, 0.9999, 0.95, "Write 0.95 for 95 %."),
        margin=asked.quantity("margin", "resistance"),
        limit=_limit(asked),
        bench=_bench(asked),
        uses=tuple(use for table in asked.several("use") if (use := _use(table))),
        wires=_wires(asked),
        plating=_plating(asked),
        ambient=_ambient(asked),
        keep=frozenset(asked.items("keep", int, "line numbers of readings.csv")),
        set_aside=_set_aside(asked),
    )
    asked.done()
    return study


def _limit(asked: Asked) -> Limit | None:
    table = asked.inside("limit")
    if table is None:
        return None
    resistance = table.quantity("resistance", "resistance")
    source = table.text("source")
    if "resistance" not in table.table:
        table.fault("resistance", "no such key", 'the limit, such as resistance = "3 mΩ"', "Add it.")
    table.done()
    return Limit(resistance, source or "not stated") if resistance else None


def _bench(asked: Asked) -> Bench:
    table = asked.inside("bench")
    if table is None:
        return Bench()
    bench = Bench(
        voltmeter=_meter(table, "voltmeter", "voltage"),
        ammeter=_meter(table, "ammeter", "current"),
        ohmmeter=_meter(table, "ohmmeter", "resistance"),
        open_circuit_voltage=table.quantity("open_circuit_voltage", "voltage"),
        emf_allowance=table.quantity("emf_allowance", "voltage") or DEFAULT_EMF,
    )
    table.done()
    return bench


def _meter(bench: Asked, name: str, dimension: str) -> Accuracy | None:
    table = bench.inside(name)
    if table is None:
        return None
    gain = table.number("percent_of_reading", 0, 100, 0, "Write 0.5 for 0.5 % of reading.") / 100
    counts = table.number("counts", 0, 1e6, 0)
    resolution = table.quantity("resolution", dimension)
    standard = table.quantity("standard_uncertainty", dimension)
    text = table.text("accuracy")
    table.text("note")
    if text is not None:
        gain, counts = _accuracy_text(table, text)
    table.done()
    if counts and resolution is None:
        table.fault(
            "counts",
            "counts without 'resolution'",
            "the size of one count",
            'Add resolution, such as "1 µV".',
        )
        return None
    if not gain and not counts and standard is None and resolution is None:
        table.fault(
            "percent_of_reading",
            "nothing stated",
            "percent_of_reading, counts and resolution, or standard_uncertainty",
            "Copy them from the meter's specification.",
        )
        return None
    return Accuracy(gain, counts, resolution or 0.0, standard)


_ACCURACY = re.compile(
    r"(?:±\s*)?\(?\s*([0-9.,]+)\s*%[^+]*(?:\+\s*([0-9]+)\s*(?:counts?|digits?|dgt|d|cts?)?\s*)?\)?"
)


def _accuracy_text(table: Asked, text: str) -> tuple[float, float]:
    """Read ``0.5 % + 3 counts``."""
    match = _ACCURACY.fullmatch(text)
    try:
        if match:
            return parse_quantity(f"{match[1]} %", "ratio"), float(match[2] or 0)
    except QuantityFault:
        pass
    table.fault("accuracy", shorten(text), '"0.5 % + 3 counts"', "Or use percent_of_reading and counts.")
    return 0.0, 0.0


def _use(table: Asked) -> UseRequest | None:
    kind = table.text("kind")
    if kind is None:
        if "kind" not in table.table:
            table.fault("kind", "no such key", "one of " + ", ".join(USE_KINDS), 'Add kind = "..."')
        return None
    if kind not in USE_KINDS:
        table.choice("kind", USE_KINDS, USE_KINDS[0])
        return None
    values: dict[str, float | str] = {}
    name = table.text("name") or ""
    for setting in settings_of(kind):
        value = _setting(table, setting.key, setting.dimension)
        if value is not None:
            values[setting.key] = value
    table.done()
    try:
        make_use(kind, name, values)
    except OhmsworthError as error:
        table.faults.append(Fault(table.where, str(error), f"values that fit a {kind}", "Correct the value."))
        return None
    return UseRequest(kind, name, values)


def _setting(table: Asked, key: str, dimension: str) -> float | str | None:
    if dimension == "text":
        return table.text(key)
    if dimension == "number":
        given = table.table.get(key)
        value = table.number(key, -1e12, 1e12, 0.0)
        return None if given is None else value
    return table.quantity(key, dimension, positive=False)


def _wires(asked: Asked) -> tuple[str, ...]:
    wires = asked.items("wires", str, 'conductors such as "24 AWG" or "0.22 mm²"')
    for wire in wires:
        try:
            conductor_from_text(wire)
        except OhmsworthError as error:
            asked.fault("wires", shorten(wire), 'a conductor such as "24 AWG" or "0.22 mm²"', str(error))
    return tuple(wires) or Study("").wires


def _plating(asked: Asked) -> str | None:
    plating = asked.text("plating")
    if plating is not None and plating not in PLATINGS:
        error = UnknownName("plating", plating, tuple(PLATINGS))
        hint = f"Did you mean '{error.nearest}'?" if error.nearest else "Leave it out if unknown."
        asked.fault("plating", shorten(plating), "one of " + ", ".join(PLATINGS), hint)
        return None
    return plating


def _ambient(asked: Asked) -> float:
    value = asked.quantity("temperature", "temperature")
    if value is not None and not 233.15 <= value <= 358.15:
        asked.fault(
            "temperature",
            f"{value - 273.15:.0f} °C",
            "the air temperature at the bench, −40 to 85 °C",
            "Check value and unit.",
        )
        return 293.15
    return value or 293.15


def _set_aside(asked: Asked) -> dict[int, str]:
    rows: dict[int, str] = {}
    for table in asked.several("set_aside"):
        row = table.number("row", 2, 1e9, 0)
        reason = table.text("reason")
        if not row or not reason:
            table.fault("row", "no row or no reason", 'row = 14 and reason = "..."', "State both.")
        rows[int(row)] = reason or ""
        table.done()
    return rows
