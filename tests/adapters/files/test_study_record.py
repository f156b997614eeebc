"""A study of the records as a folder: what stands on which line, in which unit, and that it is answered the same."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.adapters.files.logs import NINE, QUESTION_TEXT, Log, small_study, typed, volts

from ohmsworth import wiring
from ohmsworth.adapters.files.entries import read_entries
from ohmsworth.adapters.files.record_units import column_unit, in_unit
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.units import UNITS
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.study_lines import line_of
from ohmsworth.work.study_log import FILE, KEPT, PUT_BACK, SET_ASIDE, WITHDRAWN
from ohmsworth.work.taken_reading import CORRECTED


def rows(files: dict[str, bytes]) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(files["readings.csv"].decode("utf-8-sig"))))


def test_one_line_a_reading_and_only_columns_that_hold_something() -> None:
    files = wiring.folder_of(small_study().state)
    assert sorted(files) == ["readings.csv", "study.toml"]
    assert files["study.toml"].decode() == QUESTION_TEXT
    table = rows(files)
    assert list(table[0]) == [
        "reading", "specimen", "condition", "mating", "polarity", "time", "operator", "voltage [mV]", "current [mA]",
    ]  # fmt: skip
    assert table[0]["voltage [mV]"] == "0.2530"
    assert table[0]["time"] == "2026-11-27 09:01:00+00:00"


def test_withdrawn_readings_leave_no_line_and_marks_follow() -> None:
    log = small_study()
    log.add(WITHDRAWN, about=2, reason="wrong contact")
    log.add(SET_ASIDE, about=4, reason="probe slipped")
    log.add(KEPT, about=5, reason="looked again")
    log.add(SET_ASIDE, about=6, reason="x")
    log.add(PUT_BACK, about=6, reason="was right")
    lines = line_of(log.state)
    assert 2 not in lines
    assert (lines[3], lines[4], lines[5]) == (2, 3, 4)
    files = wiring.folder_of(log.state)
    study = wiring.read_folder(files).study
    assert dict(study.set_aside) == {3: "probe slipped"}
    assert study.keep == {4}
    text = files["study.toml"].decode()
    assert text.startswith("# our own remark\n")
    assert "# asked by the hall" in text


def test_marks_that_agree_leave_the_text_as_it_is() -> None:
    log = Log()
    toml = 'keep=[ 3 ] # why not\nset_aside = [{row=2,reason="slip"}]\n' + QUESTION_TEXT
    log.ask(toml)
    for i in range(3):
        log.take(volts(f"n{i}", "new", f"0.25{i} mV"))
    log.add(SET_ASIDE, about=2, reason="slip")
    log.add(KEPT, about=3)
    assert wiring.folder_of(log.state)["study.toml"].decode() == toml
    log.add(PUT_BACK, about=2, reason="no slip")
    changed = wiring.folder_of(log.state)["study.toml"].decode()
    assert "set_aside" not in changed
    assert "keep=[ 3 ] # why not" in changed


def test_no_reason_is_said_in_words() -> None:
    log = small_study()
    log.add(SET_ASIDE, about=2)
    assert dict(wiring.read_folder(wiring.folder_of(log.state)).study.set_aside) == {2: "no reason given"}


def test_the_unit_is_the_one_most_were_typed_in() -> None:
    log = Log()
    log.ask()
    for text in ("0.2510 mV", "251.3 µV", "0.2600 mV", "-0.00026 V"):
        log.take(volts(f"n {text}", "new", text, polarity="+"))
    assert [row["voltage [mV]"] for row in rows(wiring.folder_of(log.state))] == [
        "0.2510",
        "0.2513",
        "0.2600",
        "-0.26",
    ]


@given(
    st.decimals(-(10**6), 10**6, allow_nan=False, places=5),
    st.sampled_from(["resistance", "voltage", "current"]),
    st.data(),
)
def test_a_change_of_unit_is_exact(number: Decimal, dimension: str, data: st.DataObject) -> None:
    units = [name for name, unit in UNITS.items() if unit.dimension == dimension]
    old, new = data.draw(st.sampled_from(units)), data.draw(st.sampled_from(units))
    text = format(number, "f")
    told = in_unit(Typed(text, old, dimension), new)
    factor = {name: Decimal(repr(UNITS[name].factor)) for name in (old, new)}
    assert Decimal(told) * factor[new] == number * factor[old]
    if UNITS[old].factor <= UNITS[new].factor:  # the digits stand as they were typed
        assert told.replace(".", "").lstrip("-0") == text.replace(".", "").lstrip("-0")
    assert "E" not in told.upper()


@pytest.mark.parametrize(
    ("text", "unit", "told"),
    [("73.4", "°F", "23"), ("73.45", "°F", "23.027778"), ("296.15", "K", "23.00"), ("23.0", "°C", "23.0")],
)
def test_temperatures(text: str, unit: str, told: str) -> None:
    figure = Typed(text, unit, "temperature")
    assert Decimal(in_unit(figure, "°C")) == Decimal(told)


def test_two_spellings_are_one_unit() -> None:
    figures = [typed(t, "resistance") for t in ("1 Ω", "2 mohm", "3 mΩ", "4 Ω", "5 mΩ")]
    assert column_unit(figures) == "mohm"


def test_two_kinds_are_refused_by_the_number_of_the_reading() -> None:
    log = small_study()
    log.take(Entry("n", "new", resistance=typed("2.5 mΩ", "resistance")))
    with pytest.raises(InputRefused, match=r"^reading 13: found a resistance"):
        wiring.folder_of(log.state)


def test_one_reading_that_is_a_voltage_is_refused_among_resistances() -> None:
    log = Log()
    log.ask()
    for i in range(3):
        log.take(Entry(f"n{i}", "new", resistance=typed("2.5 mΩ", "resistance")))
    log.take(volts("n4", "new", "0.25 mV"))
    with pytest.raises(InputRefused, match=r"^reading 4: found voltage and current"):
        wiring.folder_of(log.state)


def test_before_there_are_readings_it_is_a_question() -> None:
    log = Log()
    log.ask()
    assert list(wiring.folder_of(log.state)) == ["study.toml"]


def test_files_beside_come_along_and_the_last_of_a_name_counts() -> None:
    log = small_study()
    first = log.add(FILE, fields={"name": "cables.toml", "media_type": "text/plain", "beside": True})
    last = log.add(FILE, fields={"name": "cables.toml", "media_type": "text/plain", "beside": True})
    log.add(FILE, fields={"name": "photo.jpg", "media_type": "image/jpeg"}, about=3)
    bytes_of = {first: b"old", last: b"# none yet\n"}
    assert wiring.folder_of(log.state, bytes_of.__getitem__)["cables.toml"] == b"# none yet\n"


@pytest.mark.parametrize(
    "name", ["../x.s2p", "a/b.s2p", "study.toml", "CON.s2p", "x\0", "", ".", "Readings.csv"]
)
def test_a_name_that_is_no_file_is_refused(name: str) -> None:
    log = small_study()
    log.add(FILE, fields={"name": name, "media_type": "", "beside": True})
    with pytest.raises(InputRefused, match="the name of one file"):
        wiring.folder_of(log.state, lambda _: b"")


def test_what_would_break_a_line_does_not() -> None:
    log = Log()
    log.ask()
    for i in range(3):
        note = 'first\nsecond, "third";\t\r\n\0'
        log.take(volts(f"n{i}", "new", f"0.25{i} mV", note=note, others={"plug;x": "a\nb", "voltage": "?"}))
    files = wiring.folder_of(log.state)
    table = rows(files)
    assert len(files["readings.csv"].splitlines()) == 4
    assert table[0]["note voltage"] == "?"
    assert wiring.read_folder(files).table.line.tolist() == [2, 3, 4]


def test_a_heading_that_is_nearly_a_known_one_becomes_a_remark() -> None:
    log = Log()
    log.ask()
    for i in range(3):
        log.take(volts(f"n{i}", "new", f"0.25{i} mV", others={"specimens": "3", "humidity": "40"}))
    files = wiring.folder_of(log.state)
    assert {"note specimens", "humidity"} <= set(rows(files)[0])
    assert wiring.read_folder(files).unused == ("humidity",)


def test_columns_that_the_question_names_keep_their_names() -> None:
    log = Log()
    log.ask('factors = ["condition", "specimen side"]\nreference = ["new", "left"]\n')
    for i in range(8):
        condition, side = ("new", "old")[i % 2], ("left", "right")[i // 2 % 2]
        log.take(volts(f"n{i}", condition, f"0.25{i} mV", others={"specimen side": side}))
    table = wiring.read_folder(wiring.folder_of(log.state)).table
    assert list(table.factors) == ["condition", "specimen side"]


def test_times_of_a_file_and_of_the_records_stand_in_one_way() -> None:
    log = Log()
    log.ask()
    log.take(volts("a", "new", "0.25 mV", others={"time": "2026-11-27 09:00"}))
    log.take(volts("b", "new", "0.26 mV", time=NINE.astimezone(timezone(timedelta(hours=1)))))
    log.take(volts("c", "new", "0.27 mV"))
    table = wiring.read_folder(wiring.folder_of(log.state)).table
    assert table.time is not None
    assert table.time.tolist()[:2] == [0.0, 3600.0]  # the wall clock of the bench


def test_times_join_a_column_whatever_its_heading_looks_like() -> None:
    log = Log()
    log.ask()
    log.take(volts("a", "new", "0.25 mV", others={"Time": "2026-11-27 09:00"}))
    log.take(volts("b", "new", "0.26 mV", time=NINE.astimezone(timezone(timedelta(hours=1)))))
    table = wiring.read_folder(wiring.folder_of(log.state)).table
    assert table.time is not None
    assert table.time.tolist() == [0.0, 3600.0]


def test_a_clock_time_says_nothing_about_another_day() -> None:
    log = Log()
    log.ask()
    log.take(volts("a", "new", "0.25 mV", others={"time": "10:15"}))
    log.take(volts("b", "new", "0.26 mV", time=NINE))
    table = rows(wiring.folder_of(log.state))
    assert [row["time"] for row in table] == ["10:15", ""]
    assert table[1]["note time"] == "2026-11-27 09:00:00+00:00"


@given(
    st.lists(
        st.tuples(st.text(max_size=30), st.text(max_size=30), st.text(max_size=12)), min_size=1, max_size=8
    )
)
def test_any_text_leaves_one_line_a_reading(texts: list[tuple[str, str, str]]) -> None:
    log = Log()
    log.ask()
    for i, (specimen, note, heading) in enumerate(texts):
        log.take(volts(specimen, "new", f"0.25{i} mV", note=note, others={heading: "1"}))
    data = wiring.folder_of(log.state)["readings.csv"]
    assert [row.line for row in read_entries(data, True)] == list(range(2, len(texts) + 2))
    assert [row.reading for row in read_entries(data, True)] == list(range(2, len(texts) + 2))


def test_the_answer_is_that_of_the_folder_on_disk(tmp_path: Path) -> None:
    """The demonstration's readings, taken into a log as they stand, and read as the folder of that log."""
    wiring.write_demo_study(tmp_path / "study")
    on_disk = answer_study(wiring.load_study(tmp_path / "study"))
    log = Log()
    log.ask((tmp_path / "study/study.toml").read_text("utf-8"))
    for row in read_entries((tmp_path / "study/readings.csv").read_bytes()):
        log.take(row.entry)
    number = log.add(FILE, fields={"name": "check.csv", "media_type": "text/csv", "beside": True})
    check = (tmp_path / "study/check.csv").read_bytes()
    from_log = answer_study(wiring.read_folder(wiring.folder_of(log.state, {number: check}.__getitem__)))
    assert from_log == on_disk


def test_a_correction_counts() -> None:
    log = small_study()
    old = log.state.counted[0].entry
    log.add(CORRECTED, about=2, entry=replace(old, voltage=typed("0.2999 mV", "voltage")), reason="misread")
    assert rows(wiring.folder_of(log.state))[0]["voltage [mV]"] == "0.2999"
    assert isinstance(log.state.counted[0].at, datetime)
