"""From a folder of recordings to the impedance that was planted in them, and what is said of folders with something wrong."""

from __future__ import annotations

import json
import math
import shutil
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pypdf
import pytest
import soundfile
from tests.journeys.takes_made import CONTACT, INTERFACE, PLAN, TONES, begin, quiet, record
from tests.journeys.test_command_line import Captured

import ohmsworth as ow
from ohmsworth.adapters.simulated.sound import Flaws, TrueContact, TrueShunt
from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run
from ohmsworth.errors import InputRefused
from ohmsworth.report.takes_answer import QuantityAnswer, TakesAnswer

ROOT = Path(__file__).parents[2]
LIMIT = '\n[limit]\nresistance = "3 mΩ"\nsource = "our own rule"\n'


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = begin(tmp_path_factory.mktemp("takes") / "all", TONES + LIMIT)
    record(folder)
    return folder


@pytest.fixture(scope="module")
def answer(made: Path) -> TakesAnswer:
    return ow.takes(made)


def some(made: Path, folder: Path, *stems: str, text: str = TONES) -> Path:
    """A folder with some of the recordings."""
    begin(folder, text)
    for stem in stems:
        shutil.copy(made / f"{stem}.wav", folder)
    return folder


def faults(folder: Path) -> dict[str, str]:
    with pytest.raises(InputRefused) as refused:
        ow.takes(folder)
    return {fault.where: str(fault) for fault in refused.value.faults}


def codes(answer: TakesAnswer) -> set[str]:
    return {warning.code for warning in answer.warnings}


def holds(found: QuantityAnswer, truth: float) -> bool:
    return found.low < truth < found.high


def test_the_planted_impedance_lies_in_its_intervals(answer: TakesAnswer) -> None:
    truth = CONTACT.impedance(PLAN.frequencies)
    assert [tone.frequency for tone in answer.tones] == PLAN.frequencies.tolist()
    for tone, z in zip(answer.tones, truth, strict=True):
        assert tone.resistance_low < z.real < tone.resistance_high
        assert tone.reactance == pytest.approx(z.imag, abs=4 * tone.reactance_uncertainty)
        assert tone.magnitude == pytest.approx(math.hypot(tone.resistance, tone.reactance))
        assert tone.phase == pytest.approx(math.atan2(tone.reactance, tone.resistance))
    assert holds(answer.resistance, CONTACT.resistance)
    # The shunt's 0.5 %, a rectangle, is nearly all of it.
    assert answer.resistance.standard_uncertainty == pytest.approx(0.005 / 3**0.5 * 8.1e-3, rel=0.03)
    assert answer.model is not None
    assert answer.model.model == "series"
    (inductance,) = [part for part in answer.model.parts if part.name == "inductance"]
    assert holds(inductance, CONTACT.inductance)
    assert not {"NO_SWAPPED_TAKE", "NO_TURNED_TAKES", "GAINS_APART"} & codes(answer)


def test_what_is_true_of_the_interface_is_told(answer: TakesAnswer) -> None:
    first, second = INTERFACE.inputs
    found = answer.interface
    f = PLAN.frequencies
    gains = second.transfer(f) / first.transfer(f)
    assert found.gain_difference == pytest.approx(abs(gains[0]) - 1, abs=1e-3)
    assert found.phase_difference == pytest.approx(np.angle(gains[-1]), abs=1e-3)
    # Straight, the second input hears the contact; the common volts of its legs are none here.
    assert found.leak == pytest.approx(second.crosstalk, rel=0.06)
    assert found.one_clock
    for told, true in zip(found.noise, INTERFACE.inputs, strict=True):
        assert told == pytest.approx(true.noise / math.sqrt(PLAN.rate / 2), rel=0.1)
    assert found.mains == 50.0
    assert found.hum is not None
    for told, true in zip(found.hum, INTERFACE.inputs, strict=True):
        harmonics = math.sqrt(1 + 0.2**2 + 0.5**2 + 0.1**2 + 0.3**2 + 0.05**2 + 0.2**2 + 0.1**2)
        assert told == pytest.approx(true.hum * harmonics / math.sqrt(2), rel=0.1)
    assert [one.file for one in answer.recordings] == [
        "straight.wav", "swapped.wav", "straight-turned.wav", "swapped-turned.wav",
    ]  # fmt: skip


def test_the_limit_is_held_against_it(answer: TakesAnswer) -> None:
    assert answer.limit is not None
    assert answer.limit.verdict == "over"
    assert answer.limit.probability_within < 1e-6
    assert "over the limit of 3 mΩ" in answer.sentence


