"""What would 3 mΩ, 50 mΩ, 2 Ω do in this circuit? The command ``meaning``, as a user meets it."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import struct
import subprocess
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pypdf
import pytest
from tests.journeys.test_command_line import Captured, everything

import ohmsworth as ow
from ohmsworth.adapters.render.picture_files import file_name
from ohmsworth.cli.app import OK, run
from ohmsworth.consequence import USE_KINDS
from ohmsworth.report.document import ShareFigure
from ohmsworth.report.meaning import FORMAT
from ohmsworth.work.meaning import NEEDS_A_FILE

ROOT = Path(__file__).parents[2]
#: What is asked about when no kind is named.
EVERY = [kind for kind in USE_KINDS if kind != NEEDS_A_FILE]
PDF_TO_PICTURES = shutil.which("pdftoppm")
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
OWN_CABLE = '[[cable]]\nname = "our pair"\nfamily = "pair"\nconductor = "0.30 mm²"\ncore_core = "60 pF/m"\n'
OWN_CABLE += 'core_screen = "120 pF/m"\ninductance = "0.6 µH/m"\n'
CIRCUITS = """
[[use]]
kind = "balanced line"
name = "stage to console"
cable = "our pair"
length = "60 m"

[[use]]
kind = "headphone"
"""


def told(out: Captured) -> str:
    """What was printed, blanks as one."""
    return " ".join(out.readouterr().out.replace("|", " ").split())


def data_of(out: Captured, *arguments: str) -> dict[str, Any]:
    assert run(["meaning", *arguments, "--json"]) == OK, out.readouterr().err
    found: dict[str, Any] = json.loads(out.readouterr().out)
    return found


@pytest.fixture
def file(tmp_path: Path) -> Path:
    (tmp_path / "circuits.toml").write_text(CIRCUITS, "utf-8")
    (tmp_path / "cables.toml").write_text(OWN_CABLE, "utf-8")
    return tmp_path / "circuits.toml"


# ------------------------------------------------------------ in words


def test_without_anything_it_tells_every_threshold(capsys: Captured) -> None:
    assert run(["meaning"]) == OK
    words = told(capsys)
    assert f"The first threshold in {len(EVERY) - 1} uses lies at" in words
    for kind in EVERY:
        assert f" {kind} " in words
    assert "asked about" not in words


@pytest.mark.parametrize(
    "typed", [["3mohm", "50 mohm", "2 Ω"], ["3", "mohm", "50mohm", "2", "ohm"], ["3 mΩ", "0,05Ω", "2e0 ohm"]]
)
def test_resistances_as_people_type_them(typed: list[str], capsys: Captured) -> None:
    found = data_of(capsys, *typed)
    assert [one["name"] for one in found["asked"]] == ["3 mΩ", "50 mΩ", "2 Ω"]
    assert [one["resistance"] for one in found["asked"]] == pytest.approx([3e-3, 50e-3, 2.0], rel=1e-12)
    assert len(found["uses"]) == len(EVERY)


def test_the_same_asked_twice_is_asked_once(capsys: Captured) -> None:
    found = data_of(capsys, "3mohm", "0.003 Ω", "3.00000001 mΩ", "--use", "headphone", "--use", "headphone")
    assert [one["name"] for one in found["asked"]] == ["3 mΩ"]
    assert [use["name"] for use in found["uses"]] == ["headphone"]


def test_one_circuit_is_told_whole(capsys: Captured) -> None:
    assert run(["meaning", "3mohm", "5ohm", "--use", "balanced line", "--set", "length=50 m"]) == OK
    words = told(capsys)
    assert "Balanced line: 3 mΩ reaches no threshold; 5 Ω is past where" in words
    for heading in ("what the contacts do", "when it would matter", "Next comes", "why there"):
        assert heading in words
    assert "In brackets" not in words  # there are none
    assert "contacts that scatter" not in words


def test_two_circuits_are_told_with_their_names(file: Path, capsys: Captured) -> None:
    assert run(["meaning", "500mohm", "--circuits", str(file)]) == OK
    words = told(capsys)
    assert "500 mΩ matters in 1 of 2 uses (headphone)" in words
    assert "stage to console: what the contacts do" in words
    assert "headphone: what the contacts do" in words


def test_what_a_circuit_does_not_meet_by_itself_is_no_fault_of_contacts(capsys: Captured) -> None:
    arguments = ["--use", "phantom microphone", "--set", "phantom=P12", "--set", "current=15 mA"]
    assert run(["meaning", "1ohm", *arguments]) == OK
    words = told(capsys)
    assert "Phantom microphone: the circuit itself does not meet 24.0 V of phantom voltage" in words
    assert words.count("no contact can mend that") == 1
    assert "1 Ω reaches no other threshold." in words
    found = data_of(capsys, "1ohm", *arguments)
    assert {one["by_itself"] for one in found["asked"][0]["reached"]} == {True}


def test_a_contact_that_is_all_but_open_warms_no_more(capsys: Captured) -> None:
    """Heat in one contact has a largest value: beyond it the contact takes the current away."""
    found = data_of(capsys, "200mohm", "10 kohm", "--use", "low-voltage feed")
    small, large = ({one["effect"] for one in asked["reached"]} for asked in found["asked"])
    assert "contact_heat" in small
    assert "contact_heat" not in large
    assert "load_volts" in large


def test_six_resistances_all_stand_there(capsys: Captured) -> None:
    asked = ["1mohm", "10mohm", "100mohm", "1ohm", "10ohm", "100ohm"]
    assert run(["meaning", *asked, "--use", "headphone"]) == OK
    headers = [line for line in capsys.readouterr().out.splitlines() if line.startswith("effect ")]
    assert [re.findall("[0-9]+ m?Ω", line) for line in headers] == [
        ["1 mΩ", "10 mΩ", "100 mΩ"],
        ["1 Ω", "10 Ω", "100 Ω"],
    ]


def test_what_a_smaller_resistance_is_past_is_told_once(capsys: Captured) -> None:
    found = data_of(capsys, "6 ohm", "5 ohm", "20ohm", "--use", "balanced line")
    assert [finding.partition(":")[0] for finding in found["findings"]] == [
        "5 Ω is past this", "6 Ω is past the same.", "20 Ω is past this too", "Next comes 58 Ω",
    ]  # fmt: skip
    assert found["findings"][2].startswith(
        "20 Ω is past this too: buzz rejection at 10 kHz falls to 50 dB, from 9.8 Ω"
    )


# ------------------------------------------------------------ circuits from files


def test_circuits_of_a_file_with_a_cable_of_the_shop(file: Path, capsys: Captured) -> None:
    found = data_of(capsys, "1ohm", "--circuits", str(file))
    first, second = found["uses"]
    assert (first["name"], second["name"]) == ("stage to console", "headphone")
    assert first["settings"]["core_core"] == pytest.approx(60e-12)
    assert first["settings"]["length"] == 60.0
    by_library = ow.make_use("balanced line", "", {"length": 60.0})
    assert first["settings"]["conductor"] != by_library.settings["conductor"]


def test_a_studys_folder_gives_its_circuits_and_stays_as_it_is(tmp_path: Path, capsys: Captured) -> None:
    assert run(["new", str(tmp_path / "study")]) == OK
    (tmp_path / "study/cables.toml").write_text(OWN_CABLE, "utf-8")
    text = (tmp_path / "study/study.toml").read_text("utf-8")
    text = text.replace('kind = "dynamic microphone"', 'kind = "dynamic microphone"\ncable = "our pair"')
    (tmp_path / "study/study.toml").write_text(text, "utf-8")
    before = everything(tmp_path)
    capsys.readouterr()
    found = data_of(capsys, "10ohm", "--circuits", str(tmp_path / "study"))
    assert [use["kind"] for use in found["uses"]] == ["dynamic microphone"]
    assert found["uses"][0]["settings"]["core_core"] == pytest.approx(60e-12)
    assert everything(tmp_path) == before


def test_a_cable_of_the_shop_where_one_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    (tmp_path / "cables.toml").write_text(OWN_CABLE, "utf-8")
    monkeypatch.chdir(tmp_path)
    found = data_of(capsys, "--use", "balanced line", "--set", "cable=our pair", "--set", "name=FOH")
    assert found["uses"][0]["settings"]["core_core"] == pytest.approx(60e-12)
    assert found["uses"][0]["name"] == "FOH"
    # A list that nothing asks for is not in the way.
    (tmp_path / "cables.toml").write_text("[[cable", "utf-8")
    assert run(["meaning", "--use", "balanced line", "--set", "length=5 m"]) == OK


def test_two_circuits_of_one_kind_have_names_of_their_own(tmp_path: Path, capsys: Captured) -> None:
    text = '[[use]]\nkind = "balanced line"\n' * 2 + 'length = "200 m"\n'
    (tmp_path / "two.toml").write_text(text, "utf-8")
    found = data_of(capsys, "50ohm", "--circuits", str(tmp_path / "two.toml"))
    assert [use["name"] for use in found["uses"]] == ["balanced line", "balanced line 2"]
    assert found["sentence"].startswith("50 Ω matters in all 2 uses")


# ------------------------------------------------------------ for programs


@pytest.mark.parametrize(
    "arguments",
    [[], ["3mohm", "2ohm"], ["1ohm", "--use", "headphone", "--spread", "30 %"], ["--use", "mains feed"]],
)
def test_the_json_meets_its_schema(arguments: list[str], capsys: Captured) -> None:
    found = data_of(capsys, *arguments)
    schema = json.loads((ROOT / "src/ohmsworth/report/meaning.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(found)
    assert found["format"] == FORMAT
    assert run(["schema", "meaning"]) == OK
    assert json.loads(capsys.readouterr().out) == schema


def test_the_numbers_are_those_of_the_library(capsys: Captured) -> None:
    found = data_of(capsys, "3mohm", "5ohm", "--use", "balanced line", "--set", "length=50 m")
    use = ow.make_use("balanced line", "", {"length": 50.0})
    for name, ohm in (("3 mΩ", 3e-3), ("5 Ω", 5.0)):
        told_of = [e for e in found["uses"][0]["effects"] if e["condition"] == name]
        by_library = ow.effects(use, ohm)
        assert [e["value"] for e in told_of] == pytest.approx([float(e.value) for e in by_library], rel=1e-12)
        assert [e["ideal"] for e in told_of] == pytest.approx([e.ideal for e in by_library], rel=1e-12)
    at = [t["resistance"] for t in found["uses"][0]["thresholds"]]
    assert at == pytest.approx([t.resistance for t in ow.thresholds(use)], rel=1e-9)


def test_contacts_that_scatter_give_bands(capsys: Captured) -> None:
    alike = data_of(capsys, "5ohm", "--use", "balanced line")
    found = data_of(capsys, "5ohm", "--use", "balanced line", "--spread", "30 %")
    assert (alike["spread"], found["spread"]) == (None, 0.3)
    for plain, banded in zip(alike["uses"][0]["curves"][:2], found["uses"][0]["curves"][:2], strict=True):
        assert plain["bands"][0]["low"] is None
        low, middle, high = (np.array(banded["bands"][0][key]) for key in ("low", "value", "high"))
        assert np.all(low <= middle)
        assert np.all(middle <= high)
        assert np.any(high - low > 0.01)
        assert plain["ideal"] == banded["ideal"]
    assert run(["meaning", "5ohm", "--use", "balanced line", "--spread", "30 %"]) == OK
    words = told(capsys)
    assert "95 % of sets of contacts that scatter by 30 % about each resistance" in words
    assert "balanced line: contacts that scatter" in words


# ------------------------------------------------------------ pages and pictures


def ink(pdf: Path) -> list[float]:
    """The share of each page that is not paper."""
    run_ = subprocess.run(
        [str(PDF_TO_PICTURES), "-r", "40", "-gray", str(pdf)], capture_output=True, check=True
    )
    data, shares = run_.stdout, []
    while data:
        header = re.match(rb"P5\s(\d+)\s(\d+)\s255\s", data)
        assert header
        size = int(header[1]) * int(header[2])
        page = np.frombuffer(data, np.uint8, size, header.end())
        shares.append(float(np.mean(page < 200)))
        data = data[header.end() + size :]
    return shares


def test_the_report_as_a_page_and_as_a_pdf(tmp_path: Path, capsys: Captured) -> None:
    html, pdf = tmp_path / "m.html", tmp_path / "m.pdf"
    arguments = ["3mohm", "2ohm", "--use", "balanced line", "--use", "mains feed", "--spread", "20 %"]
    assert run(["meaning", *arguments, "--html", str(html), "--pdf", str(pdf)]) == OK
    assert f"Written: {html}" in capsys.readouterr().out
    page = html.read_text("utf-8")
    text = " ".join("".join(p.extract_text() for p in pypdf.PdfReader(pdf).pages).split())
    for words in (
        "What a milliohm is worth",
        "Mains voltage kills",
        "gives no permission",
        "length of the cable",
    ):
        assert words.lower() in page.lower()
        assert words.lower() in text.lower()
    assert page.count("<svg") >= 2
    assert not re.search(r'(?:src|href)="(?!data:|#)', page)


@pytest.mark.skipif(PDF_TO_PICTURES is None, reason="nothing turns a PDF into pictures here")
def test_no_page_is_empty(tmp_path: Path) -> None:
    pdf = tmp_path / "m.pdf"
    assert run(["meaning", "3mohm", "2ohm", "--pdf", str(pdf)]) == OK
    shares = ink(pdf)
    assert len(shares) == len(pypdf.PdfReader(pdf).pages) > len(EVERY)
    assert min(shares) > 0.003
    assert shares[0] > 0.02


@pytest.mark.browser
@pytest.mark.skipif(BROWSER is None or PDF_TO_PICTURES is None, reason="no browser")
def test_the_web_page_is_printed_whole(tmp_path: Path) -> None:
    html, pdf = tmp_path / "m.html", tmp_path / "m.pdf"
    assert run(["meaning", "5ohm", "--use", "balanced line", "--spread", "30 %", "--html", str(html)]) == OK
    flags = ("--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}")
    command = [str(BROWSER), *flags, f"--print-to-pdf={pdf}", html.as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=100)
    shares = ink(pdf)
    assert min(shares) > 0.003
    assert shares[0] > 0.02


def test_every_figure_is_a_drawing_a_picture_and_numbers(tmp_path: Path, capsys: Captured) -> None:
    folder = tmp_path / "pictures"
    arguments = ["300mohm", "30ohm", "--use", "headphone", "--use", "video", "--spread", "30 %"]
    assert run(["meaning", *arguments, "--pictures", str(folder), "--json"]) == OK
    found = json.loads(capsys.readouterr().out)
    names = {path.name for path in folder.iterdir()}
    curves = {
        file_name(ShareFigure(f"{use['name']} {curve['words']}", "", "", (), ())): curve
        for use in found["uses"]
        for curve in use["curves"]
    }
    assert len(curves) == 6
    assert names == {f"{name}.{kind}" for name in ("ladder", *curves) for kind in ("svg", "png", "csv")}
    for name, curve in curves.items():
        rows = list(csv.reader(io.StringIO((folder / f"{name}.csv").read_text("utf-8-sig"))))
        assert rows[0][:2] == ["kind", "label"]
        assert rows[0][2] == "frequency [Hz]"
        lines = {row[1]: [r for r in rows[1:] if r[1] == row[1]] for row in rows[1:]}
        expected = {"ideal contacts": (curve["ideal"], None, None)}
        expected |= {band["condition"]: (band["value"], band["low"], band["high"]) for band in curve["bands"]}
        assert set(lines) == set(expected)
        for label, columns in expected.items():
            assert [float(row[2]) for row in lines[label]] == curve["frequency"]
            for place, column in zip((3, 4, 5), columns, strict=True):
                cells = [row[place] for row in lines[label]]
                assert (
                    cells == [""] * len(cells)
                    if column is None
                    else [float(cell) for cell in cells] == column
                )
        assert (folder / f"{name}.svg").read_text("utf-8").startswith("<svg")
        picture = (folder / f"{name}.png").read_bytes()
        assert picture.startswith(b"\x89PNG")
        assert min(struct.unpack(">II", picture[16:24])) > 300
    ladder = list(csv.DictReader(io.StringIO((folder / "ladder.csv").read_text("utf-8-sig"))))
    marked = {float(row["value [Ω]"]) for row in ladder if row["kind"] == "threshold"}
    assert marked == {t["resistance"] for use in found["uses"] for t in use["thresholds"] if t["resistance"]}
    assert [float(row["value [Ω]"]) for row in ladder if row["kind"] == "contact"] == [0.3, 30.0]


def test_what_was_written_before_is_written_again(tmp_path: Path) -> None:
    folder = tmp_path / "pictures"
    command = ["meaning", "5ohm", "--use", "headphone", "--pictures", str(folder)]
    assert run(command) == OK
    before = everything(folder)
    assert run(command) == OK
    assert everything(folder) == before
