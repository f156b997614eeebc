"""Takes of a folder in the records and out again: answered to the same figures without their sound, and nothing twice."""

from __future__ import annotations

import csv
import io
import re
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from tests.adapters.records_in_memory import RecordsInMemory
from tests.journeys.taken import TRUE, taken
from tests.web.kept import in_memory

from ohmsworth import wiring
from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import takes_kept
from ohmsworth.adapters.simulated.sound import TrueContact, Truth, simulate
from ohmsworth.adapters.simulated.taken import CIRCUIT, INTERFACE, PLAN, SHUNT
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.work.answer_record import answer_record
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.cards.specimen_history import specimen_history, spells
from ohmsworth.work.export_study import export_study
from ohmsworth.work.faces import face_of
from ohmsworth.work.import_study import Imported, import_study
from ohmsworth.work.live_study import live_study, live_tone
from ohmsworth.work.particulars import folder_particulars
from ohmsworth.work.records import NewLine
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import (
    PUT_BACK,
    SET_ASIDE,
    SPECIMEN,
    STANDARD,
    TAKE,
    TAKEN,
    WITHDRAWN,
    StudyState,
)
from ohmsworth.work.take_log import RecordedTake, TakeFile, take_fields
from ohmsworth.work.take_told import digest_of

ROWS = ["C1", "C2", "C3", "D1", "D2", "D3"]
#: What leads and inputs leave where there is nothing: far below the contacts.
SHORT = TrueContact(resistance=2e-5, inductance=5e-9)


