"""tones.toml: what a new one says, what may be written, and what is refused in which words."""

from __future__ import annotations

from pathlib import Path

import pytest

from ohmsworth.adapters.files.tones_folder import load_tones
from ohmsworth.adapters.files.tones_template import TONES_TEMPLATE
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.wishes import Wishes

LEAST = """
contact = "10 mΩ"
current = "20 mA"
[output]
full_scale = "1.4 V"
[circuit]
series = "47 Ω"
[circuit.shunt]
resistance = "0.1 Ω"
tolerance = "1 %"
"""


def read(folder: Path, text: str) -> tuple[Wishes | None, list[Fault]]:
    (folder / "tones.toml").write_text(text, "utf-8")
    found, faults = read_tones(folder / "tones.toml")
    return (None if found is None else found[0]), faults


def wished(folder: Path, text: str) -> Wishes:
    wishes, faults = read(folder, text)
    assert not faults
    assert wishes is not None
    return wishes


def test_a_new_one_says_what_a_short_one_leaves_out(tmp_path: Path) -> None:
    new, short = wished(tmp_path, TONES_TEMPLATE), wished(tmp_path, LEAST)
    assert short == Wishes(Circuit(Shunt(0.1, 0.01), 47.0, 1.4), 0.01, 0.02)
    assert new == Wishes(Circuit(Shunt(0.1, 0.01), 47.0, 1.4, 0.82, None, 1e-5), 0.01, 0.02, noise=new.noise)
    assert new.noise == pytest.approx(short.noise)


def test_every_remark_of_a_new_one_may_become_a_line(tmp_path: Path) -> None:
    text = TONES_TEMPLATE.partition("# What follows is for")[0]
    for key in ("uncertainty", "turned", "period", "full_scale", "inductance", "inductance_tolerance"):
        assert f"# {key} = " in text
        text = text.replace(f"# {key} = ", f"{key} = ")
    wishes = wished(tmp_path, text)
    assert wishes.uncertainty == 1e-6
    assert wishes.turned
    assert wishes.takes == 4
    assert wishes.period == 1.0
    assert wishes.circuit.inputs == (0.2, 0.2)
    assert wishes.circuit.shunt == Shunt(0.1, 0.01, 5e-9, 2e-9)


@pytest.mark.parametrize(
    ("old", "new", "name", "value"),
    [
        ('current = "20 mA"', 'current_rms = "5 mA"', "rms", True),
        ('current = "20 mA"', 'current_rms = "5 mA"', "current", 0.005),
        ('lowest = "20 Hz"', 'lowest = "100 Hz"', "low", 100.0),
        ('highest = "20 kHz"', 'highest = "2 kHz"', "high", 2000.0),
        ("number = 11", "number = 3", "tones", 3),
        ('way = "together"', 'way = "in turn"', "way", "in turn"),
        ('time = "60 s"', 'time = "2 min"', "seconds", 120.0),
        ('rate = "48 kHz"', 'rate = "176.4 kHz"', "rate", 176_400),
        ("channels = 2", "channels = 1", "channels", 1),
        ('noise = "2 µV"', 'noise_density = "7 nV/√Hz"', "noise", 7e-9),
        ('noise = "2 µV"', 'noise_density = "7 nV/rtHz"', "noise", 7e-9),
    ],
)
def test_every_wish_is_heard(old: str, new: str, name: str, value: object, tmp_path: Path) -> None:
    assert old in TONES_TEMPLATE
    assert getattr(wished(tmp_path, TONES_TEMPLATE.replace(old, new)), name) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "share"), [("-80 dB", 1e-4), ("−80 dB", 1e-4), ("0.01 %", 1e-4), ("3 ppm", 3e-6)]
)
def test_crosstalk_is_a_share_or_decibels(text: str, share: float, tmp_path: Path) -> None:
    assert wished(tmp_path, TONES_TEMPLATE.replace("-100 dB", text)).circuit.crosstalk == pytest.approx(share)


@pytest.mark.parametrize("sign", ["±", "± ", "+/-", "+-", ""])
def test_a_tolerance_has_its_sign_or_not(sign: str, tmp_path: Path) -> None:
    text = LEAST.replace('"1 %"', f'"{sign}0.5 %"')
    assert wished(tmp_path, text).circuit.shunt.tolerance == pytest.approx(0.005)


@pytest.mark.parametrize(
    ("old", "new", "where", "words"),
    [
        ('contact = "10 mΩ"', "", "key 'contact'", "no such key"),
        ('contact = "10 mΩ"', "contact = 10", "key 'contact'", "without a unit"),
        ('current = "20 mA"', "", "key 'current'", "current_rms"),
        ('current = "20 mA"', 'current = "2 mA"\ncurrent_rms = "1 mA"', "key 'current'", "both"),
        ('current = "20 mA"', 'current = "20 kA"', "key 'current'", "kA"),
        ("[output]\nfull_scale", "full_scale", "key 'output'", "no such table"),
        ('full_scale = "1.4 V"', "", "[output], key 'full_scale'", "no such key"),
        ('full_scale = "1.4 V"', 'full_scale = "1.4 V"\nchannels = 3', "[output], key 'channels'", "1 to 2"),
        ('series = "47 Ω"', 'serie = "47 Ω"', "[circuit], key 'serie'", "Did you mean 'series'"),
        ('tolerance = "1 %"', 'tolerance = "1"', "[circuit.shunt], key 'tolerance'", "no unit"),
        ('resistance = "0.1 Ω"', 'resistance = "0.1 V"', "[circuit.shunt], key 'resistance'", "unit of resistance"),
    ],
)  # fmt: skip
def test_a_fault_says_where_and_what(old: str, new: str, where: str, words: str, tmp_path: Path) -> None:
    assert old in LEAST
    wishes, faults = read(tmp_path, LEAST.replace(old, new, 1))
    assert wishes is None
    told = [str(fault) for fault in faults if fault.where == f"tones.toml, {where}"]
    assert told
    assert words in told[0]


@pytest.mark.parametrize(
    ("line", "where"),
    [
        ('[tones]\nrate = "50 kHz"', "[tones], key 'rate'"),
        ("[tones]\nnumber = 32", "[tones], key 'number'"),
        ('[tones]\nway = "alternating"', "[tones], key 'way'"),
        ('[inputs]\nnoise = "1 µV"\nnoise_density = "5 nV/√Hz"', "[inputs], key 'noise'"),
        ('[inputs]\ncrosstalk = "+3 dB"', "[inputs], key 'crosstalk'"),
    ],
)
def test_a_table_too_many_of_bad_keys_is_refused(line: str, where: str, tmp_path: Path) -> None:
    wishes, faults = read(tmp_path, f"{LEAST}{line}\n")
    assert wishes is None
    assert [fault.where for fault in faults] == [f"tones.toml, {where}"]


def test_a_folder_without_the_file_gets_one_to_begin_with(tmp_path: Path) -> None:
    loaded = load_tones(tmp_path / "new")
    assert loaded.begin == TONES_TEMPLATE.encode()
    assert loaded.plan is None
    assert not (tmp_path / "new").exists()
    (tmp_path / "straight.wav").touch()
    (tmp_path / "tones.toml").write_text(LEAST, "utf-8")
    loaded = load_tones(tmp_path)
    assert loaded.begin is None
    assert loaded.recordings == ("straight.wav",)


def test_what_is_no_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "tones.toml").write_text(LEAST, "utf-8")
    with pytest.raises(InputRefused, match="a folder"):
        load_tones(tmp_path / "tones.toml")
