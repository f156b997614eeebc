"""From wishes to a folder with everything that is played, kept and printed."""

from __future__ import annotations

import io
import json
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pypdf
import pytest
import soundfile
from tests.journeys.test_command_line import Captured, everything

from ohmsworth import wiring
from ohmsworth.adapters.files.plan_json import read_plan_json
from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run

ROOT = Path(__file__).parents[2]
FILES = ["drive.wav", "plan.json", "tones.toml", "wiring.html", "wiring.pdf"]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("tones") / "new"
    assert run(["tones", str(folder)]) == OK
    return folder


def shorter(folder: Path, *changes: tuple[str, str]) -> None:
    """A tones.toml of short takes in `folder`."""
    folder.mkdir(exist_ok=True)
    begin = wiring.load_tones(folder / "none").begin
    assert begin is not None
    text = begin.decode()
    for old, new in (('"60 s"', '"3 s"'), ("number = 11", "number = 3"), *changes):
        assert old in text
        text = text.replace(old, new)
    (folder / "tones.toml").write_text(text, "utf-8")


def test_a_new_folder_holds_all_that_is_needed(made: Path) -> None:
    assert sorted(path.name for path in made.iterdir()) == FILES
    plan, faults = read_plan_json(made / "plan.json")
    assert not faults
    assert plan is not None
    told = soundfile.info(str(made / "drive.wav"))
    assert (told.frames, told.samplerate, told.channels) == (plan.length, plan.rate, 2)
    main = plan.main[0]
    with soundfile.SoundFile(str(made / "drive.wav")) as file:
        file.seek(main.start)
        played = file.read(plan.period)[:, 0]
    lines = np.fft.rfft(played)[plan.cycles] / (plan.period / 2)
    assert lines == pytest.approx(plan.amplitudes * np.exp(1j * plan.phases), abs=1e-7)


def test_the_card_says_what_to_do_and_of_what_to_beware(made: Path) -> None:
    page = (made / "wiring.html").read_text("utf-8")
    pdf = " ".join(
        p.extract_text() for p in pypdf.PdfReader(io.BytesIO((made / "wiring.pdf").read_bytes())).pages
    )
    for words in (
        "straight.wav",
        "swapped.wav",
        "Phantom power",
        "headphones off",
        "unpowered",
        "Dry circuit",
        "mains",
    ):
        assert words in page
        assert words in " ".join(pdf.split())
    assert "straight-turned.wav" not in page
    assert 'role="img"' in page


def test_once_more_gives_the_same(tmp_path: Path, capsys: Captured) -> None:
    shorter(tmp_path)
    assert run(["tones", str(tmp_path)]) == OK
    before = everything(tmp_path)
    assert run(["tones", str(tmp_path)]) == OK
    after = everything(tmp_path)
    same = {name for name in before if not name.endswith(".pdf")}  # the PDF tells its date
    assert {name: after[name] for name in same} == {name: before[name] for name in same}
    assert f"Written: {tmp_path / 'drive.wav'}" in capsys.readouterr().out


def test_the_data_meet_their_schema(tmp_path: Path, capsys: Captured) -> None:
    shorter(
        tmp_path, ("# turned = true", "turned = true"), ('# uncertainty = "1 µΩ"', 'uncertainty = "1 µΩ"')
    )
    assert run(["schema", "tones"]) == OK
    schema = json.loads(capsys.readouterr().out)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert run(["tones", str(tmp_path), "--json"]) == OK
    out, err = capsys.readouterr()
    assert err == ""
    answer = json.loads(out)
    jsonschema.Draft202012Validator(schema).validate(answer)
    assert answer["format"] == "ohmsworth tones 1"
    assert len(answer["recordings"]) == 4
    assert answer["wished_uncertainty"] == 1e-6
    assert "swapped-turned.wav" in (tmp_path / "wiring.html").read_text("utf-8")


def test_recordings_stay_with_their_plan(tmp_path: Path, capsys: Captured) -> None:
    shorter(tmp_path)
    assert run(["tones", str(tmp_path)]) == OK
    (tmp_path / "straight.wav").write_bytes(b"recorded")
    assert run(["tones", str(tmp_path)]) == OK
    shorter(tmp_path, ('"20 mA"', '"19 mA"'))
    before = everything(tmp_path)
    capsys.readouterr()
    assert run(["tones", str(tmp_path), "--json"]) == REFUSED
    out, err = capsys.readouterr()
    assert json.loads(out)["faults"][0]["where"] == "plan.json"
    assert "straight.wav" in err
    assert everything(tmp_path) == before


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('"47 Ω"', '"47"', "[circuit], key 'series'"),
        ('"20 mA"', '"2 A"', "at most 23.6 mA"),
        ("number = 3", 'number = 31\\nperiod = "0.5 s"', "[tones], key 'number'"),
    ],
)
def test_a_refusal_writes_nothing(old: str, new: str, words: str, tmp_path: Path, capsys: Captured) -> None:
    shorter(tmp_path, (old, new.replace("\\n", "\n")))
    before = everything(tmp_path)
    assert run(["tones", str(tmp_path)]) == REFUSED
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert everything(tmp_path) == before


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, capsys: Captured) -> None:
    shorter(tmp_path)
    (tmp_path / "plan.json").mkdir()
    before = sorted(tmp_path.iterdir())
    assert run(["tones", str(tmp_path)]) == NOT_WRITTEN
    out, err = capsys.readouterr()
    assert out == ""
    assert "plan.json" in err
    assert sorted(tmp_path.iterdir()) == before
    (tmp_path / "a file").write_text("x")
    assert run(["tones", str(tmp_path / "a file")]) == REFUSED
