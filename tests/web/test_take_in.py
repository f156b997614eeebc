"""Studies that come in through the page: from zip files, folders and spreadsheets, with every fault told and nothing twice."""

import os
from pathlib import Path

import pytest
from tests.unit.work.test_import_study import files_of, full_records
from tests.web.kept import Kept, in_memory, sent, unzipped, zipped
from tests.web.policy import Sheet, breaches

from ohmsworth import wiring
from ohmsworth.units import parse_quantity
from ohmsworth.web.aside import MOST, Aside, Sending
from ohmsworth.work.study_log import fold

SAVED = sorted((Path(__file__).parents[1] / "adapters" / "files" / "spreadsheets").glob("*.csv"))


@pytest.fixture
def bench(tmp_path: Path) -> Kept:
    return in_memory(tmp_path)


@pytest.fixture
def hall(tmp_path: Path) -> dict[str, bytes]:
    wiring.write_new_study(tmp_path / "hall")
    return {one.name: one.read_bytes() for one in (tmp_path / "hall").iterdir()}


@pytest.mark.parametrize("way", ["zip", "folder", "files"])
def test_a_study_comes_in_once(way: str, bench: Kept, hall: dict[str, bytes]) -> None:
    named = {f"hall/{name}": data for name, data in hall.items()}
    files = {
        "zip": [("old.zip", zipped(named))],
        "folder": [*named.items()],
        "files": [*hall.items()],
    }[way]
    told = bench.client.post("/records/take-in", files=sent(*files))
    assert told.status_code == 200, told.text
    assert breaches(told.text) == []
    assert '<a href="/studies/1">Study 1</a>: 25 new lines.' in told.text
    assert bench.client.get("/studies/1/bench").status_code == 200
    assert {line.by for line in bench.records.lines(1)} == {"Ann"}
    again = bench.client.post("/records/take-in", files=sent(*files))
    assert "was here already: nothing new." in again.text
    assert bench.records.count() == 1


@pytest.mark.parametrize("saved", SAVED, ids=lambda path: path.name)
def test_what_a_spreadsheet_writes(saved: Path, bench: Kept, hall: dict[str, bytes]) -> None:
    toml = hall["study.toml"].replace(b'reference = "new"', b'reference = "as found"')
    told = bench.client.post(
        "/records/take-in", files=sent(("study.toml", toml), ("readings.csv", saved.read_bytes()))
    )
    assert told.status_code == 200, told.text
    state = fold(bench.records.lines(1))
    assert len(state.counted) == 16
    volts = [one.entry.voltage for one in state.counted if one.entry.voltage is not None]
    found = [parse_quantity(f"{volt.text} {volt.unit}", "voltage") for volt in volts]
    assert found[:3] == pytest.approx([0.4718e-3, -0.4691e-3, 0.5267e-3])


def test_each_folder_is_told_by_itself(bench: Kept, hall: dict[str, bytes]) -> None:
    lines = hall["readings.csv"].decode("utf-8-sig").splitlines()
    wrong = "\n".join([lines[0], lines[1].replace("0.2513", "o.2513"), *lines[2:]]).encode()
    data = zipped(
        {f"good/{name}": content for name, content in hall.items()}
        | {"bad/study.toml": hall["study.toml"], "bad/readings.csv": wrong, "rows/readings.csv": b"a,b\n"}
    )
    told = bench.client.post("/records/take-in", files=sent(("three.zip", data)))
    assert told.status_code == 422
    assert breaches(told.text) == []
    assert "readings.csv, line 2, column" in told.text
    assert "o.2513" in told.text
    assert "no such file" in told.text
    assert '<a href="/studies/1">' in told.text
    assert bench.records.count() == 1


def test_folders_of_past_studies_may_come_in_any_order(bench: Kept, hall: dict[str, bytes]) -> None:
    now = b'history = ["../b last"]\n' + hall["study.toml"].replace(b'question = "', b'question = "Now: ')
    data = zipped(
        {f"a now/{name}": content for name, content in (hall | {"study.toml": now}).items()}
        | {f"b last/{name}": content for name, content in hall.items()}
    )
    told = bench.client.post("/records/take-in", files=sent(("two.zip", data)))
    assert told.status_code == 200, told.text
    assert bench.records.count("study") == 2
    assert 'history = ["study 1"]' in fold(bench.records.lines(2)).question


