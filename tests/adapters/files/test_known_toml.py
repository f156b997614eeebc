"""What tones.toml says beside the wishes, and what is refused in which words."""

from __future__ import annotations

from pathlib import Path

import pytest

from ohmsworth.adapters.files.tones_template import TONES_TEMPLATE
from ohmsworth.adapters.files.tones_toml import read_tones
from ohmsworth.readings.study import Limit
from ohmsworth.resistance.impedance.circuit import Shunt
from ohmsworth.resistance.impedance.known import Direct, Known

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


def known(folder: Path, text: str) -> Known:
    (folder / "tones.toml").write_text(text, "utf-8")
    found, faults = read_tones(folder / "tones.toml")
    assert not faults
    assert found is not None
    return found[1]


def told(folder: Path, more: str) -> str:
    (folder / "tones.toml").write_text(LEAST + more, "utf-8")
    found, faults = read_tones(folder / "tones.toml")
    assert found is None
    return "\n".join(map(str, faults))


def test_nothing_need_be_known(tmp_path: Path) -> None:
    assert known(tmp_path, LEAST) == Known()
    assert known(tmp_path, TONES_TEMPLATE) == Known()


def test_the_remarks_of_a_new_one_may_become_lines(tmp_path: Path) -> None:
    head, _, tail = TONES_TEMPLATE.partition("# What follows is for")
    head = head.replace("# distortion = ", "distortion = ").replace(
        "# channels = [1, 2]", "channels = [3, 4]"
    )
    lines = [line.removeprefix("# ") for line in tail.splitlines()[1:]]
    found = known(tmp_path, head + "\n".join(lines))
    assert found == Known(
        Limit(3e-3, "whose limit it is"),
        Direct(9.1e-3, 20e-6, 10e-3, True),
        Shunt(10e-3, 0.005),
        "2026-03-03",
        (3, 4),
        pytest.approx(1e-5),  # type: ignore[arg-type]
    )


def test_a_day_is_a_date_of_toml_or_a_text(tmp_path: Path) -> None:
    for day in ("2026-03-03", '"2026-03-03"', "2026-03-03T08:00:00"):
        assert known(tmp_path, f"{LEAST}\n[calibration]\ndate = {day}\n").calibrated == "2026-03-03"


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ('[limit]\nresistance = "3 mΩ"', 'expected source = "whose limit it is"'),
        ('[limit]\nresistance = "3 m"\nsource = "us"', "[limit], key 'resistance'"),
        ('[direct]\nresistance = "3 mΩ"', "[direct], key 'uncertainty': found no such key"),
        ('[direct]\nresistance = "3 mΩ"\nuncertainty = "1 µΩ"\nreversed = "yes"', "true or false"),
        ('[load]\nresistance = "3 mΩ"', "[load], key 'tolerance'"),
        ("[calibration]\n", "a day such as 2026-03-03"),
        ('[calibration]\ndate = "yesterday"', "found 'yesterday'"),
        ("[inputs]\nchannels = [1, 1]", "two different numbers"),
        ("[inputs]\nchannels = 2", "two different numbers"),
        ('[inputs]\ndistortion = "-10 dB"', "[inputs], key 'distortion'"),
        ('[direct]\nresistence = "3 mΩ"\nresistance = "3 mΩ"\nuncertainty = "1 µΩ"', "Did you mean"),
        ("limit = 3", "[limit]"),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, more: str, words: str) -> None:
    if not more.startswith("["):
        (tmp_path / "tones.toml").write_text(more + LEAST, "utf-8")
        assert words in "\n".join(map(str, read_tones(tmp_path / "tones.toml")[1]))
    else:
        assert words in told(tmp_path, more)
