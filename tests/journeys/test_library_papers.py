"""What other programs are told of papers and of the shop's records is what the commands print."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import pytest
from tests.lots_made import LOT, sample
from tests.papers_made import CABLE, CORRECTED, RIGHT, WRONG
from tests.unit.work.builds.built import TOML
from tests.web.aged import two_platings
from tests.web.kept import in_file

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import open_cable

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
LOCK = "OHMSWORTH_KEY_PASSPHRASE"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a cable that is right, a lot that is accepted, and a key."""
    monkeypatch.delenv(LOCK, raising=False)
    cable_in(tmp_path / "cable", CABLE, RIGHT)
    (tmp_path / "lot").mkdir()
    (tmp_path / "lot/study.toml").write_text(LOT, "utf-8")
    (tmp_path / "lot/readings.csv").write_text(sample(), "utf-8")
    assert ow.make_key(tmp_path / "shop.key") == (tmp_path / "shop.key", tmp_path / "shop.key.pub")
    return tmp_path


def cable_in(folder: Path, description: str, readings: str) -> None:
    folder.mkdir(exist_ok=True)
    (folder / "cable.toml").write_text(description, "utf-8")
    (folder / "test.csv").write_text(readings, "utf-8")


def printed(capsys: Captured, *arguments: object, code: int = 0) -> Any:
    """What a command prints as JSON."""
    capsys.readouterr()
    assert run([*map(str, arguments), "--json"]) == code
    return json.loads(capsys.readouterr().out)


def without_times(data: dict[str, Any]) -> dict[str, Any]:
    """A paper without what depends on the moment of its issue."""
    return {key: data[key] for key in data if key not in ("issued", "digest", "signature")}


@pytest.mark.parametrize(("of", "kind"), [("cable", ow.Certificate), ("lot", ow.LotCertificate)])
def test_a_paper_says_what_the_commands_paper_says(
    place: Path, capsys: Captured, of: str, kind: type
) -> None:
    made = ow.certify(place / of, place / "shop.key")
    assert isinstance(made.certificate, kind)
    (file,) = made.written
    assert file == place / of / f"certificate-{made.certificate.number}.json"
    assert file.read_bytes() == made.content
    assert json.loads(made.content) == made.data == ow.as_json(made.certificate)
    file.unlink()
    again = printed(capsys, "certify", place / of, "--key", place / "shop.key")
    assert without_times(again) == without_times(made.data)
    public = place / "shop.key.pub"
    answer = ow.verify(file, public, folder=place / of)
    told = printed(capsys, "verify", file, "--key", public, "--folder", place / of)
    assert ow.as_json(answer) == told
    assert answer.fits
    assert [check.name for check in answer.checks] == ["whole", "signature", "results", "folder"]


def test_pages_and_a_label_are_those_of_the_command(place: Path) -> None:
    made = ow.certify(
        place / "cable", place / "shop.key", html=place / "a.html", pdf=place / "a.pdf", label=place / "a.svg"
    )
    assert [path.name for path in made.written] == ["certificate-2026-014.json", "a.html", "a.pdf", "a.svg"]
    more = ["--html", "b.html", "--pdf", "b.pdf", "--label", "b.svg"]
    asked = [str(place / one) if one.startswith("b.") else one for one in more]
    assert run(["papers", str(made.written[0]), *asked]) == 0
    again = ow.papers(place / "a.pdf", html=place / "c.html", pdf=place / "c.pdf", label=place / "c.svg")
    assert [path.name for path in again.written] == ["c.html", "c.pdf", "c.svg"]
    for ending in ("html", "pdf", "svg"):
        assert len({(place / f"{name}.{ending}").read_bytes() for name in "abc"}) == 1
    wide = ow.papers(made.written[0], label=place / "wide.svg", label_size="90x30")
    assert (place / "wide.svg").read_bytes() != (place / "a.svg").read_bytes()
    assert wide.written == (place / "wide.svg",)


def test_of_a_changed_reading_it_says_what_the_command_says(place: Path, capsys: Captured) -> None:
    (file,) = ow.certify(place / "cable", place / "shop.key").written
    file.write_text(file.read_text("utf-8").replace("A:1,B:1,0.790", "A:1,B:1,0.730"), "utf-8")
    answer = ow.verify(file)
    assert not answer.fits
    assert answer.signer == "not known"
    assert ow.as_json(answer) == printed(capsys, "verify", file, code=1)


def test_a_correction_and_a_test_report(place: Path) -> None:
    first = ow.certify(place / "cable", place / "shop.key")
    cable_in(place / "cable", CORRECTED, WRONG)
    second = ow.certify(place / "cable", place / "shop.key").certificate
    assert second.kind == "test report"
    assert (second.supersedes.number, second.supersedes.digest) == ("2026-014", first.certificate.digest)


def test_nothing_is_replaced_and_nothing_half_written(place: Path) -> None:
    (place / "a.pdf").write_bytes(b"mine")
    with pytest.raises(ow.OutputFault, match="never replaced"):
        ow.certify(place / "cable", place / "shop.key", pdf=place / "a.pdf")
    assert not list((place / "cable").glob("certificate*"))
    assert (place / "a.pdf").read_bytes() == b"mine"
    ow.certify(place / "cable", place / "shop.key")
    with pytest.raises(ow.OutputFault, match="a corrected certificate has a new number"):
        ow.certify(place / "cable", place / "shop.key")
    with pytest.raises(ow.OutputFault):
        ow.make_key(place / "shop.key")


