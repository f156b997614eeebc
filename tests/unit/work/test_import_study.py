"""Out of the records and back: nothing lost, nothing twice, and what was edited meanwhile is said."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.adapters.files.logs import NINE, QUESTION_TEXT, small_study, typed, volts
from tests.adapters.records_in_memory import RecordsInMemory

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.cards.log import WRITTEN, fold_card
from ohmsworth.work.cards.said import SpecimenCard
from ohmsworth.work.export_study import export_study
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import Imported, import_study
from ohmsworth.work.records import CardKind, Line, NewLine, NoSuchCard
from ohmsworth.work.study_log import (
    FILE,
    FOR_JOB,
    KEPT,
    NOTE,
    PUT_BACK,
    QUESTION,
    SET_ASIDE,
    SPECIMEN,
    TAKEN,
    WITHDRAWN,
    fold,
)
from ohmsworth.work.taken_reading import CORRECTED

PHOTO = b"\x89PNG\r\n\x1a\n\0"


def bring(records: RecordsInMemory, folder: Path, corrections: str | None = None) -> Imported:
    found = wiring.read_study_folder(folder)
    return import_study(records, found, "Kim", face_of, wiring.with_history, corrections)


def files_of(records: RecordsInMemory, study: int) -> dict[str, bytes]:
    return export_study(records, study, wiring.folder_of, wiring.record_files)


def lay(folder: Path, files: dict[str, bytes]) -> Path:
    wiring.write_tree(folder, sorted(files.items()))
    return folder


def full_records() -> tuple[RecordsInMemory, int]:
    """Records with a study in which everything happened, beside other cards."""
    records = RecordsInMemory()

    def opened(kind: CardKind, key: str, **fields: object) -> int:
        return records.open_card(kind, "Ann", [NewLine(key, WRITTEN, fields)], face_of(kind))

    customer = opened("customer", "cu", name="the hall", address="Spring street 1")
    job = opened("job", "jo", number="J 7", title="stage", customer=customer)
    limit = opened("limit", "li", name="stage plugs", resistance="3 mΩ")
    specimen = opened("specimen", "sp", serial="old 1", what="Ω", limit=limit, job=job, customer=customer)
    photo = [NewLine("sp2", FILE, {"name": "face.png", "media_type": "image/png"}, content=PHOTO)]
    records.add(specimen, "Ann", photo, face_of("specimen"))
    log = small_study()
    new = [
        NewLine(one.key, one.kind, one.fields, one.about, one.reason, one.entry,
                specimen if one.entry and one.entry.specimen == "old 1" else None)
        for one in log.lines
    ]  # fmt: skip
    study = records.open_card("study", "Ann", new, face_of("study"))
    entry = log.lines[2].entry
    assert entry is not None
    records.add(
        study,
        "Lee",
        [
            NewLine("c", CORRECTED, about=3, reason="misread", entry=replace(entry, note="read\nagain")),
            NewLine("w", WITHDRAWN, about=4, reason="wrong contact"),
            NewLine("a", SET_ASIDE, about=5, reason="slip"),
            NewLine("b", SET_ASIDE, about=6, reason="slip"),
            NewLine("pb", PUT_BACK, about=6, reason="no slip"),
            NewLine("k", KEPT, about=7, reason="looked again"),
            NewLine("n", NOTE, {"text": "damp today — 60 %"}),
            NewLine("p", FILE, {"name": "../pin: 1?.png", "media_type": "image/png"}, about=3, content=PHOTO),
            NewLine(
                "ca",
                FILE,
                {"name": "cables.toml", "media_type": "text/plain", "beside": True},
                content=b"#\n",
            ),
            NewLine("s", SPECIMEN, {"name": "old 1", "card": specimen}),
            NewLine("j", FOR_JOB, {"job": job}),
        ],
        face_of("study"),
    )
    return records, study


def test_it_comes_back_line_by_line(tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    assert {"study.toml", "readings.csv", "cables.toml", "record.json"} < set(files)
    assert sorted(name for name in files if "/" in name) == [
        "files/0021 _pin_ 1_.png",
        "files/0022 cables.toml",
        "files/card 03/0002 face.png",
    ]
    other = RecordsInMemory()
    found = bring(other, lay(tmp_path / "a", files))
    assert found == Imported(4, False, 24)
    assert files_of(other, found.study) == files
    back, was = other.lines(found.study), records.lines(study)
    assert [(x.number, x.key, x.by, x.at, x.reason, x.entry) for x in back] == [
        (x.number, x.key, x.by, x.at, x.reason, x.entry) for x in was
    ]
    state = fold(back)
    specimen = fold_card("specimen", other.lines(state.specimens["old 1"])).said
    assert isinstance(specimen, SpecimenCard)
    assert (specimen.serial, specimen.job, specimen.customer) == ("old 1", state.job, None)
    assert specimen.limit is not None
    assert other.card(specimen.limit).face.title == "stage plugs – 3 mΩ"
    assert not any(b"Spring street" in data for data in files.values())
    assert state.job is not None
    assert other.card(state.job).kind == "job"
    assert other.content(found.study, 21) == PHOTO
    assert [one.line.number for one in other.readings_of(state.specimens["old 1"])] == [8, 9]


def test_twice_brings_nothing_new_and_later_lines_alone(tmp_path: Path) -> None:
    records, study = full_records()
    other = RecordsInMemory()
    first = bring(other, lay(tmp_path / "a", files_of(records, study)))
    assert bring(other, tmp_path / "a") == Imported(first.study, True, 0)
    other.add(first.study, "Kim", [NewLine("here", NOTE, {"text": "ours"})])
    records.add(study, "Lee", [NewLine("t", TAKEN, entry=volts("old 4", "old", "0.5 mV"))])
    records.add(study, "Lee", [NewLine("ta", SET_ASIDE, about=25, reason="late")])
    again = bring(other, lay(tmp_path / "b", files_of(records, study)))
    assert (again.known, again.added) == (True, 2)
    assert other.count("study") == 1
    state = fold(other.lines(first.study))
    assert [(one.number, one.state) for one in state.readings][-1] == (26, "set aside")
    assert bring(other, tmp_path / "b").added == 0


def edited(files: dict[str, bytes], change: dict[tuple[int, str], str], sep: str = ",") -> dict[str, bytes]:
    """The files with cells of readings.csv changed, by row and column, as a spreadsheet saves them."""
    table = list(csv.reader(io.StringIO(files["readings.csv"].decode("utf-8-sig"))))
    for (row, column), text in change.items():
        table[row][table[0].index(column)] = text
    out = io.StringIO()
    csv.writer(out, delimiter=sep).writerows(table)
    return files | {"readings.csv": out.getvalue().encode()}


def test_edited_rows_are_refused_and_can_be_corrections(tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    change = {(1, "voltage [mV]"): "0.2999", (2, "note"): "changed", (3, "specimen"): "new 9"}
    folder = lay(tmp_path / "a", edited(files, change))
    other = RecordsInMemory()
    with pytest.raises(InputRefused) as refused:
        bring(other, folder)
    assert [(fault.where, fault.found) for fault in refused.value.faults] == [
        ("readings.csv, line 2", "voltage 0.2999 mV"),
        ("readings.csv, line 3", "note changed"),
        ("readings.csv, line 4", "specimen new 9"),
    ]
    assert "voltage 0.2530 mV, as in record.json" in str(refused.value)
    assert other.count() == 0
    found = bring(other, folder, "typed anew from the sheet")
    state = fold(other.lines(found.study))
    first = state.counted[0]
    assert first.entry.voltage == Typed("0.2999", "mV", "voltage")
    assert first.first.voltage == Typed("0.2530", "mV", "voltage")
    assert first.changes[-1].reason == "typed anew from the sheet"
    assert first.changes[-1].by == "Kim"
    assert bring(other, folder) == Imported(found.study, True, 0)  # what was taken once is no edit any more
    assert bring(other, folder, "again").added == 0


def test_what_a_spreadsheet_does_by_itself_is_no_edit(tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    text = files["readings.csv"].decode("utf-8-sig")
    assert "0.2530" in text
    table = [row.replace(".", ",") if i else row for i, row in enumerate(text.splitlines())]
    semicolons = "\n".join(row.replace(",", ";", 0) for row in table)
    assert semicolons  # commas for points need another separator
    out = io.StringIO()
    rows = list(csv.reader(io.StringIO(text)))
    numbers = [i for i, name in enumerate(rows[0]) if "[" in name]
    for row in rows[1:]:
        for i in numbers:
            row[i] = row[i].rstrip("0").replace(".", ",")
    rows[1:] = rows[:0:-1]  # and sorted otherwise
    csv.writer(out, delimiter=";").writerows(rows)
    other = RecordsInMemory()
    found = bring(other, lay(tmp_path / "a", files | {"readings.csv": out.getvalue().encode("utf-16")}))
    assert files_of(other, found.study) == files


def test_rows_taken_out_and_put_in(tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    lines = files["readings.csv"].decode().splitlines()
    new = lines[-1].split(",")
    new[0], new[1] = "", "old 7"
    data = "\n".join([*lines[:1], *lines[2:], ",".join(new)]).encode()
    folder = lay(tmp_path / "a", files | {"readings.csv": data})
    other = RecordsInMemory()
    with pytest.raises(InputRefused, match="a new row of old 7") as refused:
        bring(other, folder)
    assert "no such row; expected reading 2" in str(refused.value)
    state = fold(other.lines(bring(other, folder, "counted again").study))
    assert state.readings[0].state == "withdrawn"
    assert state.readings[-1].entry.specimen == "old 7"


def test_an_edited_question_and_its_marks(tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    toml = files["study.toml"].decode().replace('"slip"', '"bent pin"').replace("Does it", "Does that")
    toml = toml.replace("keep = [", "keep = [7, ")
    folder = lay(tmp_path / "a", files | {"study.toml": toml.encode(), "cables.toml": b"# ours\n"})
    other = RecordsInMemory()
    with pytest.raises(InputRefused) as refused:
        bring(other, folder)
    assert [fault.where for fault in refused.value.faults] == ["study.toml", "cables.toml"]
    found = bring(other, folder, "asked anew")
    loaded = wiring.load_study(folder)
    exported = wiring.read_folder(
        {name: data for name, data in files_of(other, found.study).items() if "/" not in name}
    )
    assert exported.study == loaded.study
    assert other.content(found.study, len(other.lines(found.study))) == b"# ours\n"
    assert bring(other, folder).added == 0


def test_a_folder_made_by_hand(tmp_path: Path) -> None:
    """The demonstration, as it lies on disk: answered from the records as from its folder, out again with its numbers."""
    wiring.write_demo_study(tmp_path / "study")
    toml = tmp_path / "study/study.toml"
    text = 'keep = [3]\nset_aside = [{ row = 5, reason = "slip" }]\n' + toml.read_text("utf-8")
    toml.write_text(text, "utf-8")
    (tmp_path / "study/report.html").write_text("?")
    records = RecordsInMemory()
    found = bring(records, tmp_path / "study")
    assert (found.known, found.passed_over) == (False, ("report.html",))
    files = files_of(records, found.study)
    assert files["study.toml"].decode() == text
    assert files["check.csv"] == (tmp_path / "study/check.csv").read_bytes()
    on_disk = answer_study(wiring.load_study(tmp_path / "study"))
    out = lay(tmp_path / "out", files)
    assert answer_study(wiring.load_study(out)) == on_disk
    plain = {name: data for name, data in files.items() if "/" not in name}
    assert answer_study(wiring.read_folder(plain)) == on_disk
    was = list(csv.DictReader(io.StringIO((tmp_path / "study/readings.csv").read_text("utf-8"))))
    now = list(csv.DictReader(io.StringIO((out / "readings.csv").read_text("utf-8-sig"))))
    assert [{name: row[name] for name in was[0]} for row in now] == was
    assert bring(records, tmp_path / "study") == Imported(found.study, True, 0, ("report.html",))


def test_rows_added_by_hand_come_in_and_changed_ones_are_refused(tmp_path: Path) -> None:
    folder = tmp_path / "study"
    wiring.write_new_study(folder)
    records = RecordsInMemory()
    first = bring(records, folder)
    sheet = folder / "readings.csv"
    lines = sheet.read_text("utf-8").splitlines()
    more = [*lines, "T4,tarnished,1,+,0.5,100.01,", lines[-1]]
    sheet.write_text("\n".join(more), "utf-8")
    assert bring(records, folder) == Imported(first.study, True, 2)
    sheet.write_text("\n".join(more).replace("0.2391", "0.2931"), "utf-8")
    with pytest.raises(InputRefused, match="no row that says what reading 5 said"):
        bring(records, folder)
    other = folder / "study.toml"
    sheet.write_text("\n".join(more), "utf-8")
    other.write_text(other.read_text("utf-8").replace('"3 mΩ"', '"4 mΩ"'), "utf-8")
    again = bring(records, folder)
    assert (again.study, again.added) == (first.study, 1)
    assert '"4 mΩ"' in fold(records.lines(first.study)).question
    assert records.count() == 1


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (
            "specimen;resistance (mohm);time\r\na;2,50;10:15\r\nb;2,610;10:16\r\n".encode("cp1252"),
            "2.610 mohm",
        ),
        ("specimen\tresistance [mΩ]\na\t2.5\nb\t2.610\n".encode("utf-16"), "2.610 mΩ"),
        ("sep=;\nplug;socket;resistance [Ω]\np;s;0,0025\np;t;−0,00261\n".encode(), "-0.00261 Ω"),
    ],
)
def test_what_spreadsheets_write(tmp_path: Path, data: bytes, expected: str) -> None:
    (tmp_path / "study.toml").write_text('scale = "linear"\n', "utf-8")
    (tmp_path / "readings.csv").write_bytes(data)
    records = RecordsInMemory()
    found = bring(records, tmp_path)
    last = fold(records.lines(found.study)).counted[-1].entry
    assert last.resistance is not None
    assert f"{last.resistance.text} {last.resistance.unit}" == expected
    out = lay(tmp_path / "out", files_of(records, found.study))
    assert answer_study(wiring.load_study(out)) == answer_study(wiring.load_study(tmp_path))


def test_a_question_alone(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text(QUESTION_TEXT, "utf-8")
    records = RecordsInMemory()
    found = bring(records, tmp_path)
    assert found.added == 1
    assert list(files_of(records, found.study)) == ["record.json", "study.toml"]


def test_a_folder_at_fault_is_refused_whole(tmp_path: Path) -> None:
    (tmp_path / "study.toml").write_text("keep = [9]\nscal = 3\n", "utf-8")
    (tmp_path / "readings.csv").write_text("specimen,resistance [mΩ]\na,many\n", "utf-8")
    records = RecordsInMemory()
    with pytest.raises(InputRefused) as refused:
        bring(records, tmp_path)
    assert len(refused.value.faults) == 3
    assert records.count() == 0


def test_past_studies_have_the_numbers_that_they_have_here(tmp_path: Path) -> None:
    wiring.write_new_study(tmp_path / "past")
    wiring.write_new_study(tmp_path / "now")
    toml = tmp_path / "now/study.toml"
    toml.write_text(
        'history = ["../past"] # ours\n' + toml.read_text("utf-8").replace("Do the", "And do"), "utf-8"
    )
    records = RecordsInMemory()
    with pytest.raises(InputRefused, match="not in these records"):
        bring(records, tmp_path / "now")
    past = bring(records, tmp_path / "past").study
    now = bring(records, tmp_path / "now").study
    files = files_of(records, now)
    assert files["study.toml"].startswith(f'history = ["study {past}"] # ours'.encode())
    out = lay(tmp_path / "out", files)
    assert [name for name, _ in wiring.load_study(out).history] == [f"study {past}"]
    other = RecordsInMemory()
    other.open_card("job", "Ann", [NewLine("j", "card written")], face_of("job"))
    with pytest.raises(InputRefused, match="not in these records"):
        bring(other, out)
    moved = bring(other, lay(tmp_path / "past out", files_of(records, past))).study
    assert moved != past
    there = bring(other, out).study
    assert f'history = ["study {moved}"] # ours' in fold(other.lines(there)).question
    assert bring(other, out).added == 0


def test_a_card_of_another_kind_is_no_study() -> None:
    records, _ = full_records()
    with pytest.raises(NoSuchCard, match="is a customer"):
        files_of(records, 1)


def test_readings_of_two_kinds_still_come_out_in_the_log(tmp_path: Path) -> None:
    records, study = full_records()
    ohm = Entry("x", "new", resistance=typed("2 mΩ", "resistance"))
    records.add(study, "Ann", [NewLine("two", TAKEN, entry=ohm)])
    files = files_of(records, study)
    assert "readings.csv" not in files
    other = RecordsInMemory()
    assert files_of(other, bring(other, lay(tmp_path / "a", files)).study) == files


TEXT = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=12)
FIGURE = st.builds(
    lambda n, unit: Typed(f"{n}.50", unit, "resistance"),
    st.integers(1, 999),
    st.sampled_from(["mΩ", "µΩ", "Ω"]),
)
MOMENT = st.builds(
    lambda s, h: (NINE + timedelta(seconds=s)).astimezone(timezone(timedelta(hours=h))),
    st.integers(0, 10**6),
    st.integers(-11, 12),
)
ENTRY = st.builds(
    Entry, TEXT, TEXT, TEXT, TEXT, st.sampled_from(["+", "-", ""]), resistance=FIGURE,
    time=st.none() | MOMENT, operator=TEXT, note=TEXT, step=st.none() | st.integers(0, 99),
    others=st.dictionaries(TEXT, TEXT, max_size=2),
)  # fmt: skip
AFTER = st.tuples(st.sampled_from([CORRECTED, WITHDRAWN, SET_ASIDE, PUT_BACK, KEPT, FILE, NOTE]), TEXT, ENTRY)


def lines_of(entries: Sequence[Entry], after: Sequence[tuple[str, str, Entry]]) -> list[Line]:
    """A log: the question, the readings, and what was done to them."""
    said: list[dict[str, object]] = [{"kind": QUESTION, "fields": {"toml": QUESTION_TEXT}}]
    said += [{"kind": TAKEN, "entry": entry} for entry in entries]
    for kind, text, entry in after:
        fields = (
            {"name": text, "media_type": text} if kind == FILE else {"text": text} if kind == NOTE else {}
        )
        corrected = entry if kind == CORRECTED else None
        about = 2 if entries else None
        said.append({"kind": kind, "fields": fields, "reason": text, "entry": corrected, "about": about})
    plain = Line(0, "", "", "Ann", datetime(2026, 1, 1, tzinfo=UTC), {}, None, "", None, None, False)
    return [
        replace(plain, number=i, key=f"key {i}", has_content=one["kind"] == FILE, **one)  # type: ignore[arg-type]
        for i, one in enumerate(said, start=1)
    ]


@given(st.lists(ENTRY, max_size=5), st.lists(AFTER, max_size=5))
def test_any_log_comes_back(
    tmp_path_factory: pytest.TempPathFactory, entries: list[Entry], after: list[tuple[str, str, Entry]]
) -> None:
    records = RecordsInMemory()
    lines = lines_of(entries, after)
    contents = {line.number: b"\0\xff" for line in lines if line.has_content}
    study = records.restore_card("study", NINE, lines, contents, face_of("study"))
    files = files_of(records, study)
    out = lay(tmp_path_factory.mktemp("out") / "study", files)
    other = RecordsInMemory()
    found = bring(other, out)
    assert other.lines(found.study) == tuple(lines)
    assert files_of(other, found.study) == files
