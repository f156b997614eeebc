"""The page of the records: copies, whole exports, and records that are filled from them."""

import threading
import time
from datetime import timedelta
from pathlib import Path
from urllib.parse import unquote

import pytest
from tests.adapters.files.logs import QUESTION_TEXT, volts
from tests.unit.work.test_import_study import full_records
from tests.web import kept
from tests.web.doors import guarded
from tests.web.kept import Kept, in_file, in_memory, sent, unzipped
from tests.web.policy import Sheet, breaches

from ohmsworth import wiring
from ohmsworth.web.serve.daily import AT_ONCE, copy_if_due, start_daily
from ohmsworth.work.backups import copy_name
from ohmsworth.work.cards.log import WRITTEN
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.faces import face_of
from ohmsworth.work.records import NewLine, Records
from ohmsworth.work.study_cards import open_study, study_face
from ohmsworth.work.study_log import TAKEN

NAME = copy_name(kept.NOW)


def taken(bench: Kept, readings: int = 3, key: str = "study") -> int:
    study = open_study(bench.shop, QUESTION_TEXT, (), "Ann", key)
    lines = [
        NewLine(f"{key} {n}", TAKEN, entry=volts("S1", "new", f"0.{n + 10} mV")) for n in range(readings)
    ]
    bench.records.add(study, "Ann", lines, study_face)
    return study


def everything(records: Records) -> list[object]:
    return [(card, records.lines(card.number)) for card in records.cards(most=1000)]


def test_the_page_says_what_is_kept(tmp_path: Path) -> None:
    bench = in_memory(tmp_path)
    told = bench.client.get("/records")
    assert told.status_code == 200
    assert breaches(told.text) == []
    assert str(tmp_path / "shop.records") in told.text
    assert 'action="/records/restore"' in told.text
    assert "No copy of the records" not in told.text
    taken(bench)
    told = bench.client.get("/records")
    assert breaches(told.text) == []
    assert "3, withdrawn ones too" in told.text
    assert 'action="/records/restore"' not in told.text
    assert "No copy of the records has been made yet." in told.text
    assert "No copy of the records has been made yet." in bench.client.get("/").text


