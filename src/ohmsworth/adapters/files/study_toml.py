"""study.toml to a :class:`Study`, or everything that is wrong with it."""

from __future__ import annotations

from pathlib import Path
from typing import cast

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.check_toml import check_apart, read_check_standard
from ohmsworth.adapters.files.factors_toml import read_factors, read_reference, read_scatter_by
from ohmsworth.adapters.files.frequencies_toml import read_frequencies
from ohmsworth.adapters.files.lot_toml import read_lot
from ohmsworth.adapters.files.paper_toml import read_paper
from ohmsworth.adapters.files.plan_toml import read_plan
from ohmsworth.adapters.files.sheet_toml import read_sheet, sheet_apart
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.adapters.files.uses import own_cables, read_use
from ohmsworth.errors import Fault, QuantityFault, UnknownName, shorten
from ohmsworth.materials import PLATINGS, Construction, conductor_from_text
from ohmsworth.readings.meters import Accuracy, NamedMeter, accuracy_from_text
from ohmsworth.readings.study import DEFAULT_EMF, Bench, Compare, Limit, Scale, Scatter, Study
from ohmsworth.units import tidy

FILE = "study.toml"
#: A limit or a margin outside of this (ohm) is a slip of the unit.
BELIEVED = (1e-9, 1e9)
MOST_ROWS = 1_000_000_000
NO_QUESTION = "What is the resistance of these contacts?"


def read_study(path: Path) -> tuple[Study | None, list[Fault]]:
    """Read the file: the study (without what is at fault; None when nothing can be read) and all faults."""
    table, faults = read_toml(path)
    if table is None:
        return None, faults
    cables, of_cables = own_cables(path.parent)
    return _study(Asked(table, FILE, faults), path.parent, cables), faults + of_cables


def _study(asked: Asked, folder: Path, cables: tuple[Construction, ...] | None) -> Study:
    keep = read_keep(asked)
    factors = read_factors(asked)
    study = Study(
        question=asked.text("question") or NO_QUESTION,
        reference=read_reference(asked, factors),
        scale=cast(Scale, asked.choice("scale", ("log", "linear"), "log")),
        scatter=cast(Scatter, asked.choice("scatter", ("auto", "equal", "by condition"), "auto")),
        coverage=asked.number("coverage", 0.6, 0.9999, 0.95, "Write 0.95 for 95 %."),
        margin=asked.quantity("margin", "resistance", *BELIEVED),
        limit=read_limit(asked),
        bench=read_bench(asked),
        uses=tuple(use for table in asked.several("use") if (use := read_use(table, folder, cables))),
        wires=_wires(asked),
        plating=_plating(asked),
        ambient=_ambient(asked),
        keep=keep,
        set_aside=_set_aside(asked, keep),
        plan=read_plan(asked),
        lot=read_lot(asked),
        factors=factors,
        scatter_by=read_scatter_by(asked, factors),
        compare=cast(Compare, asked.choice("compare", ("reference", "all pairs"), "reference")),
        check=read_check_standard(asked, BELIEVED),
        history=_history(asked),
        sheet=read_sheet(asked),
        frequencies=read_frequencies(asked),
        paper=read_paper(asked.inside("certificate")),
    )
    check_apart(asked, study)
    sheet_apart(asked, study.sheet, study.reference, bool(factors))
    asked.done()
    return study


def _history(asked: Asked) -> tuple[str, ...]:
    names = [tidy(name) for name in asked.items("history", str, "folders of past studies")]
    if not all(names):
        mend = 'Write it from this study\'s folder, such as history = ["../last year"].'
        asked.fault("history", "a folder without a name", "folders of past studies", mend)
    return tuple(name for name in names if name)


def read_limit(asked: Asked) -> Limit | None:
    """Read the table ``[limit]`` of `asked`; None without one, or where it is at fault."""
    table = asked.inside("limit")
    if table is None:
        return None
    resistance = table.quantity("resistance", "resistance", *BELIEVED)
    source = table.text("source")
    if "resistance" not in table.table:
        table.fault("resistance", "no such key", 'the limit, such as resistance = "3 mΩ"', "Add it.")
    table.done()
    return Limit(resistance, source or "not stated") if resistance else None


def read_bench(asked: Asked) -> Bench:
    """Read the table ``[bench]`` of `asked`; faults are noted there."""
    table = asked.inside("bench")
    if table is None:
        return Bench()
    named: list[NamedMeter] = []
    bench = Bench(
        voltmeter=_meter(table, "voltmeter", "voltage", named),
        ammeter=_meter(table, "ammeter", "current", named),
        ohmmeter=_meter(table, "ohmmeter", "resistance", named),
        open_circuit_voltage=table.quantity("open_circuit_voltage", "voltage"),
        emf_allowance=table.quantity("emf_allowance", "voltage") or DEFAULT_EMF,
        named=tuple(named),
    )
    table.done()
    return bench