def test_every_fault_is_told_by_the_name_of_its_argument(place: Path) -> None:
    with pytest.raises(ow.InputRefused) as refused:
        ow.certify(place / "cable", place / "shop.key", label=place / "label.doc", label_size="60")
    assert [fault.where for fault in refused.value.faults] == [f"label '{place / 'label.doc'}'", "label_size"]
    with pytest.raises(ow.InputRefused) as refused:
        ow.papers(ow.certify(place / "cable", place / "shop.key").written[0])
    assert refused.value.faults[0].found == "nothing"
    with pytest.raises(ow.InputRefused) as refused:
        ow.verify(place / "cable/certificate-2026-014.json", records=place / "none.records")
    assert refused.value.faults[0].where == "records"
    assert not (place / "none.records").exists()


def test_a_key_that_is_locked(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    private, public = ow.make_key(place / "locked.key", "open says me")
    with pytest.raises(ow.InputRefused) as refused:
        ow.certify(place / "cable", private)
    assert LOCK in refused.value.faults[0].mend
    with pytest.raises(ow.InputRefused):
        ow.certify(place / "cable", private, passphrase="another")
    monkeypatch.setenv(LOCK, "open says me")
    made = ow.certify(place / "lot", private)
    monkeypatch.setenv(LOCK, "another")
    ow.certify(place / "cable", private, passphrase="open says me")
    assert ow.verify(made.written[0], public).signer == "known"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Records with four contacts of gold and four of silver, each read in five years, and a cable."""
    path = tmp_path_factory.mktemp("aged") / "shop.records"
    with in_file(path) as kept:
        two_platings(kept)
        open_cable(CableDesk(kept.shop), TOML, "Ada", "c")
    return path


def test_ageing_is_what_the_command_prints(
    shop: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = printed(capsys, "known", "--by", "plating", "--records", shop)
    assert ow.as_json(ow.ageing(shop, by="plating")) == told
    assert told["levels"][0]["per_year"] is not None
    only = ["--only", "plating=gold", "--only", "part=Socket 3"]
    told = printed(capsys, "known", "--by", "lot", *only, "--records", shop)
    monkeypatch.setenv("OHMSWORTH_RECORDS", str(shop))
    found = ow.ageing(by="supplier lot", only={"plating": "gold", "part": "Socket 3"})
    assert ow.as_json(found) == told
    assert [one.specimens for one in found.levels] == [2, 2]


def test_what_ageing_cannot_tell_is_refused_at_once(shop: Path, tmp_path: Path) -> None:
    with pytest.raises(ow.InputRefused) as refused:
        ow.ageing(shop, by="platting", only={"colour": "red"})
    by, only = refused.value.faults
    assert (by.where, by.mend) == ("by", "Did you mean 'plating'?")
    assert (only.where, only.found) == ("only", "'colour=red'")
    assert "--only" not in only.mend
    with pytest.raises(ow.InputRefused, match="gould"):
        ow.ageing(shop, by="part", only={"plating": "gould"})
    with pytest.raises(ow.InputRefused, match="records that are there"):
        ow.ageing(tmp_path / "none.records", by="part")
    assert not (tmp_path / "none.records").exists()


@pytest.mark.parametrize(("serial", "schema"), [("G1", "service-card"), ("no. 12", "service-card-cable")])
def test_a_service_card_is_what_the_command_prints(
    shop: Path, capsys: Captured, serial: str, schema: str
) -> None:
    told = printed(capsys, "service-card", serial, "--records", shop)
    text = (ROOT / f"src/ohmsworth/report/{schema}.schema.json").read_text("utf-8")
    jsonschema.Draft202012Validator(json.loads(text)).validate(told)
    found = ow.service_card(serial, shop)
    assert ow.as_json(found) == told
    assert found.serial == serial
    assert found.format == json.loads(text)["properties"]["format"]["const"]


def test_the_service_card_tells_what_was_read_last(shop: Path) -> None:
    found = ow.service_card("G1", shop)
    assert isinstance(found, ow.SpecimenService)
    read = found.service.found
    assert read is not None
    assert (read.condition, read.day) == ("as found", "2025-03-01")
    # Planted: 4 and 7 mΩ at the beginning, which grow by 2.4 % a year for four years; the worst contact is told.
    assert read.resistance == pytest.approx(7e-3 * 1.0243**4, rel=0.03)
    with pytest.raises(ow.InputRefused, match="which none has"):
        ow.service_card("G9", shop)
    with pytest.raises(ow.InputRefused, match="one of G1"):
        ow.service_card("G1", shop, air="mild")


def test_a_paper_is_held_against_the_records(place: Path, capsys: Captured, tmp_path: Path) -> None:
    (file,) = ow.certify(place / "cable", place / "shop.key").written
    address = str(tmp_path / "shop.records")
    with wiring.open_records(address):
        pass
    found = ow.verify(file, records=address)
    assert ow.as_json(found) == printed(capsys, "verify", file, "--records", address)
    assert {check.name: check.result for check in found.checks}["records"] == "not checked"
    assert run(["records", "import", str(place / "cable"), "--records", address]) == 0
    found = ow.verify(file, records=address)
    assert {check.name: check.result for check in found.checks}["records"] == "holds"