def test_a_copy_is_made_told_and_taken_along(tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        taken(bench)
        made = bench.client.post("/records/backup")
        assert made.status_code == 303
        told = bench.client.get(made.headers["location"])
        assert breaches(told.text) == []
        assert f"A copy of everything was made: {NAME}." in told.text
        assert (tmp_path / "shop copies" / NAME).is_file()
        assert "No copy" not in bench.client.get("/").text
        (link,) = [a["href"] for a in Sheet(told.text).all("a") if "/copies/" in (a["href"] or "")]
        again = bench.client.get(link or "")
        assert again.content == (tmp_path / "shop copies" / NAME).read_bytes()
        for name in ("../shop.records", "..%2Fshop.records", "notes", copy_name(kept.NOW + timedelta(1))):
            assert bench.client.get(f"/records/backup/copies/{name}").status_code == 404
        along = bench.client.get("/records/backup/now")
        assert NAME in unquote(along.headers["content-disposition"])
        file = tmp_path / "along"
        file.write_bytes(along.content)
        wiring.restore_records(file, str(tmp_path / "other"))
        with wiring.open_records(str(tmp_path / "other")) as other:
            assert everything(other) == everything(bench.records)
        old = tmp_path / "shop copies" / copy_name(kept.NOW - timedelta(days=9))
        (tmp_path / "shop copies" / NAME).rename(old)
        for page in ("/", "/records"):
            assert "The newest copy of the records is 9 days old." in bench.client.get(page).text


def test_a_copy_while_readings_stream_in_fills_records_that_are_as_they_were(tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        study = taken(bench)
        stop, last = threading.Event(), [0]

        def stream() -> None:
            while not stop.is_set():
                last[0] += 1
                line = NewLine(f"s {last[0]}", TAKEN, entry=volts("S2", "new", "0.25 mV"))
                bench.records.add(study, "Lee", [line], study_face)

        writer = threading.Thread(target=stream)
        writer.start()
        try:
            while last[0] < 5:
                pass
            copies = [bench.client.get("/records/backup/now").content for _ in range(3)]
        finally:
            stop.set()
            writer.join()
        lines = bench.records.lines(study)
    sizes = []
    for number, content in enumerate(copies):
        with in_file(tmp_path / f"new {number}") as other:
            filled = other.client.post("/records/restore", files={"file": ("copy.sqlite", content)})
            assert filled.status_code == 303, filled.text
            assert "The records were filled" in other.client.get(filled.headers["location"]).text
            found = other.records.lines(study)
            assert found == lines[: len(found)]
            assert other.records.check() == ()
            sizes.append(len(found))
    assert sizes == sorted(sizes)
    assert sizes[0] > 4


def test_looking_it_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        taken(bench)
        told = bench.client.post("/records/check")
        assert breaches(told.text) == []
        assert "everything in them is sound" in told.text
    memory = in_memory(tmp_path)
    monkeypatch.setattr(memory.records, "check", lambda: ("The log of card 3 has a gap.",))
    told = memory.client.post("/records/check")
    assert breaches(told.text) == []
    assert "The records are not sound." in told.text
    assert "The log of card 3 has a gap." in told.text


def test_a_copy_that_cannot_be_made_is_said_everywhere(tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        taken(bench)
        bench.records.write_setting("folder of copies", str(tmp_path / "drive" / "copies"), "Ann")
        refused = bench.client.post("/records/backup")
        assert refused.status_code == 503
        assert "plug in the drive" in refused.text
        told = bench.client.get("/records")
        assert breaches(told.text) == []
        assert "plug in the drive" in told.text
        assert "plug in the drive" in bench.client.get("/").text
        (tmp_path / "drive").mkdir()
        (tmp_path / "drive" / "copies").write_text("no folder")
        assert "cannot be used" in bench.client.get("/records").text


def test_everything_as_files_fills_empty_records(tmp_path: Path) -> None:
    records, _ = full_records()
    records.write_setting("name of the shop", "Ohm & sons", "Ann")
    bench = in_memory(tmp_path)
    bench.client.app.state.shop = wiring.shop(records)  # type: ignore[attr-defined]
    whole = bench.client.get("/records/export/shop.zip")
    assert whole.headers["content-type"] == "application/zip"
    assert unzipped(whole.content) == dict(export_shop(records, wiring.shop_format()))
    empty = in_memory(tmp_path)
    filled = empty.client.post("/records/restore", files={"file": ("shop.zip", whole.content)})
    assert filled.status_code == 303
    assert all(empty.records.lines(c.number) == records.lines(c.number) for c in records.cards())
    assert empty.records.settings() == records.settings()
    again = empty.client.post("/records/restore", files={"file": ("shop.zip", whole.content)})
    assert again.status_code == 422
    assert "records that are still empty" in again.text
    assert "ohmsworth records restore COPY.sqlite --records NEW" in again.text
    assert empty.records.count() == records.count()


def test_cards_of_people_are_left_out_when_asked(tmp_path: Path) -> None:
    bench = in_memory(tmp_path)
    lines = [NewLine("c", WRITTEN, {"name": "Grand Theatre <b>"})]
    customer = bench.records.open_card("customer", "Lee", lines, face_of("customer"))
    page = bench.client.get("/records/export")
    assert breaches(page.text) == []
    assert "Grand Theatre &lt;b&gt;" in page.text
    (box,) = [one for one in Sheet(page.text).all("input") if one.get("type") == "checkbox"]
    assert box["value"] == str(customer)
    files = unzipped(bench.client.get(f"/records/export/shop.zip?without={customer}").content)
    assert not any(b"Grand Theatre" in data for data in files.values())
    study = taken(bench)
    refused = bench.client.get(f"/records/export/shop.zip?without={study}")
    assert refused.status_code == 422
    assert "a person or a customer" in refused.text
    assert bench.client.get("/records/export/shop.zip?without=99").status_code == 404


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("x.sqlite", b"SQLite format 3\0" + b"\0" * 5000, "a sound copy"),
        ("x.zip", b"PK\x03\x04 nothing", "no zip file"),
        ("x.zip", kept.zipped({"study.toml": b"x"}), "cards.json"),
        ("x.zip", kept.zipped({"cards.json": b"{}", "settings.json": b"{}"}), "cards.json"),
        ("x.zip", kept.zipped({"cards.json": b"\0" * 20_000_000, "settings.json": b"{}"}), "20000000 bytes"),
        ("x.txt", b"hello", "neither of them"),
        ("x.txt", b"", "neither of them"),
    ],
)
def test_what_fills_nothing(name: str, content: bytes, said: str, tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        refused = bench.client.post("/records/restore", files={"file": (name, content)})
        assert refused.status_code == 422
        assert breaches(refused.text) == []
        assert said in refused.text
        assert bench.records.count() == 0
        assert bench.client.post("/records/restore", data={"x": "y"}).status_code == 422


def test_copies_and_whole_exports_are_for_the_office(tmp_path: Path) -> None:
    with guarded(tmp_path) as made:
        office, ben, rita = (made.signed_in(name) for name in ("olga", "ben", "rita"))
        for browser in (ben, rita):
            told = browser.get("/records")
            assert told.status_code == 200
            for address in ("/records/export", "/records/backup", "/records/restore"):
                assert address not in told.text
            for address in ("/records/export", "/records/export/shop.zip", "/records/backup/now"):
                assert browser.get(address).status_code == 403
            for address in ("/records/backup", "/records/restore"):
                assert browser.post(address).status_code == 403
        assert rita.post("/records/take-in", files=sent(("study.toml", b"x"))).status_code == 403
        assert "/records/export" in office.get("/records").text
        assert office.get("/records/export").status_code == 200


def test_a_bench_without_these_says_so(tmp_path: Path) -> None:
    bench = in_memory(tmp_path)
    from ohmsworth.work.keeping import NO_KEEPING

    bench.client.app.state.keeping = NO_KEEPING  # type: ignore[attr-defined]
    taken(bench)
    assert bench.client.get("/").status_code == 200
    refused = bench.client.get("/records/export/shop.zip")
    assert refused.status_code == 422
    assert "ohmsworth bench" in refused.text


def test_the_daily_copy(tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        assert not copy_if_due(bench.shop, bench.keeping)
        assert not (tmp_path / "shop copies").exists()
        taken(bench)
        assert copy_if_due(bench.shop, bench.keeping)
        assert not copy_if_due(bench.shop, bench.keeping)
        assert [one.name for one in (tmp_path / "shop copies").iterdir()] == [NAME]
        (tmp_path / "shop copies" / NAME).unlink()
        seen = threading.Event()
        clock = bench.shop.clock

        def looked(place: Path) -> None:
            back_up(place)
            seen.set()

        back_up, bench.records.back_up = bench.records.back_up, looked  # type: ignore[method-assign]
        end = start_daily(bench.shop, bench.keeping, first=0.01, again=60)
        assert seen.wait(30)
        end()
        assert clock() == kept.NOW
        assert (tmp_path / "shop copies" / NAME).is_file()


def test_figures_are_made_anew_beside_the_serving(tmp_path: Path) -> None:
    with in_file(tmp_path / "shop.records") as bench:
        studies = [taken(bench, key=f"study {k}") for k in range(2 * AT_ONCE + 3)]
        for study in studies:
            bench.records.add(
                study, "Ann", [NewLine(f"more {study}", TAKEN, entry=volts("S1", "new", "0.2 mV"))]
            )

        def waiting() -> int:
            return sum(one.figures["to"] != one.lines for one in bench.records.figures_of("study"))

        assert waiting() == len(studies)
        end = start_daily(bench.shop, bench.keeping, first=0.01, again=60)
        for _ in range(600):
            if not waiting():
                break
            time.sleep(0.05)
        end()
        assert waiting() == 0
