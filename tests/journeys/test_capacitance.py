"""From a new folder to the capacitance of a wire from both ends, and to the break in its cable."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest
import soundfile
from tests.journeys.test_command_line import Captured

from ohmsworth import wiring
from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.adapters.simulated.broken_wire import (
    BREAK,
    INTERFACE,
    LENGTH,
    PER_METRE,
    TrueBench,
    open_wire,
    wire_take,
)
from ohmsworth.adapters.simulated.sound import Interface, TrueContact
from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run

ROOT = Path(__file__).parents[2]
NEAR = PER_METRE * BREAK


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration's folder: a wire that is broken 13.4 m from the stage, 6.6 m from the desk."""
    folder = tmp_path_factory.mktemp("capacitance") / "wire"
    wiring.write_demo_capacitance(folder)
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "wire"))


def record(folder: Path, stem: str, wire: TrueContact | None, seed: int = 3, **others: object) -> None:
    """A take in the place of the one that is there."""
    plan, _ = read_plan_json(folder / "plan.json")
    assert plan is not None
    bench = others.pop("bench", TrueBench())
    write_recording(folder / f"{stem}.flac", wire_take(plan, bench, wire, seed, **others))  # type: ignore[arg-type]


def told(folder: Path, capsys: Captured) -> dict:  # type: ignore[type-arg]
    assert run(["capacitance", str(folder), "--json"]) == OK
    answer = json.loads(capsys.readouterr().out)
    schema = json.loads((ROOT / "src/ohmsworth/report/capacitance.schema.json").read_text("utf-8"))
    jsonschema.validate(answer, schema)
    return dict(answer)


def said(capsys: Captured) -> str:
    """Everything that was printed, in one line."""
    captured = capsys.readouterr()
    return " ".join(f"{captured.out} {captured.err}".replace("\n|", "").split())


def refused(folder: Path, capsys: Captured) -> str:
    capsys.readouterr()
    assert run(["capacitance", str(folder)]) == REFUSED
    return said(capsys)


def drop(folder: Path, *stems: str) -> None:
    """Take recordings away: a command reads every one that is there."""
    for stem in stems:
        (folder / f"{stem}.flac").unlink()


def change(folder: Path, old: str, new: str) -> None:
    text = (folder / "capacitance.toml").read_text("utf-8")
    assert old in text
    (folder / "capacitance.toml").write_text(text.replace(old, new), "utf-8")


def test_a_new_folder_holds_all_that_is_needed(tmp_path: Path, capsys: Captured) -> None:
    folder = tmp_path / "new"
    assert run(["capacitance", str(folder)]) == OK
    printed = said(capsys)
    assert "record both.wav, open.wav, near.wav, far.wav and open-again.wav" in printed
    assert "Unplug the cable at both ends" in printed
    assert "Phantom power of both inputs off" in printed
    names = ["capacitance.toml", "drive.wav", "plan.json", "wiring.html", "wiring.pdf"]
    assert sorted(path.name for path in folder.iterdir()) == names
    plan, _ = read_plan_json(folder / "plan.json")
    assert plan is not None
    sound, rate = soundfile.read(str(folder / "drive.wav"))
    assert (len(sound), rate) == (plan.length, plan.rate)
    assert abs(sound).max() == pytest.approx(0.25, abs=0.002)
    page = (folder / "wiring.html").read_text("utf-8")
    for words in (
        "Unplug the cable at both ends",
        "headphones off the head",
        "output&#39;s return",
        "Step by step",
    ):
        assert words in page or words.replace("&#39;", "'") in page


def test_a_break_is_told_from_both_ends(made: Path, capsys: Captured) -> None:
    answer = told(made, capsys)
    near, far = answer["wires"]
    for wire, truth in ((near, NEAR), (far, PER_METRE * (LENGTH - BREAK))):
        assert wire["found"] == "capacitance"
        assert wire["low"] < truth < wire["high"]
        assert wire["high"] - wire["low"] < 0.03 * truth
        assert wire["budget"][0]["source"] == "the resistor"
    (broken,) = answer["breaks"]
    assert broken["low"] < BREAK / LENGTH < broken["high"]
    assert broken["high"] - broken["low"] < 0.005
    assert answer["input_resistance"] == pytest.approx(TrueBench().input_resistance, rel=0.02)
    assert answer["input_capacitance"] == pytest.approx(TrueBench().input_capacitance, rel=0.05)
    assert answer["warnings"] == []