def test_shares_of_a_budget_make_the_uncertainty(answer: TakesAnswer) -> None:
    for budget, told in zip(answer.budgets[:1], [answer.resistance], strict=True):
        assert sum(line.share for line in budget.lines) == pytest.approx(1)
        total = math.sqrt(sum(line.contribution**2 for line in budget.lines))
        assert total == pytest.approx(told.standard_uncertainty)
    assert answer.budgets[0].lines[0].source == "the shunt's resistance"
    assert "better calibrated shunt" in answer.actions[-1].words


def test_the_budget_is_told_where_it_is_asked_for(made: Path) -> None:
    told = ow.takes(made, at=4.2e3).budgets[1]
    assert told.frequency == PLAN.frequencies[np.abs(np.log(PLAN.frequencies / 4.2e3)).argmin()]


def test_the_printed_json_is_the_schemas(made: Path, answer: TakesAnswer, capsys: Captured) -> None:
    assert run(["takes", str(made), "--json"]) == OK
    printed = json.loads(capsys.readouterr().out)
    schema = json.loads((ROOT / "src/ohmsworth/report/takes.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(printed)
    assert printed == json.loads(json.dumps(ow.as_json(answer)))
    assert run(["schema", "takes"]) == OK
    assert json.loads(capsys.readouterr().out) == schema


def test_page_paper_and_terminal_say_the_same(
    made: Path, answer: TakesAnswer, tmp_path: Path, capsys: Captured
) -> None:
    page, paper, pictures = tmp_path / "r.html", tmp_path / "r.pdf", tmp_path / "pictures"
    arguments = ["takes", str(made), "--html", str(page), "--pdf", str(paper), "--pictures", str(pictures)]
    assert run(arguments) == OK
    printed = " ".join(capsys.readouterr().out.replace("|", " ").split())
    assert answer.sentence in printed
    assert {"resistance.svg", "change.svg", "reactance.svg", "budget.svg"} <= {
        path.name for path in pictures.iterdir()
    }
    text = " ".join(page.read_text("utf-8").split())
    read = "".join("".join(p.extract_text() for p in pypdf.PdfReader(paper).pages).split())
    for words in (answer.findings[0], "Interface and recordings", *answer.cautions):
        assert words.replace("'", "&#39;") in text or words in text
        assert "".join(words.split()).replace("\u2060", "") in read.replace("\u2060", "")


def test_a_film_is_found_with_its_parts(tmp_path: Path) -> None:
    film = TrueContact(2.4e-3, 10e-9, 6e-3, 1 / (2 * math.pi * 2e3 * 6e-3))
    record(begin(tmp_path), ("straight", "swapped"), film, interface=quiet())
    found = ow.takes(tmp_path)
    assert found.model is not None
    assert found.model.model == "film"
    assert found.model.hidden_film is None
    parts = {part.name: part for part in found.model.parts}
    assert holds(parts["film resistance"], film.film)
    assert holds(parts["film capacitance"], film.capacitance)
    assert holds(parts["bare resistance"], film.resistance)
    assert found.model.corner_low is not None
    assert found.model.corner_high is not None
    assert found.model.corner_low < 2e3 < found.model.corner_high
    assert "in a film" in found.sentence


def test_a_take_without_its_swapped_one_is_doubted_and_less_certain(
    made: Path, answer: TakesAnswer, tmp_path: Path
) -> None:
    found = ow.takes(some(made, tmp_path, "straight"))
    assert "NO_SWAPPED_TAKE" in codes(found)
    assert found.interface.gain_difference is None
    assert found.resistance.standard_uncertainty > 2 * answer.resistance.standard_uncertainty
    assert found.budgets[0].lines[0].source == "the inputs' difference"
    assert "swapped.wav" in found.actions[0].words


def test_turned_takes_are_asked_for_where_they_matter(made: Path, tmp_path: Path) -> None:
    assert "NO_TURNED_TAKES" not in codes(ow.takes(some(made, tmp_path / "little", "straight", "swapped")))
    text = TONES.replace('"0.01 %"', '"0.5 %"')
    found = ow.takes(some(made, tmp_path / "much", "straight", "swapped", text=text))
    assert "NO_TURNED_TAKES" in codes(found)
    wished = ow.takes(some(made, tmp_path / "wished", "straight", "swapped", text="turned = true\n" + TONES))
    assert "NO_TURNED_TAKES" in codes(wished)


def test_direct_current_that_agrees_and_that_does_not(made: Path, tmp_path: Path) -> None:
    direct = '\n[direct]\nresistance = "{}"\nuncertainty = "10 µΩ"\ncurrent = "10 mA"\nreversed = true\n'
    alike = ow.takes(some(made, tmp_path / "a", "straight", "swapped", text=TONES + direct.format("8.10 mΩ")))
    assert alike.direct is not None
    assert alike.direct.explained
    assert "the uncertainties explain it" in " ".join(alike.findings)
    other = ow.takes(some(made, tmp_path / "b", "straight", "swapped", text=TONES + direct.format("7.5 mΩ")))
    assert other.direct is not None
    assert not other.direct.explained
    assert "DIRECT_CURRENT_DISAGREES" in codes(other)


def test_flac_and_pairs_are_the_same_recordings(made: Path, tmp_path: Path) -> None:
    begin(tmp_path)
    for stem, ending in (("straight", ".flac"), ("swapped", ".wav")):
        waves, rate = soundfile.read(made / f"{stem}.wav", dtype="int32")
        if ending == ".flac":
            soundfile.write(tmp_path / "Straight.FLAC", waves, rate, "PCM_24", format="FLAC")
        else:
            for number in (1, 2):
                soundfile.write(tmp_path / f"{stem}-{number}.wav", waves[:, number - 1], rate, "PCM_24")
    found = ow.takes(tmp_path)
    same = ow.takes(some(made, tmp_path / "same", "straight", "swapped"))
    assert found.tones == same.tones
    assert [one.file for one in found.recordings] == ["Straight.FLAC", "swapped-1.wav and swapped-2.wav"]


def test_two_channels_of_more_are_named(made: Path, tmp_path: Path) -> None:
    begin(tmp_path, TONES.replace("[inputs]", "[inputs]\nchannels = [3, 2]"))
    waves, rate = soundfile.read(made / "straight.wav", dtype="int32")
    four = np.column_stack([0 * waves[:, 0], waves[:, 1], waves[:, 0], 0 * waves[:, 0]])
    soundfile.write(tmp_path / "straight.wav", four, rate, "PCM_24")
    assert ow.takes(tmp_path).tones == ow.takes(some(made, tmp_path / "same", "straight")).tones


def test_short_and_load_take_off_leads_and_shunt(tmp_path: Path) -> None:
    """A shunt that is 3 % off, and 0.4 mΩ with 5 nH between the sense points that belong to no contact."""
    text = TONES.replace("±0.5 %", "±5 %") + '\n[load]\nresistance = "10 mΩ"\ntolerance = "±0.1 %"\n'
    begin(tmp_path, text)
    shunt = TrueShunt(0.103)
    for series, ohm, henry in (("contact", 8e-3, 20e-9), ("short", 0.0, 0.0), ("load", 10e-3, 0.0)):
        there = TrueContact(ohm + 0.4e-3, henry + 5e-9)
        record(tmp_path, ("straight",), there, series, quiet(), shunt=shunt)  # type: ignore[arg-type]
    found = ow.takes(tmp_path)
    assert "NO_SWAPPED_TAKE" in codes(found)  # the load takes the inputs' difference off all the same
    assert holds(found.resistance, 8e-3)
    assert found.resistance.standard_uncertainty < 1e-5
    assert {line.source for line in found.budgets[0].lines} >= {"the load's resistance", "noise"}
    assert found.model is not None
    (inductance,) = [part for part in found.model.parts if part.name == "inductance"]
    assert inductance.value == pytest.approx(20e-9, rel=0.01)
    assert found.residual is not None
    assert found.residual.takes == ("short", "load")
    assert found.residual.date is None
    assert "CALIBRATION_WITHOUT_DATE" in codes(found)
    begin(tmp_path, text + "\n[calibration]\ndate = 2026-03-03\n")
    dated = ow.takes(tmp_path)
    assert "CALIBRATION_WITHOUT_DATE" not in codes(dated)
    assert "short and load of 2026-03-03" in " ".join(dated.findings)


def test_everything_wrong_is_told_at_once(made: Path, tmp_path: Path) -> None:
    some(made, tmp_path, "swapped-turned")
    record(tmp_path, ("straight",), flaws=Flaws(header_rate=44_100))
    record(tmp_path, ("swapped",), flaws=Flaws(cut=1.5))
    soundfile.write(tmp_path / "straight-turned-1.wav", np.zeros(100), 48000)
    (tmp_path / "load-straight.wav").write_text("no sound")
    found = faults(tmp_path)
    assert "found 44100 samples a second; expected 48000" in found["straight.wav"]
    assert "expected" in found["swapped.wav"]
    assert "straight-turned-2.wav" in found["straight-turned-1.wav"]
    assert "expected a WAV file" in found["load-straight.wav"]
    assert len(found) == 4


def test_recordings_that_are_none_are_refused(made: Path, tmp_path: Path) -> None:
    lonely = some(made, tmp_path / "a", "swapped")
    assert "straight.wav" in faults(lonely)
    shutil.copy(made / "straight.wav", lonely / "strait.wav")
    assert "Is it strait.wav?" in faults(lonely)["straight.wav"]
    double = some(made, tmp_path / "b", "straight")
    shutil.copy(made / "straight.wav", double / "straight.flac")
    assert "straight.flac and straight.wav" in faults(double)["straight"]
    needs = some(made, tmp_path / "c", "straight", "swapped-turned")
    assert "no swapped beside it" in faults(needs)["swapped-turned"]
    loads = some(made, tmp_path / "d", "straight")
    shutil.copy(made / "straight.wav", loads / "load-straight.wav")
    found = faults(loads)
    assert "no table [load]" in found["tones.toml"]
    assert "short-straight.wav" in found["load-straight"]


def test_a_recording_that_is_another_once_more_is_refused(made: Path, tmp_path: Path) -> None:
    text = TONES + '\n[load]\nresistance = "10 mΩ"\ntolerance = "±0.1 %"\n'
    some(made, tmp_path, "straight", text=text)
    for stem in ("swapped", "short-straight", "load-straight"):
        shutil.copy(made / "straight.wav", tmp_path / f"{stem}.wav")
    found = faults(tmp_path)
    assert set(found) == {"swapped.wav", "short-straight.wav", "load-straight.wav"}
    assert all("the same recording" in words for words in found.values())


def test_leads_that_were_not_changed_are_refused(made: Path, tmp_path: Path) -> None:
    some(made, tmp_path, "straight")
    record(tmp_path, ("straight",), ending=".flac", seed=6)
    (tmp_path / "straight.flac").rename(tmp_path / "swapped.flac")
    assert "left alone, but said to be swapped" in faults(tmp_path)["swapped.flac"]


def test_a_recording_that_clips_is_doubted(made: Path, tmp_path: Path) -> None:
    record(begin(tmp_path), ("straight", "swapped"), flaws=Flaws(louder=22))
    found = ow.takes(tmp_path)
    (one, other) = [w for w in found.warnings if w.code == "CLIPPED"]
    assert one.words.startswith("straight.wav: ")
    assert other.words.startswith("swapped.wav: ")
    assert found.actions[0].words == one.what_to_do


def test_a_folder_that_holds_nothing_says_what_is_missing(tmp_path: Path, capsys: Captured) -> None:
    assert run(["takes", str(tmp_path / "none")]) == REFUSED
    assert "no such folder" in capsys.readouterr().err
    found = faults(tmp_path)
    assert set(found) == {"tones.toml", "plan.json", "straight.wav"}
    assert run(["takes", str(tmp_path), "--json"]) == REFUSED
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert told["format"] == "ohmsworth refusal 1"
    assert len(told["faults"]) == 3


def test_sound_of_another_name_is_said_to_be_left_aside(made: Path, tmp_path: Path) -> None:
    some(made, tmp_path, "straight", "swapped")
    shutil.copy(made / "straight.wav", tmp_path / "rehearsal.wav")
    shutil.copy(made / "straight.wav", tmp_path / "drive.wav")
    found = ow.takes(tmp_path)
    (doubt,) = [w for w in found.warnings if w.code == "SOUND_LEFT_ASIDE"]
    assert "rehearsal.wav" in doubt.words
    assert "drive.wav" not in doubt.words


def test_nothing_that_is_read_is_written_over(made: Path, tmp_path: Path, capsys: Captured) -> None:
    some(made, tmp_path, "straight", "swapped")
    before = (tmp_path / "straight.wav").read_bytes()
    assert run(["takes", str(tmp_path), "--html", str(tmp_path / "straight.wav")]) == NOT_WRITTEN
    assert (tmp_path / "straight.wav").read_bytes() == before
    assert run(["takes", str(tmp_path), "--html", str(tmp_path / "no" / "r.html")]) == REFUSED
    assert run(["takes", str(tmp_path), "--at", "fast"]) == REFUSED
    assert "--at" in capsys.readouterr().err


def test_another_plan_is_refused_beside_any_kind_of_recording(made: Path, tmp_path: Path) -> None:
    begin(tmp_path)
    shutil.copy(made / "straight.wav", tmp_path / "short-straight-1.wav")
    assert run(["tones", str(tmp_path)]) == REFUSED