def _meter(bench: Asked, role: str, dimension: str, named: list[NamedMeter]) -> Accuracy | None:
    """The accuracy of a meter; which one it is goes into `named` where it is stated."""
    table = bench.inside(role)
    if table is None:
        return None
    meter = named_meter(table, role)
    if meter != NamedMeter(role):
        named.append(meter)
    return read_meter(table, dimension)


def named_meter(table: Asked, role: str) -> NamedMeter:
    """Which meter `table` says that it is."""
    name, serial, calibrated = table.text("name"), table.text("serial"), table.day("calibrated")
    return NamedMeter(role, name or "", serial or "", calibrated)


def read_meter(table: Asked, dimension: str) -> Accuracy | None:
    """What `table`, in which nothing else is left to read, says of a meter's accuracy; None where it is at fault."""
    before = len(table.faults)
    gain = table.number("percent_of_reading", 0, 100, 0, "Write 0.5 for 0.5 % of reading.") / 100
    counts = table.number("counts", 0, 1e6, 0)
    resolution = table.quantity("resolution", dimension)
    standard = table.quantity("standard_uncertainty", dimension)
    text = table.text("accuracy")
    table.text("note")
    if text is not None:
        gain, counts = accuracy_text(table, text)
    table.done()
    if len(table.faults) == before:
        _complete(table, bool(gain or standard or resolution), counts, resolution)
    return Accuracy(gain, counts, resolution or 0.0, standard) if len(table.faults) == before else None


def _complete(table: Asked, stated: bool, counts: float, resolution: float | None) -> None:
    """Note what a meter's accuracy lacks."""
    if counts and resolution is None:
        mend = 'Add resolution, such as "1 µV".'
        table.fault("counts", "counts without 'resolution'", "the size of one count", mend)
    elif not stated:
        expected = "percent_of_reading, counts and resolution, or standard_uncertainty"
        mend = "Copy them from the meter's specification."
        table.fault("percent_of_reading", "nothing stated", expected, mend)


def accuracy_text(table: Asked, text: str) -> tuple[float, float]:
    """Read ``0.5 % + 3 counts``, or note what is wrong with it."""
    try:
        return accuracy_from_text(text)
    except QuantityFault as error:
        mend = "Write it so, or use percent_of_reading and counts."
        table.fault("accuracy", error.found, error.expected, mend)
        return 0.0, 0.0


def _wires(asked: Asked) -> tuple[str, ...]:
    wires = asked.items("wires", str, 'conductors such as "24 AWG" or "0.22 mm²"')
    for wire in wires:
        try:
            conductor_from_text(wire)
        except QuantityFault as error:
            asked.fault("wires", error.found, error.expected, error.mend)
        except UnknownName:
            expected = 'a conductor such as "24 AWG" or "0.22 mm²"'
            asked.fault("wires", shorten(wire), expected, "Write a gauge or a cross-section.")
    return tuple(wires) or Study("").wires


def _plating(asked: Asked) -> str | None:
    plating = asked.text("plating")
    if plating is not None and plating not in PLATINGS:
        error = UnknownName("plating", plating, tuple(PLATINGS))
        hint = f"Did you mean '{error.nearest}'?" if error.nearest else "Leave it out if unknown."
        asked.fault("plating", shorten(plating), "one of " + ", ".join(PLATINGS), hint)
        return None
    return plating


def _ambient(asked: Asked) -> float | None:
    value = asked.quantity("temperature", "temperature", positive=False)
    if value is not None and not 233.15 <= value <= 358.15:
        asked.fault(
            "temperature",
            f"{value - 273.15:.0f} °C",
            "the air temperature at the bench, −40 to 85 °C",
            "Check value and unit.",
        )
        return None
    return value


def read_keep(asked: Asked) -> frozenset[int]:
    """Read the key ``keep`` of `asked`: lines of readings.csv that their owner keeps in spite of a warning."""
    rows = asked.items("keep", int, "line numbers of readings.csv")
    believed = [row for row in rows if 0 < row <= MOST_ROWS]
    if len(believed) < len(rows):
        asked.fault("keep", "a number that is no line", "line numbers of readings.csv", "Check the list.")
    return frozenset(believed)


def _set_aside(asked: Asked, keep: frozenset[int]) -> dict[int, str]:
    rows: dict[int, str] = {}
    for table in asked.several("set_aside"):
        row, reason = table.whole("row", 2, MOST_ROWS), table.text("reason")
        for key, example in (("row", "row = 14"), ("reason", 'reason = "probe slipped"')):
            if key not in table.table:
                table.fault(key, "no such key", example, "State both the row and the reason.")
        if row is not None and row in rows:
            table.fault("row", f"row {row} a second time", "each row once", "Remove one of the two.")
        if row is not None and row in keep:
            mend = "Remove it from one of the two."
            table.fault(
                "row", f"row {row}, which 'keep' keeps", "a row in 'keep' or set aside, not both", mend
            )
        if row is not None:
            rows[row] = reason or ""
        table.done()
    return rows