def test_the_rows_for_the_cable_tell_the_distance(made: Path, tmp_path: Path, capsys: Captured) -> None:
    (broken,) = told(made, capsys)["breaks"]
    cable = tmp_path / "cable"
    cable.mkdir()
    text = f"""
name = "lead"
length = "{LENGTH:g} m"
length_tolerance = "1 %"
[ends.stage]
contacts = ["1-3"]
[ends.desk]
contacts = ["1-3"]
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
name = "core"
from = "stage:1-3"
to = "desk:1-3"
kind = "core"

{broken["table"]}
"""
    (cable / "cable.toml").write_text(text, "utf-8")
    assert run(["cable", str(cable), "--json"]) == OK
    (place,) = json.loads(capsys.readouterr().out)["places"]
    assert place["near"] == "stage"
    assert place["low"] < BREAK < place["high"]
    # Mostly the length itself: 1 % of 13.4 m as a rectangle.
    assert place["standard_uncertainty"] == pytest.approx(0.08, abs=0.02)


def test_words_and_papers_say_the_same(folder: Path, tmp_path: Path, capsys: Captured) -> None:
    page, pdf = tmp_path / "report.html", tmp_path / "report.pdf"
    assert run(["capacitance", str(folder), "--html", str(page), "--pdf", str(pdf)]) == OK
    printed = capsys.readouterr().out
    assert "nF between core 2 and the screen and core 1 from end stage" in printed
    assert (
        '[[locate]]\nmethod = "capacitance from both ends"\nwires = ["core 2"]\nfrom = "stage"\nnear = "'
        in printed
    )
    text = page.read_text("utf-8")
    assert "The break of core 2 lies at 67" in text
    assert "For cable.toml" in text
    assert pdf.read_bytes().startswith(b"%PDF")
    assert not (folder / "wiring.pdf").exists()  # nothing is written beside recordings but what is asked for


def test_a_part_of_the_recordings_says_what_is_left(folder: Path, capsys: Captured) -> None:
    drop(folder, "near", "far", "open-again")
    assert "record near.wav, far.wav and open-again.wav" in told(folder, capsys)["sentence"]
    record(folder, "near", open_wire(NEAR))
    answer = told(folder, capsys)
    assert "nF between core 2 and the screen and core 1 from end stage" in answer["sentence"]
    assert answer["breaks"] == []
    assert "Not recorded: far.wav and open-again.wav." in answer["findings"]


def test_a_short_is_told_with_its_resistance_and_next_to_nothing_as_a_bound(
    folder: Path, capsys: Captured
) -> None:
    drop(folder, "open-again")
    record(folder, "near", TrueContact(resistance=33.0))
    record(folder, "far", open_wire(1e-12))
    answer = told(folder, capsys)
    short, little = answer["wires"]
    assert short["found"] == "path"
    assert short["resistance_low"] < 33.0 < short["resistance_high"]
    assert short["capacitance"] is None
    assert "it conducts, 33" in answer["sentence"]
    assert any("meter for resistance" in action["words"] for action in answer["actions"])
    assert little["found"] == "too small to tell"
    assert 1e-12 < little["high"] < 5e-12
    assert any(one.startswith("Too little to tell between core 2") for one in answer["findings"])
    assert answer["breaks"] == []


def test_a_dead_short_has_at_most_so_much_and_a_leak_is_doubted(folder: Path, capsys: Captured) -> None:
    drop(folder, "open-again")
    record(folder, "near", TrueContact(resistance=0.05))
    record(folder, "far", open_wire(NEAR, leak=150e3))
    answer = told(folder, capsys)
    short, leaking = answer["wires"]
    assert short["found"] == "path"
    assert short["resistance_high"] < 3.0
    assert "it conducts, " in answer["sentence"]
    assert "at most" in answer["sentence"]
    assert leaking["leak"] == pytest.approx(150e3, rel=0.05)
    assert leaking["low"] < NEAR < leaking["high"]
    assert [one["code"] for one in answer["warnings"]] == ["LEAKING_WIRE"]


def test_leads_that_moved_are_doubted(folder: Path, capsys: Captured) -> None:
    drop(folder, "near", "far")
    record(folder, "open-again", None, bench=TrueBench(input_capacitance=252e-12))
    (doubt,) = told(folder, capsys)["warnings"]
    assert doubt["code"] == "OPEN_CHANGED"
    assert "12" in doubt["words"]


def test_a_whole_wire_beside_a_broken_one_serves_too(folder: Path, capsys: Captured) -> None:
    drop(folder, "open-again")
    change(
        folder,
        'wire = "core 2"\nto = "the screen and core 1"\nend = "desk"',
        'wire = "core 1"\nto = "the rest"\nend = "stage"\nwhole = true',
    )
    record(folder, "far", open_wire(PER_METRE * LENGTH))
    (broken,) = told(folder, capsys)["breaks"]
    assert 'method = "capacitance and a whole wire"' in broken["table"]
    assert "\nbroken = " in broken["table"]
    assert "\nwhole = " in broken["table"]
    assert broken["low"] < BREAK / LENGTH < broken["high"]


