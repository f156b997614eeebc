"""Studies that are on no disk: read as they would be, and nowhere else."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from tests.adapters.files.logs import QUESTION_TEXT, small_study

from ohmsworth import wiring
from ohmsworth.errors import InputRefused, OutputFault


def test_past_studies_come_by_their_number(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    log = small_study()
    log.ask('history = ["study 12"]\n' + QUESTION_TEXT)
    past = wiring.folder_of(small_study().state)
    loaded = wiring.read_folder(wiring.folder_of(log.state), {12: past}.get)
    assert [name for name, _ in loaded.history] == ["study 12"]
    assert list(tmp_path.iterdir()) == []  # nothing is left behind


@pytest.mark.parametrize("name", ["study 13", "../last year", "/etc", "study 012", "study -1"])
def test_a_history_elsewhere_is_refused(name: str) -> None:
    log = small_study()
    log.ask(f'history = ["{name}"]\n' + QUESTION_TEXT)
    with pytest.raises(InputRefused, match="no study of the records"):
        wiring.read_folder(wiring.folder_of(log.state), {12: {}}.get)


@pytest.mark.parametrize("name", ["/etc/hostname", "../lead.s2p", "a\\\\b.s2p"])
def test_a_lead_elsewhere_is_refused(name: str) -> None:
    toml = f'[[use]]\nkind = "measured lead"\ntouchstone = "{name}"\n'
    with pytest.raises(InputRefused, match="a file of the study"):
        wiring.read_question_text(toml)


def test_a_question_is_read_with_the_files_beside_it() -> None:
    toml = '[[use]]\nkind = "balanced line"\ncable = "own"\n'
    cables = b'[[cable]]\nname = "own"\nfamily = "pair"\nconductor = "0.22 mm\xc2\xb2"\n'
    cables += b'measured_core_core = "60 pF/m"\nmeasured_core_rest = "105 nF/km"\nmeasured_inductance = "0.62 \xc2\xb5H/m"\n'
    with pytest.raises(InputRefused):
        wiring.read_question_text(toml)
    assert wiring.read_question_text(toml, {"cables.toml": cables}).uses[0].kind == "balanced line"


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(InputRefused) as refused:
        wiring.read_question_text('scale = "x"\nmargin = "3 V"\n')
    assert [fault.where for fault in refused.value.faults] == [
        "study.toml, key 'scale'",
        "study.toml, key 'margin'",
    ]


def test_no_room_is_said_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
    with pytest.raises(OutputFault, match="cannot be laid down"):
        wiring.read_folder(wiring.folder_of(small_study().state))
