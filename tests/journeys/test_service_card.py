"""`ohmsworth service-card`: by the serial on the piece, from the shop's records."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest
from tests.unit.work.builds.built import TOML

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import open_cable
from ohmsworth.work.cards.writing import open_card


@pytest.fixture
def records(tmp_path: Path) -> Path:
    """Return records with specimen S1, and a specimen and two cables that are called no. 12."""
    place = tmp_path / "shop.records"
    with wiring.open_records(str(place)) as found:
        shop = wiring.shop(found)
        open_card(shop, "specimen", {"serial": "S1", "what": "stage plug"}, "Ada", "a")
        open_card(shop, "specimen", {"serial": "No. 12"}, "Ada", "b")
        desk = CableDesk(shop)
        open_cable(desk, TOML, "Ada", "c")
        open_cable(desk, TOML.replace("no. 12", "no. 13"), "Ada", "d")
        open_cable(desk, TOML.replace('serial = "no. 12"', 'serial = "no. 120"'), "Ada", "e")
    return place


def test_a_specimen_is_found_by_its_serial(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pdf, html = tmp_path / "card.pdf", tmp_path / "card.html"
    asked = ["service-card", "s1", "--records", str(records), "--pdf", str(pdf), "--html", str(html)]
    assert run(asked) == 0
    told = capsys.readouterr().out
    assert "Service card: S1 – stage plug" in told
    assert "It was not measured before" in told
    assert f"Written: {pdf}" in told
    assert len(pypdf.PdfReader(io.BytesIO(pdf.read_bytes())).pages) == 1
    assert "Service card: S1" in html.read_text("utf-8")


def test_a_cable_is_found_by_its_serial(records: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["service-card", "no. 13", "--records", str(records)]) == 0
    assert "Service card: line cable no. 13" in capsys.readouterr().out


def test_of_several_with_one_serial_the_card_is_named(
    records: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["service-card", "no. 12", "--records", str(records)]) == 2
    told = capsys.readouterr().err
    assert "which 2 have" in told
    assert "card 2, a specimen" in told
    assert "card 3, a cable" in told
    assert run(["service-card", "no. 12", "--card", "3", "--records", str(records)]) == 0
    assert "Service card: line cable no. 12" in capsys.readouterr().out
    assert run(["service-card", "no. 12", "--card", "4", "--records", str(records)]) == 2
    assert "does not have the serial" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["S9"], "which none has"),
        ([""], "which none has"),
        (["no. 13", "--air", "G2"], "the air of a specimen"),
        (["S1", "--air", "mild"], "one of G1, G2, G3, GX"),
    ],
)
def test_what_cannot_be_told_is_refused_and_nothing_written(
    records: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], asked: list[str], told: str
) -> None:
    pdf = tmp_path / "card.pdf"
    assert run(["service-card", *asked, "--records", str(records), "--pdf", str(pdf)]) == 2
    assert told in capsys.readouterr().err
    assert not pdf.exists()


def test_records_that_are_not_there_are_not_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    place = tmp_path / "none.records"
    assert run(["service-card", "S1", "--records", str(place)]) == 2
    assert "records that are there" in capsys.readouterr().err
    assert not place.exists()
