"""What a report says of how its readings came about."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests.unit.work.bench_shop import FORM, BenchShop
from tests.unit.work.cards.shops import METER, STANDARD, START

from ohmsworth import wiring
from ohmsworth.report.document import Block, Document, Paragraph, Section, Table
from ohmsworth.report.particulars import MOST_READINGS, Particulars, dated, readings_blocks, with_particulars
from ohmsworth.work.answer_record import answer_record
from ohmsworth.work.cards.kinds import CALIBRATED
from ohmsworth.work.cards.naming import name_specimen
from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.faces import face_of
from ohmsworth.work.particulars import folder_particulars, record_particulars
from ohmsworth.work.reading_changes import change_reading
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_cards import name_job, write_note
from ohmsworth.work.study_form import MeterForm

#: On this machine's clock, as the pages show it.
DAY = f"{START.astimezone():%Y-%m-%d}"


def tables(blocks: tuple[Block, ...]) -> dict[str, Table]:
    return {block.caption: block for block in blocks if isinstance(block, Table)}


def section(document: Document, title: str) -> Section:
    return next(one for one in document.sections if one.title == title)


@pytest.fixture
def bench() -> BenchShop:
    """A study half read, for a job of a customer, with a slip that is kept and a reading that is left out."""
    form = replace(
        FORM,
        voltmeter=MeterForm("0.5 % + 3 counts", "0.1 mV", "bench voltmeter, up to 200 mV"),
        check_name="shunt A",
    )
    found = BenchShop(form=form)
    shop = found.shop
    meter = open_card(shop, "meter", METER | {"serial": "77"}, "Ada", "m")
    shop.records.add(
        meter,
        "Ada",
        [NewLine("c", CALIBRATED, {"on": "2025-11-03", "certificate": "C 12"})],
        face_of("meter"),
    )
    open_card(shop, "check standard", STANDARD, "Ada", "s")
    hall = open_card(shop, "customer", {"name": "Stage Hall"}, "Ada", "h")
    job = open_card(
        shop, "job", {"number": "26-014", "title": "stage box", "customer": str(hall)}, "Ada", "j"
    )
    name_job(shop, found.study, job, "Ada", "for")
    for step in range(1, 13):
        found.take(step)
    found.take(13, 10.0, anyway="looked twice; it is so")
    thing = open_card(shop, "specimen", {"serial": "SN 9", "what": "cable, 3 m"}, "Ada", "t")
    name_specimen(shop, found.study, found.state.counted[0].entry.specimen, thing, "Ada", "n")
    taken = found.state.counted
    change_reading(
        shop, found.study, found.state, taken[1].number, "set aside", "plug fell out", "Ben", "aside"
    )
    write_note(shop, found.study, "The rack was warm.", taken[0].number, "Ben", "note")
    return found


def test_the_records_say_who_when_for_whom_and_with_what(bench: BenchShop) -> None:
    found = record_particulars(bench.shop, bench.state)
    assert (found.job, found.customer) == ("26-014 – stage box", "Stage Hall")
    assert found.people == ("Ada",)
    assert found.days == (DAY,)
    (voltmeter, ammeter, standard) = found.meters
    assert voltmeter.name == "bench voltmeter, up to 200 mV"
    assert voltmeter.stated == "± (0.5 % + 3 counts), one count 0.1 mV"
    assert voltmeter.calibrated == "2025-11-03, certificate C 12, serial 77"
    assert (ammeter.does, ammeter.stated, ammeter.calibrated) == ("ammeter", "", "")
    assert (standard.does, standard.name, standard.stated) == (
        "check standard",
        "shunt A",
        "10 mΩ by its card",
    )
    assert found.specimens == ((bench.state.counted[0].entry.specimen, "cable, 3 m; serial SN 9"),)
    assert [(r.text, r.who) for r in found.remarks] == [("The rack was warm.", "Ben")]
    assert found.remarks[0].about == f"reading {bench.state.counted[0].nth}"


def test_reasons_of_kept_and_left_out_readings_are_told(bench: BenchShop) -> None:
    kept, aside = bench.state.counted[12], bench.state.counted[1]
    found = record_particulars(bench.shop, bench.state)
    told = {d.reading: (d.what, d.why, d.who) for d in found.decisions}
    assert told[str(kept.nth)] == ("kept in spite of a doubt", "looked twice; it is so", "Ada")
    assert told[str(aside.nth)] == ("left out", "plug fell out", "Ben")
    report = answer_record(bench.desk, bench.study, bench.state).report
    doubts = tables(section(report, "Warnings about the readings").blocks)["Warnings"]
    assert any("Kept by the owner. Reason: looked twice; it is so." in row[2] for row in doubts.rows)


def test_every_reading_stands_in_the_table_at_the_end(bench: BenchShop) -> None:
    report = answer_record(bench.desk, bench.study, bench.state).report
    whole = with_particulars(report, record_particulars(bench.shop, bench.state))
    assert whole.subtitle == f"Read {DAY} by Ada; job 26-014 – stage box, for Stage Hall."
    assert whole.sections[-1].title == "All readings"
    table = tables(whole.sections[-1].blocks)["Readings"]
    assert table.small
    assert len(table.rows) == 13
    first = dict(zip(table.header, table.rows[0], strict=True))
    entry = bench.state.counted[0].entry
    assert entry.voltage is not None
    assert first["reading"] == str(bench.state.counted[0].nth) == "1"
    assert (first["specimen"], first["voltage [mV]"], first["current [mA]"]) == (
        entry.specimen, entry.voltage.text, "100.02",
    )  # fmt: skip
    assert first["resistance"].replace("\u00a0", " ") == "10.01 mΩ"  # 1.001 mV over 100.02 mA
    assert first["when"] == f"{START.astimezone():%H:%M}"
    assert f"All on {DAY}." in table.note
    notes = [row[table.header.index("note")] for row in table.rows]
    assert notes[1] == "left out: plug fell out"
    assert notes[12] == "kept: looked twice; it is so"
    titles = [one.title for one in whole.sections]
    assert titles.index("How it was measured") == titles.index("Method and sources") - 1


def test_a_report_has_its_date() -> None:
    made = dated(Document("Q", "Read by Ada.", "en", "", ()), date(2026, 3, 5))
    assert made.subtitle == "Report of 2026-03-05. Read by Ada."


def test_too_many_readings_are_counted_and_their_place_told() -> None:
    (told,) = readings_blocks(Particulars(number=MOST_READINGS + 1, place="a file"))
    assert told == Paragraph("401 readings: too many to list here. All of them are in a file.")
    assert readings_blocks(Particulars()) == ()


STUDY = 'question = "Good?"\nreference = "new"\nkeep = [3]\n\n[[set_aside]]\nrow = 4\nreason = "it slipped"\n'


def folder(place: Path, rows: int) -> Path:
    place.mkdir()
    (place / "study.toml").write_text(STUDY, "utf-8")
    with (place / "readings.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["specimen", "condition", "resistance [mΩ]", "date", "time", "operator", "note"])
        for i in range(rows):
            condition = ("new", "old")[i % 2]
            day = f"2026-03-0{1 + i % 2}"
            writer.writerow(
                [
                    f"{condition} {i // 4}",
                    condition,
                    f"2.{400 + i}",
                    day,
                    "10:15:42",
                    "Cy",
                    "" if i else "dusty",
                ]
            )
    return place


def test_a_folder_tells_what_its_files_hold(tmp_path: Path) -> None:
    found = folder_particulars(wiring.read_study_folder(folder(tmp_path / "one", 24)), wiring.form_of)
    assert (found.people, found.days, found.number) == (("Cy",), ("2026-03-01", "2026-03-02"), 24)
    assert [(d.reading, d.what, d.why) for d in found.decisions] == [
        ("4", "left out", "it slipped"),
        ("3", "kept in spite of a doubt", ""),
    ]
    table = tables(readings_blocks(found))["Readings"]
    row = dict(zip(table.header, table.rows[0], strict=True))
    assert row["line"] == "2"
    assert row["resistance [mΩ]"] == "2.400"
    assert row["when"] == "2026-03-01\u00a010:15"
    assert (row["by"], row["note"]) == ("Cy", "dusty")
    assert "polarity" not in row  # nothing stands there


def test_a_long_folder_is_not_listed(tmp_path: Path) -> None:
    found = folder_particulars(
        wiring.read_study_folder(folder(tmp_path / "one", MOST_READINGS + 4)), wiring.form_of
    )
    assert found.readings == ()
    (told,) = readings_blocks(found)
    assert isinstance(told, Paragraph)
    assert "readings.csv in the study's folder" in told.text


def test_an_exported_folder_tells_what_its_log_does(tmp_path: Path, bench: BenchShop) -> None:
    from ohmsworth.work.export_study import export_study

    keeping = wiring.keeping(str(tmp_path), str(tmp_path), tmp_path)
    files = export_study(bench.shop.records, bench.study, bench.shop.folder_of, keeping.record_files)
    place = tmp_path / "out"
    place.mkdir()
    for name, content in files.items():
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        (place / name).write_bytes(content)
    found = folder_particulars(wiring.read_study_folder(place), wiring.form_of)
    ours = record_particulars(bench.shop, bench.state)
    assert found.decisions == ours.decisions
    assert found.readings == ours.readings
    assert found.job == ours.job
    assert found.customer == ""  # for whom it was does not travel with a study
