"""A study of takes from its folder to its answer: planted contacts found again, faults told, and nothing analysed twice."""

import json
import re
import shutil
from pathlib import Path

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest
from tests.journeys.taken import PLAN, STUDY, TRUE, taken

from ohmsworth import wiring
from ohmsworth.adapters.audio import write_recording
from ohmsworth.adapters.files import takes_kept
from ohmsworth.adapters.files.contacts_folder import contact_of
from ohmsworth.adapters.render import to_svg
from ohmsworth.cli.app import run
from ohmsworth.errors import InputRefused
from ohmsworth.report.answer import Answer, as_json
from ohmsworth.report.document import LineFigure, Table
from ohmsworth.resistance.impedance.recording import recorded
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.report_study import report_study

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return taken(tmp_path_factory.mktemp("taken") / "study")


@pytest.fixture(scope="module")
def answer(made: Path) -> Answer:
    return answer_study(wiring.load_study(made))


def test_planted_contacts_are_found_at_every_tone(answer: Answer) -> None:
    found = answer.frequencies
    assert found is not None
    assert found.takes == 16
    np.testing.assert_allclose(found.frequency, PLAN.frequencies)
    curves = {curve.condition: curve for curve in found.curves}
    truth = {name: contact.impedance(PLAN.frequencies) for name, contact in TRUE.items()}
    for name, z in truth.items():
        curve = curves[name]
        for k, r in enumerate(z.real):
            low, high = curve.low_together[k], curve.high_together[k]
            assert low is not None, (name, k)
            assert high is not None, (name, k)
            assert low < r < high, (name, k)
        # Four specimens that differ by 6 %: 3 % of the mean.
        np.testing.assert_allclose(curve.reactance, z.imag, rtol=0.15, atol=2e-6)
    ratio = truth["dark"].real / truth["clean"].real
    one = found.comparisons[0]
    assert (one.of, one.against, one.quantity) == ("dark", "clean", "ratio")
    for low, high, r in zip(one.low_together, one.high_together, ratio, strict=True):
        assert low is not None
        assert high is not None
        assert low < r < high


def test_the_answer_stands_at_the_first_frequency_asked(answer: Answer) -> None:
    found = answer.frequencies
    assert found is not None
    assert found.answered_at == 79.0
    assert [one.tone for one in found.at] == [79.0, 2517.0]
    assert answer.sentence.startswith("By tones, at 79.0 Hz: 'dark' contacts have")
    assert "At 2.52 kHz it is otherwise: the typical resistance (median) of 'dark': within" in answer.sentence
    verdicts = {c.condition: c.verdict for c in answer.conditions}
    assert verdicts == {"clean": "within", "dark": "over"}
    # At 2.5 kHz the film is bridged, and the dark contacts are within.
    assert {c.condition: c.verdict for c in found.at[1].conditions} == {"clean": "within", "dark": "within"}
    assert found.at[0].conditions == answer.conditions
    assert "from tones" in answer.method[0]
    assert {line.source for line in answer.budget} >= {"specimen scatter", "shunt"}