def record(path: Path, contact: TrueContact, way: str, seed: int) -> None:
    write_recording(path, simulate(PLAN, CIRCUIT, Truth(contact, SHUNT), INTERFACE, seed, way))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def original(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a study of six contacts made by hand, with takes of a short."""
    folder = taken(tmp_path_factory.mktemp("by hand") / "study", specimens=3, matings=1)
    for seed, way in enumerate(("straight", "swapped")):
        record(folder / f"short-{way}.flac", SHORT, way, seed)
    answer_study(wiring.load_study(folder))
    return folder


@pytest.fixture
def folder(original: Path, tmp_path: Path) -> Path:
    return shutil.copytree(original, tmp_path / "study")


@pytest.fixture(scope="module")
def answer(original: Path) -> Answer:
    return answer_study(wiring.load_study(original))


class Kept:
    """Records that took a folder in."""

    def __init__(self, folder: Path) -> None:
        self.records = RecordsInMemory()
        self.found = self.bring(folder)
        self.study = self.found.study
        self.desk = Desk(wiring.shop(self.records))

    def bring(self, folder: Path, corrections: str | None = None) -> Imported:
        found = wiring.read_study_folder(folder)
        return import_study(self.records, found, "Kim", face_of, wiring.with_history, corrections)

    @property
    def state(self) -> StudyState:
        return self.desk.state(self.study)

    @property
    def takes(self) -> tuple[RecordedTake, ...]:
        return self.state.takes

    def add(self, *lines: NewLine) -> None:
        self.records.add(self.study, "Kim", lines, study_face)

    def files(self) -> dict[str, bytes]:
        return export_study(self.records, self.study, wiring.folder_of, wiring.record_files)

    def out(self, place: Path) -> Path:
        wiring.write_tree(place, sorted(self.files().items()))
        return place

    def answer(self) -> Answer:
        return answer_record(self.desk, self.study, self.state).answer


@pytest.fixture
def kept(original: Path) -> Kept:
    return Kept(original)


def refused(place: Path) -> str:
    with pytest.raises(InputRefused) as caught:
        wiring.load_study(place)
    return str(caught.value)


def test_a_folder_by_hand_becomes_a_line_a_row(kept: Kept, original: Path) -> None:
    state = kept.state
    assert [one.reading.entry.specimen for one in state.takes] == ROWS
    assert [line.kind for line in kept.records.lines(kept.study)].count(TAKE) == 6
    assert {one.name for one in state.files if one.beside} == {"tones.toml", "plan.json"}
    (short,) = state.standards
    assert short.series == "short"
    assert [one.name for one in short.files["straight"]] == ["short-straight.flac"]
    first = state.takes[0]
    assert first.files["swapped"] == (
        TakeFile("clean-1-1-swapped.flac", takes_kept.sha_of(original / "clean-1-1-swapped.flac")),
    )
    # Specimens of one condition differ by 6 %.
    for one in state.takes:
        entry = one.reading.entry
        assert entry.resistance is not None
        truth = TRUE[entry.condition].impedance(PLAN.frequencies)[1].real
        assert entry.resistance.value == pytest.approx(truth, rel=0.25)
        assert entry.others == {}
    # The text stands for R within the last two digits of its uncertainty.
    assert first.reading.entry.resistance is not None
    assert re.fullmatch(r"\d\.\d{3,4}", first.reading.entry.resistance.text)
    assert first.reading.entry.resistance.unit == "mΩ"


def test_the_same_folder_comes_in_once_and_a_changed_row_is_told(kept: Kept, folder: Path) -> None:
    assert (kept.bring(folder).known, kept.bring(folder).added) == (True, 0)
    record(folder / "clean-1-1-straight.flac", TRUE["clean"], "straight", 99)
    with pytest.raises(InputRefused, match=r"takes\.csv: found no row with the recordings of take 1 \(C1\)"):
        kept.bring(folder)
    assert len(kept.takes) == 6


def test_the_records_answer_without_the_sound(kept: Kept, answer: Answer) -> None:
    found = kept.answer()
    assert found.frequencies is not None
    assert answer.frequencies is not None
    assert as_json(found)["frequencies"] == as_json(answer)["frequencies"]
    assert found.conditions == answer.conditions
    assert found.comparisons == answer.comparisons
    assert found.uses == answer.uses


def test_the_answer_so_far_of_takes_is_the_whole_answer_in_short(kept: Kept) -> None:
    whole, live = kept.answer(), live_study(kept.desk, kept.study, kept.state)
    assert live is not None
    assert whole.frequencies is not None
    assert live_tone(kept.desk, kept.study, kept.state) == whole.frequencies.answered_at
    # What all takes have alike, such as the shunt, is in both intervals.
    for one, other in zip(live.conditions, whole.conditions, strict=True):
        assert one.condition == other.condition
        assert (one.resistance, one.low, one.high) == pytest.approx(
            (other.resistance, other.low, other.high), rel=1e-9
        )
    assert len(live.dots) == 6
    assert "mΩ" in live.sentence


def test_takes_that_do_not_count_are_crossed_out_in_the_answer_so_far(kept: Kept) -> None:
    clean = [one.reading for one in kept.state.takes if one.reading.entry.condition == "clean"]
    for one in clean[:-1]:
        kept.add(NewLine(f"a{one.number}", SET_ASIDE, about=one.number, reason="loose"))
    live = live_study(kept.desk, kept.study, kept.state)
    assert live is not None
    assert [dot.used for dot in live.dots].count(False) == len(clean) - 1
    # Of a condition without any take that counts nothing is told; of none at all there is no answer.
    kept.add(NewLine("last", SET_ASIDE, about=clean[-1].number, reason="loose"))
    live = live_study(kept.desk, kept.study, kept.state)
    assert live is not None
    assert "clean" not in {one.condition for one in live.conditions}
    for one in kept.state.takes:
        if one.reading.state == "used":
            number = one.reading.number
            kept.add(NewLine(f"w{number}", WITHDRAWN, about=number, reason="gone"))
    assert live_study(kept.desk, kept.study, kept.state) is None


def test_out_and_in_again_gives_the_same_bytes_and_the_same_answer(
    kept: Kept, answer: Answer, tmp_path: Path
) -> None:
    place = kept.out(tmp_path / "out")
    assert {path.name for path in place.iterdir()} == {
        "study.toml", "takes.csv", "takes.analysed.json", "tones.toml", "plan.json", "record.json", "files",
    }  # fmt: skip
    assert answer_study(wiring.load_study(place)) == answer
    again = Kept(place)
    assert (again.found.known, again.found.passed_over) == (False, ())
    assert again.files() == kept.files()
    assert again.bring(place).added == 0
    assert folder_particulars(wiring.read_study_folder(place), wiring.form_of).number == 6


def test_what_a_spreadsheet_does_by_itself_is_no_edit(kept: Kept, tmp_path: Path) -> None:
    place = kept.out(tmp_path / "out")
    rows = (place / "takes.csv").read_text("utf-8-sig").splitlines()
    turned = "\n".join([rows[0], *reversed(rows[1:])]).replace(",", ";") + "\n"
    (place / "takes.csv").write_text(turned, "utf-8")
    (place / takes_kept.FILE).unlink()
    assert kept.bring(place).added == 0


@pytest.mark.parametrize("corrections", [None, "a slip of the pen"])
def test_an_edited_row_is_told_and_never_taken(kept: Kept, tmp_path: Path, corrections: str | None) -> None:
    place = kept.out(tmp_path / "out")
    text = (place / "takes.csv").read_text("utf-8-sig")
    text = text.replace("C1,clean", "C1,dark").replace("dark-3-1-swapped.flac", "")
    text += ",C9,clean,1,new.flac,\n"
    (place / "takes.csv").write_text(text, "utf-8")
    with pytest.raises(InputRefused) as caught:
        kept.bring(place, corrections)
    told = [(fault.where, fault.found) for fault in caught.value.faults]
    assert told == [
        ("takes.csv, line 2", "condition dark"),
        ("takes.csv, line 7", "column swapped "),
        ("takes.csv, line 8", "a new row of C9"),
    ]
    assert len(kept.takes) == 6


def test_a_take_set_aside_is_left_out_with_its_reason(kept: Kept, tmp_path: Path) -> None:
    first, second = (one.reading.number for one in kept.takes[:2])
    kept.add(
        NewLine("w", WITHDRAWN, about=first, reason="another plug"),
        NewLine("a", SET_ASIDE, about=second, reason="it moved"),
    )
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    assert dict(wiring.read_folder(files).study.set_aside) == {2: "it moved"}
    told = kept.answer()
    assert {c.condition: c.specimens for c in told.conditions} == {"clean": 1, "dark": 3}
    report = wiring.as_text(answer_record(kept.desk, kept.study, kept.state).report, 10_000)
    assert "4 of 5 takes" in report
    assert answer_study(wiring.load_study(kept.out(tmp_path / "out"))).conditions == told.conditions
    kept.add(NewLine("b", PUT_BACK, about=second, reason="it did not"))
    assert {c.condition: c.specimens for c in kept.answer().conditions} == {"clean": 2, "dark": 3}


def test_doubts_name_takes_by_their_number(tmp_path: Path) -> None:
    kept = Kept(taken(tmp_path / "one way", specimens=3, matings=1, kinds=1))
    kept.add(NewLine("w", WITHDRAWN, about=kept.takes[0].reading.number, reason="another plug"))
    (words,) = [one.words for one in kept.answer().warnings if one.code == "NO_SWAPPED_TAKE"]
    assert words.startswith("5 takes (takes 2, 3, 4, 5, 6)")
    kept.add(NewLine("a", SET_ASIDE, about=kept.takes[1].reading.number, reason="it moved"))
    (words,) = [one.words for one in kept.answer().warnings if one.code == "NO_SWAPPED_TAKE"]
    assert words.startswith("4 takes (takes 3, 4, 5, 6)")


def test_a_further_row_is_analysed_with_the_short_that_was_kept(
    kept: Kept, folder: Path, tmp_path: Path
) -> None:
    place = kept.out(tmp_path / "out")
    more = TrueContact(resistance=3.2e-3, inductance=60e-9)
    for where in (place, folder):
        for seed, way in enumerate(("straight", "swapped")):
            record(where / f"more-{way}.flac", more, way, 50 + seed)
        rows = list(csv.reader(io.StringIO((where / "takes.csv").read_text("utf-8-sig"))))
        new = {"specimen": "C4", "condition": "clean", "mating": "1"} | {
            way: f"more-{way}.flac" for way in ("straight", "swapped")
        }
        text = "\n".join(map(",".join, [*rows, [new.get(name, "") for name in rows[0]]])) + "\n"
        (where / "takes.csv").write_text(text, "utf-8")
    found, beside = wiring.load_study(place).impedances, wiring.load_study(folder).impedances
    assert found is not None
    assert beside is not None
    np.testing.assert_array_equal(found.found.value, beside.found.value)
    np.testing.assert_array_equal(found.found.random, beside.found.random)
    # With the short taken off, nothing of it is left in R; the shunt has 100.2 mΩ and is stated with 100 mΩ.
    k = int(np.argmin(np.abs(PLAN.frequencies - 80)))
    assert found.found.value[-1, k].real == pytest.approx((3.2e-3 - 2e-5) * 100 / 100.2, rel=3e-4)
    assert "noise of the short in step" in found.found.shared
    # What is kept says so again, byte for byte.
    before = (place / takes_kept.FILE).read_bytes()
    assert takes_kept.kept_bytes(takes_kept.read_kept(place)) == before


def test_sound_that_is_gone_counts_with_what_it_told_then(folder: Path, answer: Answer) -> None:
    for path in folder.glob("*.flac"):
        path.unlink()
    assert answer_study(wiring.load_study(folder)) == answer
    text = (folder / "tones.toml").read_text("utf-8")
    (folder / "tones.toml").write_text(text.replace("100 mΩ", "200 mΩ"), "utf-8")
    assert answer_study(wiring.load_study(folder)).conditions == answer.conditions
    plan = (folder / "plan.json").read_text("utf-8")
    (folder / "plan.json").write_text(plan.replace("2517", "2511"), "utf-8")
    told = refused(folder)
    assert "takes.csv, line 2: found takes of other tones" in told
    assert "takes.analysed.json, short: found takes of other tones" in told
    (folder / takes_kept.FILE).unlink()
    assert (
        "takes.csv, line 2, column 'straight': found 'clean-1-1-straight.flac', and no such file"
        in refused(folder)
    )


def test_a_recording_that_cannot_be_opened_is_said(kept: Kept) -> None:
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    digest = kept.takes[0].digest.encode()
    files[takes_kept.FILE] = files[takes_kept.FILE].replace(digest, b"0" * 64)
    with pytest.raises(
        InputRefused, match=r"line 2: clean-1-1-straight\.flac: found a recording that is not"
    ):
        wiring.read_folder(files)


def test_names_that_come_twice_get_others(kept: Kept) -> None:
    for i, take in enumerate(kept.takes[:3]):
        pair = (TakeFile("x-1.wav", f"{i}a" * 32), TakeFile("x-2.wav", f"{i}b" * 32))
        files = {"straight": pair, "swapped": (TakeFile("../away.wav", f"{i}c" * 32),)}
        fields = take_fields(files, digest_of(files), take.basis, take.told)  # type: ignore[arg-type]
        kept.add(NewLine(f"more {i}", TAKE, fields, entry=replace(take.reading.entry, mating=f"{i + 2}")))
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    rows = list(csv.DictReader(io.StringIO(files["takes.csv"].decode("utf-8-sig"))))
    number = [one.reading.number for one in kept.takes]
    assert [row["straight"] for row in rows[6:]] == [
        "x.wav",
        f"reading {number[7]}/straight.wav",
        f"reading {number[8]}/straight.wav",
    ]
    assert rows[6]["swapped"] == f"reading {number[6]}/swapped.wav"
    assert len(wiring.read_folder(files).table) == 9


def test_readings_beside_takes_make_the_answer(kept: Kept, tmp_path: Path) -> None:
    aside = kept.takes[0].reading.number
    for one in kept.takes:
        entry = one.reading.entry
        ohm = Typed("3.2" if entry.condition == "clean" else "9.1", "mΩ", "resistance")
        kept.add(NewLine(f"dc {one.reading.number}", TAKEN, entry=replace(entry, resistance=ohm)))
    kept.add(NewLine("a", SET_ASIDE, about=aside, reason="it moved"))
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    loaded = wiring.read_folder(files)
    assert dict(loaded.study.set_aside) == {}
    assert (len(loaded.table), loaded.tone) == (6, None)
    assert loaded.impedances is not None
    assert loaded.impedances.found.table.specimen.names == ("C2", "C3", "D1", "D2", "D3")
    place = kept.out(tmp_path / "out")
    again = Kept(place)
    assert again.files() == kept.files()
    assert again.takes[0].reading.reason == "it moved"


def test_frequencies_may_be_asked_before_there_are_takes(kept: Kept) -> None:
    for one in kept.takes:
        kept.add(
            NewLine(f"w {one.reading.number}", WITHDRAWN, about=one.reading.number, reason="all again"),
            NewLine(f"dc {one.reading.number}", TAKEN, entry=one.reading.entry),
        )
    assert kept.answer().frequencies is None


def test_a_withdrawn_short_is_not_taken_off_what_comes(kept: Kept) -> None:
    number = kept.state.standards[0].number
    kept.add(NewLine("w", WITHDRAWN, about=number, reason="not a short"))
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    assert b'"standards": {}' in files[takes_kept.FILE]
    assert [line.kind for line in kept.records.lines(kept.study)].count(STANDARD) == 1
    # What was told with it stays what it was.
    assert kept.answer().frequencies is not None


def test_a_study_without_readings_and_takes_is_no_answer(kept: Kept) -> None:
    for one in kept.takes:
        kept.add(NewLine(f"w {one.reading.number}", WITHDRAWN, about=one.reading.number, reason="all again"))
    with pytest.raises(InputRefused, match="no readings and no takes"):
        kept.answer()


def test_a_condition_that_is_missing_is_told_without_the_names_of_files(kept: Kept) -> None:
    for one in kept.takes:
        if one.reading.entry.condition == "clean":
            number = one.reading.number
            kept.add(NewLine(f"w {number}", WITHDRAWN, about=number, reason="all again"))
    with pytest.raises(InputRefused) as caught:
        kept.answer()
    words = str(caught.value)
    assert "a condition of the takes: 'dark'" in words
    assert ".csv" not in words
    assert ".toml" not in words


def test_a_specimen_shows_its_takes(kept: Kept) -> None:
    card = kept.records.open_card(
        "specimen", "Kim", [NewLine("sp", "card written", {"serial": "1"})], face_of("specimen")
    )
    kept.add(NewLine("named", SPECIMEN, {"name": "C1", "card": card}))
    (study,) = specimen_history(kept.records, card, kept.desk.state)
    (point,) = study.points
    assert point.form == "from tones"
    assert point.by_tones == "by tones, at 79.0 Hz"
    (spell,) = spells((study,))
    assert spell.by_tones == point.by_tones
    assert (study.unread, study.set_aside) == (0, 0)
    resistance = kept.takes[0].reading.entry.resistance
    assert resistance is not None
    assert point.resistance == resistance.value


def test_pages_of_a_study_of_takes(tmp_path: Path, original: Path) -> None:
    shop = in_memory(tmp_path, drawn=True)
    found = import_study(
        shop.records, wiring.read_study_folder(original), "Kim", face_of, wiring.with_history
    )
    live = shop.client.get(f"/studies/{found.study}/bench/live").text
    assert "By takes of tones: R at 79.0 Hz" in live
    assert '<svg class="dots"' in live
    assert "mΩ" in live[: live.index("<svg")]
    assert f"/studies/{found.study}/frequency" in live
    assert f"/studies/{found.study}/answer" in live
    assert "By tones, at 79.0 Hz" in shop.client.get(f"/studies/{found.study}/answer").text
    report = shop.client.get(f"/studies/{found.study}/report.html").text
    assert "How the takes were measured" in report
    # The folder does not say when the short was recorded; the day of the import is not that.
    assert "short (day not kept)" in report
    for page in ("/", "/records", f"/studies/{found.study}/bench", f"/studies/{found.study}/report"):
        assert shop.client.get(page).status_code == 200, page
    assert shop.records.count_readings() == 6


def test_an_entry_without_its_own_time_keeps_further_columns(folder: Path) -> None:
    rows = (folder / "takes.csv").read_text("utf-8").splitlines()
    text = "\n".join([f"{rows[0]},room,note", *(f"{row},{i},=1" for i, row in enumerate(rows[1:]))]) + "\n"
    (folder / "takes.csv").write_text(text, "utf-8")
    kept = Kept(folder)
    entry: Entry = kept.takes[2].reading.entry
    assert (dict(entry.others), entry.note) == ({"room": "2"}, "=1")
    files = wiring.folder_of(kept.state, lambda n: kept.records.content(kept.study, n))
    row = list(csv.DictReader(io.StringIO(files["takes.csv"].decode("utf-8-sig"))))[2]
    assert (row["room"], row["note"]) == ("2", "'=1")