def test_inputs_that_are_exchanged_are_refused(folder: Path, capsys: Captured) -> None:
    drop(folder, "far", "open-again")
    path = folder / "near.flac"
    waves, rate = soundfile.read(str(path), dtype="int32")
    soundfile.write(str(path), waves[:, ::-1], rate, "PCM_24")
    words = refused(folder, capsys)
    assert "near.flac" in words
    assert "The inputs are exchanged, or a gain was touched" in words


def test_an_input_that_hears_nothing_is_refused(folder: Path, capsys: Captured) -> None:
    drop(folder, "near", "far", "open-again")
    path = folder / "open.flac"
    waves, rate = soundfile.read(str(path), dtype="int32")
    waves[:, 1] = 256 * np.random.default_rng(1).integers(-3, 4, len(waves))
    soundfile.write(str(path), waves, rate, "PCM_24")
    words = refused(folder, capsys)
    assert "open.flac: found next to nothing on input 2" in words


def test_an_input_that_is_off_is_not_taken_for_a_short(folder: Path, capsys: Captured) -> None:
    drop(folder, "far", "open-again")
    path = folder / "near.flac"
    waves, rate = soundfile.read(str(path), dtype="int32")
    waves[:, 1] = 0
    soundfile.write(str(path), waves, rate, "PCM_24")
    assert "near.flac: found next to nothing on input 2" in refused(folder, capsys)


def test_the_same_recording_twice_is_refused(folder: Path, capsys: Captured) -> None:
    drop(folder, "both", "open", "open-again")
    shutil.copy(folder / "near.flac", folder / "far.flac")
    assert "the same recording" in refused(folder, capsys)


def test_a_first_take_with_one_input_behind_the_resistor_is_refused(folder: Path, capsys: Captured) -> None:
    drop(folder, "near", "far", "open-again")
    record(folder, "both", open_wire(NEAR), bench=TrueBench(input_resistance=2e3))
    assert "about as much on both inputs" in refused(folder, capsys)


def test_every_bad_recording_is_told_at_once_and_nothing_is_written(folder: Path, capsys: Captured) -> None:
    (folder / "near.flac").write_bytes(b"no sound")
    (folder / "far-1.wav").write_bytes(b"")
    (folder / "far.flac").unlink()
    before = sorted(path.name for path in folder.iterdir())
    words = refused(folder, capsys)
    assert "near.flac" in words
    assert "far-1.wav" in words
    assert sorted(path.name for path in folder.iterdir()) == before


def test_another_plan_than_that_of_the_recordings_is_refused(folder: Path, capsys: Captured) -> None:
    drop(folder, "near", "far", "open-again")
    change(folder, "number = 9", "number = 7")
    words = refused(folder, capsys)
    assert "of another plan than capacitance.toml now asks for" in words


def test_recordings_without_their_plan_are_refused(folder: Path, capsys: Captured) -> None:
    (folder / "plan.json").unlink()
    assert "plan.json" in refused(folder, capsys)


def test_every_fault_of_the_wishes_is_told_at_once(tmp_path: Path, capsys: Captured) -> None:
    text = """
leads = "2 m"
[resistor]
resistance = "5 Ω"
[inputs]
crostalk = "-80 dB"
[[measured]]
take = "open"
wire = "core 2"
to = "screen"
end = "A"
[[measured]]
take = "near"
wire = "core 2"
"""
    (tmp_path / "capacitance.toml").write_text(text, "utf-8")
    words = refused(tmp_path, capsys)
    for found in (
        "key 'leads'",
        "key 'resistance'",
        "key 'tolerance'",
        "key 'crostalk'",
        "key 'take'",
        "key 'to'",
        "key 'end'",
    ):
        assert found in words
    assert sorted(path.name for path in tmp_path.iterdir()) == ["capacitance.toml"]


def test_the_folder_of_a_contact_is_left_alone(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "tones.toml").write_text("", "utf-8")
    assert "tones.toml" in refused(tmp_path, capsys)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["tones.toml"]


def test_the_tones_of_a_contact_do_not_take_the_place_of_a_wires(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "capacitance.toml").write_text("", "utf-8")
    assert run(["tones", str(tmp_path)]) == REFUSED
    assert "a folder with capacitance.toml; expected another folder" in said(capsys)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["capacitance.toml"]


def test_no_report_takes_the_place_of_what_is_read(folder: Path, capsys: Captured) -> None:
    assert run(["capacitance", str(folder), "--html", str(folder / "wiring.html")]) == NOT_WRITTEN
    assert "choose another name" in said(capsys)


def test_another_clock_does_no_harm(folder: Path, capsys: Captured) -> None:
    drop(folder, "far", "open-again")
    apart = Interface(INTERFACE.inputs, clock=40e-6, start=9000.7, after=0.5)
    record(folder, "near", open_wire(NEAR), interface=apart)
    wire = told(folder, capsys)["wires"][0]
    assert wire["low"] < NEAR < wire["high"]