def test_the_answer_meets_the_schema(answer: Answer) -> None:
    schema = json.loads((ROOT / "src/ohmsworth/report/answer.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(as_json(answer))


def test_it_is_told_how_the_takes_were_measured(made: Path, answer: Answer) -> None:
    assert answer.frequencies is not None
    told = answer.frequencies.measured
    assert told is not None
    assert (told.tones, told.swapped, told.turned) == (len(PLAN.frequencies), 16, 0)
    assert (told.lowest, told.highest) == (21.0, 2517.0)
    assert [one.verdict for one in told.dry][:2] == ["within", "within"]
    assert answer.largest_current == max(one.current or 0.0 for one in told.takes) > 0
    # How intervals are made is the method's; whoever reads the curves is told what they mean.
    assert any("Student's t, simulated" in one for one in answer.method)
    assert not any("Student's t" in one for one in answer.frequencies.remarks)
    assert any(one.startswith(f"Measured with {told.tones} tones from 21.0 Hz") for one in answer.method)
    report = report_study(wiring.load_study(made)).report
    section = next(one for one in report.sections if one.title == "Over frequency")
    tables = [block for block in section.blocks if isinstance(block, Table)]
    assert "How the takes were measured" in {one.caption for one in tables}


def test_circuits_take_the_impedance(answer: Answer) -> None:
    (use,) = answer.uses
    found = use.with_impedance
    assert found is not None
    told = {(e.effect, e.condition) for e in found.effects}
    assert ("level", "dark") in told
    assert ("rejection_mains", "clean") in told
    # 20 kHz is further than twice the highest tone, and said to be.
    assert not any(e.effect == "treble" for e in found.effects)
    assert any("20 kHz" in remark for remark in found.remarks)
    assert max(found.curves[0].frequency) == pytest.approx(2 * 2517.0)


def test_the_report_draws_the_curves(made: Path) -> None:
    report = report_study(wiring.load_study(made)).report
    section = next(one for one in report.sections if one.title == "Over frequency")
    figures = [block for block in section.blocks if isinstance(block, LineFigure)]
    assert [figure.name for figure in figures] == [
        "resistance over frequency",
        "dark against clean over frequency",
        "reactance over frequency",
    ]
    assert "all tones at once" in figures[1].band_words
    assert figures[0].threshold == 0.008
    assert figures[0].threshold_words == "limit"
    drawn = to_svg(figures[0])
    assert re.findall(r">([^<]*limit[^<]*)<", drawn)[-1] == "limit 8 mΩ", "its value stands beside it once"
    assert "limit 8 mΩ" in figures[0].alt


def test_nothing_is_analysed_twice_and_nothing_stale_is_believed(
    made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, answer: Answer
) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    analysed: list[str] = []

    def counted(loaded, recordings, standards):  # type: ignore[no-untyped-def]
        analysed.append(recordings["straight"].name)
        return contact_of(loaded, recordings, standards)

    monkeypatch.setattr("ohmsworth.adapters.files.contacts_folder.contact_of", counted)
    assert answer_study(wiring.load_study(folder)) == answer
    assert not analysed
    # What was kept before takes told their current is completed once, where the recordings are there.
    whole = json.loads((folder / takes_kept.FILE).read_text("utf-8"))
    lacking = json.loads((folder / takes_kept.FILE).read_text("utf-8"))
    for take in lacking["takes"].values():
        del take["told"]["state"]["current"]
    (folder / takes_kept.FILE).write_text(json.dumps(lacking), "utf-8")
    assert answer_study(wiring.load_study(folder)) == answer
    assert len(analysed) == 16
    assert json.loads((folder / takes_kept.FILE).read_text("utf-8")) == whole
    analysed.clear()
    # A recording that becomes another is analysed again, it alone.
    path = folder / "clean-1-1-straight.flac"
    take = wiring.open_recording([path])
    waves = take.whole(0, take.frames) * [0.5, 0.55]
    write_recording(path, recorded("again", take.rate, waves))
    before, changed = wiring.load_study(made), wiring.load_study(folder)
    assert analysed == ["clean-1-1-straight.flac"]
    assert changed.table.resistance is not None
    assert before.table.resistance is not None
    ratio = changed.table.resistance / before.table.resistance
    np.testing.assert_allclose(ratio[0], np.sqrt(1.1), rtol=1e-3)
    assert (ratio[1:] == 1).all()
    # A shunt that is stated otherwise makes all of them other impedances.
    text = (folder / "tones.toml").read_text("utf-8").replace("100 mΩ", "200 mΩ")
    (folder / "tones.toml").write_text(text, "utf-8")
    twice = wiring.load_study(folder)
    assert len(analysed) == 17
    assert twice.table.resistance is not None
    np.testing.assert_allclose(twice.table.resistance, 2 * changed.table.resistance, rtol=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{}",
        '{"format": "ohmsworth analysed takes 1", "frequency": [1], "takes": {"a": {}}}',
        '{"format": "ohmsworth analysed takes 2", "takes": {"a": {"basis": "b", "told": {}}}, "recordings": {}, "standards": {}}',
    ],
)
def test_what_is_kept_and_cannot_be_read_is_made_anew(tmp_path: Path, text: str) -> None:
    (tmp_path / takes_kept.FILE).write_text(text, "utf-8")
    assert not takes_kept.read_kept(tmp_path).takes


def refused(folder: Path) -> str:
    with pytest.raises(InputRefused) as caught:
        wiring.load_study(folder)
    assert all(fault.mend.endswith(".") and fault.expected for fault in caught.value.faults)
    return str(caught.value)


def test_all_faults_are_told_at_once(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    (folder / takes_kept.FILE).unlink(missing_ok=True)
    rows = (folder / "takes.csv").read_text("utf-8").splitlines()
    rows[1] = rows[1].replace("clean-1-1-straight", "nowhere")
    rows[2] = rows[2].replace("clean-1-2-swapped.flac", "../elsewhere.flac")
    rows[4] = rows[3]
    rows[5] = "C3,clean,1,,"
    (folder / "takes.csv").write_text("\n".join(rows) + "\n", "utf-8")
    (folder / "study.toml").write_text(STUDY.replace('reference = "clean"', 'reference = "shiny"'), "utf-8")
    told = refused(folder)
    for part in (
        "takes.csv, line 2, column 'straight': found 'nowhere.flac', and no such file",
        "takes.csv, line 3, column 'swapped': found '../elsewhere.flac', which is not below the study's folder",
        "takes.csv, line 5, column 'straight'",
        "takes.csv, line 6, column 'straight': found an empty cell",
        "a condition in takes.csv",
    ):
        assert part in told
    (folder / "tones.toml").unlink()
    shutil.copy(made / "takes.csv", folder)
    (folder / "study.toml").write_text(STUDY, "utf-8")
    assert "tones.toml" in refused(folder)


def test_one_recording_is_not_of_two_contacts(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    for way in ("straight", "swapped"):
        shutil.copy(folder / f"clean-2-1-{way}.flac", folder / f"clean-1-1-{way}.flac")
    assert "takes.csv, line 4: found recordings that are those of line 2, sample by sample" in refused(folder)


def test_frequencies_beyond_the_tones_are_refused(made: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    (folder / "study.toml").write_text(STUDY.replace("2.5 kHz", "20 kHz"), "utf-8")
    assert "found 20000 Hz; expected 21 Hz to 2517 Hz" in refused(folder)
    (folder / "takes.csv").unlink()
    assert "no takes.csv beside it" in refused(folder)


def test_the_plan_of_a_studys_recordings_is_not_replaced(
    made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    before = (folder / "plan.json").read_bytes()
    assert run(["tones", str(folder)]) == 2
    told = capsys.readouterr().err
    assert ".flac" in told
    assert "of another plan than tones.toml now asks for" in told
    assert (folder / "plan.json").read_bytes() == before
    assert not (folder / "drive.wav").exists()
    # A table that nobody can read may name recordings all the same.
    (folder / "takes.csv").write_text("straight,swapped\nx.wav,\n", "utf-8")
    assert run(["tones", str(folder)]) == 2
    assert "(takes.csv)" in capsys.readouterr().err
    # Names of what is still to be recorded keep nobody from wishing anew.
    (folder / "takes.csv").write_text(
        "specimen,condition,straight\nA,clean,none-yet.wav\nB,dark,nor-this.wav\n", "utf-8"
    )
    assert run(["tones", str(folder)]) == 0


def test_each_command_says_what_takes_are_for(
    made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["takes", str(made)]) == 2
    assert "answered with 'ohmsworth answer FOLDER'" in capsys.readouterr().err
    folder = tmp_path / "one contact"
    folder.mkdir()
    for name in ("tones.toml", "plan.json"):
        shutil.copy(made / name, folder)
    for command in ("answer", "plan", "lot", "fitness"):
        assert run([command, str(folder)]) == 2
        told = capsys.readouterr().err
        assert "'ohmsworth takes FOLDER'" in told
        assert "takes.csv in place of readings.csv" in told
    assert run(["fitness", str(made)]) == 2
    assert "Takes over frequency say nothing of the meters" in capsys.readouterr().err
    # Without any takes there is no word about them.
    assert run(["answer", str(tmp_path)]) == 2
    assert "takes" not in capsys.readouterr().err.replace(str(tmp_path), "")


def test_a_plan_leans_on_a_study_of_takes(
    made: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = 'question = "again?"\nreference = "clean"\n[plan]\ngoal = "detect"\neffect = "30 %"\n'
    (tmp_path / "study.toml").write_text(text + 'conditions = ["dark", "clean"]\n', "utf-8")
    assert run(["plan", str(tmp_path), "--from", str(made)]) == 0
    assert f"found in '{made.name}'" in " ".join(capsys.readouterr().out.split())


def test_direct_current_governs_and_is_held_against_the_tones(
    made: Path, tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = shutil.copytree(made, tmp_path / "study")
    study = wiring.load_study(made)
    assert study.impedances is not None
    assert study.table.resistance is not None
    table, lowest = study.table, study.impedances.found.value[:, 0].real
    assert table.mating is not None
    rng, rows = np.random.default_rng(5), ["specimen,condition,mating,resistance [mΩ]"]
    for i, r in enumerate(lowest):
        names = [labels.names[labels.codes[i]] for labels in (table.specimen, table.condition, table.mating)]
        share = 0.93 if names[1] == "dark" else 1.0
        rows.append(",".join([*names, f"{1e3 * r * share * (1 + 0.002 * rng.standard_normal()):.6f}"]))
    (folder / "readings.csv").write_text("\n".join(rows) + "\n", "utf-8")
    both = answer_study(wiring.load_study(folder))
    assert both.frequencies is not None
    assert answer.frequencies is not None
    assert both.frequencies.answered_at is None
    assert not both.sentence.startswith("By tones")
    assert both.frequencies.curves == answer.frequencies.curves
    told = {one.condition: one for one in both.frequencies.direct}
    assert told["clean"].explained
    assert not told["dark"].explained
    assert told["dark"].difference == pytest.approx(0.07 * told["dark"].tones, rel=0.1)
    assert "DIRECT_CURRENT_DISAGREES" in {w.code for w in both.warnings}
    assert run(["answer", str(folder)]) == 0
    assert "Tones beside direct current" in capsys.readouterr().out


def test_one_way_of_connecting_is_doubted(tmp_path: Path) -> None:
    folder = taken(tmp_path / "study", specimens=2, matings=1, kinds=1)
    answer = answer_study(wiring.load_study(folder))
    doubted = {w.code: w for w in answer.warnings}
    assert "4 takes (takes.csv, lines 2, 3, 4, 5)" in doubted["NO_SWAPPED_TAKE"].words
    assert any(line.source == "inputs' gain" for line in answer.budget)
