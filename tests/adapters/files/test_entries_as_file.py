"""Entries of the bench and the same rows in readings.csv are one table."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ohmsworth.adapters.files.readings_csv import read_readings
from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entries import table_of_entries
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.table import Labels, ReadingTable

START = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
COLUMNS = ("specimen", "condition", "contact", "mating", "plug", "socket", "operator")
NUMBERS = ("polarity", "voltage", "current", "resistance", "time", "temperature", "line")


def typed(number: float, unit: str, dimension: str, decimals: int = 4) -> Typed:
    return Typed(f"{number:.{decimals}f}", unit, dimension)


def csv_of(entries: list[Entry], direct: bool) -> str:
    """The rows as somebody would write them, every column that holds something."""
    figures = ["resistance [mΩ]"] if direct else ["voltage [mV]", "current [mA]"]
    heads = ["specimen", "condition", "mating", "plug", "polarity", "time", "temperature [°C]", "operator"]
    lines = [",".join([*heads, *figures])]
    for e in entries:
        numbers = [e.resistance] if direct else [e.voltage, e.current]
        cells = [e.specimen, e.condition, e.mating, e.others.get("plug", ""), e.polarity, str(e.time)]
        cells += [e.temperature.text if e.temperature else "", e.operator]
        lines.append(",".join([*cells, *(one.text if one else "" for one in numbers)]))
    return "\n".join([*lines, ""])


def texts(labels: Labels | None) -> list[str] | None:
    return None if labels is None else [labels.names[c] for c in labels.codes.tolist()]


def assert_same(mine: ReadingTable, file: ReadingTable) -> None:
    for name in COLUMNS:
        assert texts(getattr(mine, name)) == texts(getattr(file, name)), name
    for name in NUMBERS:
        left, right = getattr(mine, name), getattr(file, name)
        assert (left is None) == (right is None), name
        if left is not None:
            np.testing.assert_array_equal(left, right, err_msg=name)


@st.composite
def some_entries(draw: st.DrawFn, direct: bool) -> list[Entry]:
    found = []
    signed = draw(st.booleans())
    for i in range(draw(st.integers(1, 6))):
        sign = draw(st.sampled_from(["+", "-"]))
        turn = -1 if signed and sign == "-" else 1
        ohm = draw(st.floats(0.5, 20))
        found.append(
            Entry(
                draw(st.sampled_from(["A 1", "A  2", "B"])),
                draw(st.sampled_from(["new", "dark"])),
                mating=draw(st.sampled_from(["1", "2"])),
                polarity=sign,  # type: ignore[arg-type]
                voltage=None if direct else typed(turn * ohm / 10, "mV", "voltage"),
                current=None if direct else typed(turn * 100, "mA", "current", 2),
                resistance=typed(ohm, "mΩ", "resistance") if direct else None,
                temperature=typed(21.5, "°C", "temperature", 1) if draw(st.booleans()) else None,
                time=START + timedelta(seconds=20 * i),
                operator="Ada",
                others={"plug": draw(st.sampled_from(["p1", "p2"]))},
            )
        )
    return found


@pytest.mark.parametrize("direct", [False, True])
@given(data=st.data())
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_both_ways_give_one_table(tmp_path: Path, direct: bool, data: st.DataObject) -> None:
    entries = data.draw(some_entries(direct))
    path = tmp_path / "readings.csv"
    path.write_text(csv_of(entries, direct), encoding="utf-8")
    found, faults = read_readings(path)
    assert faults == []
    assert found.table is not None
    mine = table_of_entries(entries)
    if mine.temperature is None:  # a column of empty cells is a column
        assert found.table.temperature is not None
        assert np.isnan(found.table.temperature).all()
        mine = replace(mine, temperature=found.table.temperature)
    assert_same(mine, found.table)


def test_a_reading_with_the_current_off_needs_no_current() -> None:
    table = table_of_entries([Entry("A", "new", polarity="0", voltage=Typed("2.1", "µV", "voltage"))])
    assert table.current is not None
    assert table.current.tolist() == [0.0]


def test_volts_beside_ohms_are_refused() -> None:
    ohm = Entry("A", "new", polarity="+", resistance=Typed("2.5", "mΩ", "resistance"))
    volt = Entry(
        "A", "new", polarity="+", voltage=Typed("1", "mV", "voltage"), current=Typed("1", "A", "current")
    )
    for entries in ([ohm, volt], [], [Entry("A", "new", polarity="+", voltage=volt.voltage)]):
        with pytest.raises(ArgumentFault):
            table_of_entries(entries)


def test_without_any_polarity_the_current_tells_it() -> None:
    volt, ampere = Typed("-1", "mV", "voltage"), Typed("-1", "A", "current")
    assert table_of_entries([Entry("A", "new", voltage=volt, current=ampere)]).polarity.tolist() == [-1]