def test_rows_that_were_edited_are_taken_with_a_reason(bench: Kept, tmp_path: Path) -> None:
    records, study = full_records()
    files = files_of(records, study)
    place = f"study-{study}"
    exported = zipped({f"{place}/{name}": data for name, data in files.items()})
    assert bench.client.post("/records/take-in", files=sent(("s.zip", exported))).status_code == 200
    number = next(card.number for card in bench.records.cards("study"))
    before = bench.records.lines(number)
    edited = files | {"readings.csv": files["readings.csv"].replace(b"0.2547", b"0.2574")}
    assert edited != files
    data = zipped({f"{place}/{name}": content for name, content in edited.items()})
    told = bench.client.post("/records/take-in", files=sent(("s.zip", data)))
    assert told.status_code == 422
    assert breaches(told.text) == []
    assert "0.2574" in told.text
    assert bench.records.lines(number) == before
    fields = {one["name"]: one.get("value") or "" for one in Sheet(told.text).all("input") if "value" in one}
    fields = {name: fields[name] for name in ("held", "name")}
    missing = bench.client.post("/records/take-in/again", data=fields | {"reason": " "})
    assert missing.status_code == 422
    assert breaches(missing.text) == []
    assert "Write why they were edited." in missing.text
    assert bench.records.lines(number) == before
    done = bench.client.post("/records/take-in/again", data=fields | {"reason": "read from paper"})
    assert done.status_code == 200, done.text
    (new,) = bench.records.lines(number, len(before))
    assert (new.reason, new.by) == ("read from paper", "Ann")
    for wrong in ({"held": "x"}, {"name": "../x"}):
        gone = bench.client.post("/records/take-in/again", data=fields | {"reason": "r"} | wrong)
        assert gone.status_code == 422
        assert "Send the folder again" in gone.text


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ([("../study.toml", b"x"), ("notes.txt", b"")], "study.toml"),
        ([("s.zip", zipped({"../study.toml": b"question = '?'"}))], "leads elsewhere"),
        ([("s.zip", zipped({"/etc/study.toml": b"question = '?'"}))], "leads elsewhere"),
        ([("s.zip", zipped({"study.toml": b"\0" * 20_000_000}))], "20000000 bytes"),
        ([("s.zip", b"PK\x03\x04" + os.urandom(500))], "no zip file"),
        ([("photo.jpg", os.urandom(500))], "no study and no cable among them"),
        ([("s.zip", zipped({"cards.json": b"{}", "settings.json": b"{}"}))], "A whole export"),
        ([("study.toml", b"question = ")], "study.toml"),
        ([("study.toml", os.urandom(500))], "study.toml"),
    ],
)
def test_what_is_refused_writes_nothing(files: list[tuple[str, bytes]], said: str, bench: Kept) -> None:
    refused = bench.client.post("/records/take-in", files=sent(*files))
    assert refused.status_code == 422
    assert breaches(refused.text) == []
    assert said in refused.text
    assert bench.records.count() == 0
    aside = bench.client.app.state.aside  # type: ignore[attr-defined]
    root = aside._root
    assert not list(root.iterdir())
    aside.close()
    assert not root.exists()


def test_nothing_sent(bench: Kept) -> None:
    refused = bench.client.post("/records/take-in", data={"x": "y"})
    assert refused.status_code == 422
    assert "Choose them" in refused.text


def test_a_study_leaves_with_its_whole_log_and_comes_in_elsewhere(bench: Kept, tmp_path: Path) -> None:
    records, study = full_records()
    bench.client.app.state.shop = wiring.shop(records)  # type: ignore[attr-defined]
    folder = bench.client.get(f"/studies/{study}/folder.zip")
    files = unzipped(folder.content)
    assert f"study-{study}/record.json" in files
    assert {f"study-{study}/{name}": data for name, data in files_of(records, study).items()} == files
    other = in_memory(tmp_path)
    told = other.client.post("/records/take-in", files=sent(("study.zip", folder.content)))
    assert told.status_code == 200, told.text
    number = next(card.number for card in other.records.cards("study"))
    assert [x.key for x in other.records.lines(number)] == [x.key for x in records.lines(study)]


def test_only_the_last_sendings_are_held() -> None:
    aside = Aside()
    words = [aside.hold(Sending(folder, {})) for folder in [aside.folder() for _ in range(MOST + 2)]]
    assert [aside.held(word) is None for word in words] == [True, True, *[False] * MOST]
    last = aside.held(words[-1])
    assert last is not None
    assert last.root.stat().st_mode & 0o077 == 0
    aside.close()
    assert not last.root.exists()


def test_which_zone_is_assumed_is_said_where_times_state_none(bench: Kept, hall: dict[str, bytes]) -> None:
    rows = hall["readings.csv"].decode("utf-8-sig").splitlines()
    timed = [f"time,{rows[0]}", *(f"2026-03-01 10:{i:02d},{row}" for i, row in enumerate(rows[1:]))]
    zoned = [f"time,{rows[0]}", *(f"2026-03-01 10:{i:02d}+01:00,{row}" for i, row in enumerate(rows[1:]))]
    said = "The times in its file state no zone. They are taken for the shop&#39;s own time"
    for number, (lines, told) in enumerate(((timed, True), (zoned, False), (rows, False)), start=1):
        files = (
            (f"{number}/study.toml", hall["study.toml"]),
            (f"{number}/readings.csv", "\n".join(lines).encode()),
        )
        page = bench.client.post("/records/take-in", files=sent(*files)).text
        assert f'<a href="/studies/{number}">' in page
        readings = bench.client.get(f"/studies/{number}/readings").text
        assert [said in page, said in readings] == [told, told]
        assert ("<td>2026-03-01 10:00, kept at" in readings) is told
