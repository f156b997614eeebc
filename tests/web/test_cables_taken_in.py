"""A cable's folder with its papers, out of the records of one bench and into those of another."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.unit.work.builds.built import TOML, BuiltShop
from tests.web.kept import sent, unzipped, zipped
from tests.web.policy import breaches
from tests.web.test_cable_papers import HERE, issue, key, page, send, served

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.work.records import Records


@dataclass
class Bench:
    """A browser before a bench, and its records."""

    client: TestClient
    records: Records
    place: Path

    def take_in(self, *files: tuple[str, bytes], status: int = 200) -> str:
        """Send files on the page of the records."""
        told = self.client.post("/records/take-in", files=sent(*files))
        assert told.status_code == status, told.text
        assert breaches(told.text) == []
        return told.text

    def folder(self, cable: int = 1) -> dict[str, bytes]:
        """The files of an exported cable by their names."""
        files = unzipped(self.client.get(f"/cables/{cable}/folder.zip").content)
        return {name.removeprefix(f"cable-{cable}/"): data for name, data in files.items()}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Callable[[str], Bench]]:
    """Return what opens a bench with records of its own."""
    with ExitStack() as stack:

        def opened(name: str) -> Bench:
            place = tmp_path / name / "shop.records"
            place.parent.mkdir()
            records = stack.enter_context(wiring.open_records(str(place)))
            client = stack.enter_context(served(records, place))
            client.cookies.set("who", "Ada")
            return Bench(client, records, place)

        yield opened


@pytest.fixture
def issued(bench: Callable[[str], Bench]) -> Bench:
    """Return a bench with a cable that has a paper, a row read once more with the same figure, and a correction."""
    one = bench("one")
    built = BuiltShop(shop=wiring.shop(one.records))
    built.whole()
    built.row("A:1", "B:1", "0.850")
    key(one.client)
    issue(one.client, number="2026-001", customer="The Hall")
    built.row("A:1", "B:1", "0.851")
    issue(one.client, number="2026-002", supersedes="2026-001", reason="Wire 1 was read again.")
    return one


def test_a_cable_comes_back_with_its_papers_to_the_byte(issued: Bench, bench: Callable[[str], Bench]) -> None:
    files = issued.folder()
    assert {*files} == {
        "cable.toml",
        "test.csv",
        "certificate-2026-001.json",
        "certificate-2026-002.json",
    }
    other = bench("other")
    exported = issued.client.get("/cables/1/folder.zip").content
    told = other.take_in(("cable-1.zip", exported))
    assert '<a href="/cables/1">Cable 1</a>' in told
    assert "2 new papers" in told
    assert other.folder() == files
    text = page(other.client, HERE)
    assert "<strong>superseded</strong> by 2026-002" in text
    assert "no longer says" not in text
    assert "taken in" in text
    second, first = (json.loads(files[f"certificate-2026-00{n}.json"]) for n in (2, 1))
    assert f"issued {second['issued'][:10]}" in text
    public = (issued.place.parent / "shop.key.pub").read_bytes()
    told = send(other.client, "p.json", files["certificate-2026-002.json"], public=public)
    for words in ("signed with the key that you hold", "hold this very paper", "No later paper takes its"):
        assert words in told
    assert "the same description and the same readings" in told
    told = send(other.client, "p.json", files["certificate-2026-001.json"], public=public)
    assert "2026-002 takes its place. Why: Wire 1 was read again." in told
    assert first["digest"] == second["supersedes"]["digest"]
    # The page that is drawn from what came in is the one that was handed out.
    assert (
        other.client.get(f"{HERE}/{_line(other, '2026-001')}.pdf").content
        == issued.client.get(f"{HERE}/{_line(issued, '2026-001')}.pdf").content
    )


def _line(bench: Bench, number: str) -> int:
    return next(line.number for line in bench.records.lines(1) if line.fields.get("number") == number)


def test_it_comes_in_once(issued: Bench, bench: Callable[[str], Bench]) -> None:
    other, files = bench("other"), issued.folder()
    loose = [*files.items()]
    other.take_in(*loose)
    before = other.records.lines(1)
    told = other.take_in(*loose)
    assert "was here already: no new row." in told
    assert other.records.lines(1) == before
    # Where it was made at the bench, it is known by its papers or by its description.
    told = issued.take_in(*loose)
    assert "was here already: no new row." in told
    issued.take_in(("cable.toml", files["cable.toml"]))
    assert issued.records.count("cable") == 1
    # A later paper and a later row come in by themselves.
    sending = {"from": "A:2", "to": "B:2", "resistance": "0.852", "resistance_unit": "Ω", "key": "more"}
    assert issued.client.post("/cables/1", data=sending).status_code == 200
    issue(issued.client, number="2026-003", supersedes="2026-002", reason="Wire 2 too.")
    told = other.take_in(*issued.folder().items())
    assert "1 new row" in told
    assert "1 new paper" in told
    assert other.folder() == issued.folder()


def test_the_command_takes_them_in_too(
    issued: Bench, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out, back, place = tmp_path / "out", tmp_path / "back", tmp_path / "new.records"
    assert run(["records", "export", "1", str(out), "--records", str(issued.place)]) == 0
    assert run(["records", "import", str(out), "--records", str(place)]) == 0
    assert "8 new rows, 2 new papers." in capsys.readouterr().out
    paper = str(out / "certificate-2026-002.json")
    assert run(["verify", paper, "--folder", str(out), "--records", str(place)]) == 0
    assert run(["records", "export", "1", str(back), "--records", str(place)]) == 0
    names = sorted(one.name for one in out.iterdir())
    assert names == sorted(one.name for one in back.iterdir())
    for name in names:
        assert (out / name).read_bytes() == (back / name).read_bytes(), name


def test_papers_that_were_issued_from_a_folder_come_in(tmp_path: Path, bench: Callable[[str], Bench]) -> None:
    table = '\n[certificate]\nnumber = "2025-7"\nshop = "Old"\ntested_by = "X"\ndate = 2026-01-01\n'
    built = BuiltShop()
    built.whole()
    folder = tmp_path / "made by hand"
    folder.mkdir()
    (folder / "cable.toml").write_text(TOML + table, "utf-8")
    (folder / "test.csv").write_bytes(built.desk.teller.files(built.state)["test.csv"])
    assert run(["make-key", str(tmp_path / "k.key")]) == 0
    assert run(["certify", str(folder), "--key", str(tmp_path / "k.key")]) == 0
    other = bench("other")
    told = other.take_in(*((f"hall/{one.name}", one.read_bytes()) for one in folder.iterdir()))
    assert "1 new paper" in told
    assert "no longer says" not in page(other.client, HERE)
    held = str(folder / "certificate-2025-7.json")
    assert run(["verify", held, "--records", str(other.place), "--folder", str(folder)]) == 0


def test_a_paper_that_does_not_fit_keeps_the_whole_folder_out(
    issued: Bench, bench: Callable[[str], Bench]
) -> None:
    other, files = bench("other"), issued.folder()
    name = "certificate-2026-001.json"

    def refused(changed: dict[str, bytes]) -> str:
        told = other.take_in(("c.zip", zipped({f"c/{n}": data for n, data in changed.items()})), status=422)
        assert other.records.count() == 0
        return told

    assert "does not fit, and nothing in it counts" in refused(
        files | {name: files[name].replace(b"The Hall", b"The Barn")}
    )
    assert "text that is not JSON" in refused(files | {name: b"hello"})
    assert "a number that another file has" in refused(files | {"certificate-x.json": files[name]})
    told = refused(files | {"cable.toml": files["cable.toml"].replace(b"no. 12", b"no. 13")})
    assert told.count("a paper of serial") == 2
    both = refused(files | {name: b"hello", "cable.toml": b"name = 7"})
    assert "text that is not JSON" in both
    assert "cable.toml" in both


def test_a_paper_whose_serial_was_corrected_comes_in_with_its_successor(
    issued: Bench, bench: Callable[[str], Bench]
) -> None:
    toml = issued.folder()["cable.toml"].decode().replace("no. 12", "no. 21")
    seen = issued.records.lines(1)[-1].number
    sending = {"toml": toml, "reason": "the serial was read upside down", "seen": str(seen), "key": "d"}
    assert issued.client.post("/cables/1/description", data=sending).status_code == 303
    issue(issued.client, number="2026-003", supersedes="2026-002", reason="The serial.")
    other = bench("other")
    assert "3 new papers" in other.take_in(*issued.folder().items())
    assert other.folder() == issued.folder()


def test_a_number_of_another_cable_is_refused(issued: Bench, bench: Callable[[str], Bench]) -> None:
    other = bench("other")
    built = BuiltShop(shop=wiring.shop(other.records), toml=TOML.replace("line cable", "another"))
    built.whole()
    key(other.client)
    issue(other.client, number="2026-001")
    before = other.records.count("cable"), other.records.lines(1)
    told = other.take_in(*issued.folder().items(), status=422)
    assert "the number &#39;2026-001&#39;, which cable 1 has" in told
    assert (other.records.count("cable"), other.records.lines(1)) == before


def test_cables_and_studies_come_in_together(
    issued: Bench, bench: Callable[[str], Bench], tmp_path: Path
) -> None:
    wiring.write_new_study(tmp_path / "hall")
    study = {f"hall/{one.name}": one.read_bytes() for one in (tmp_path / "hall").iterdir()}
    cable = {f"line/{name}": data for name, data in issued.folder().items()}
    other = bench("other")
    told = other.take_in(("all.zip", zipped(study | cable | {"bad/cable.toml": b"name = 7"})), status=422)
    assert '<a href="/studies/1">Study 1</a>' in told
    assert ">Cable 2</a>" in told
    assert told.count("Refused") == 1
    with zipfile.ZipFile(io.BytesIO(other.client.get("/cables/2/folder.zip").content)) as packed:
        assert len(packed.namelist()) == 4
