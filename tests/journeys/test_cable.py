"""A built cable from its description to its verdict, through the command line."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from itertools import product
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]  # published without types
import numpy as np
import pytest

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.adapters.simulated.cable import BAD, EXCESS, PLACE, TOUCHING
from ohmsworth.cli.app import run
from ohmsworth.report.answer import as_json
from ohmsworth.report.cable_answer import CableAnswer

Captured = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "src/ohmsworth/report/cable.schema.json").read_text("utf-8"))
CABLE = """\
name = "line"
serial = "12"
length = "10 m"
length_tolerance = "1 %"
temperature = "20 °C"
temperature_tolerance = "2 K"
[ends.A]
contacts = ["1-3", "shell"]
contact_resistance = "3 mΩ"
contact_limit = "10 mΩ"
allowance = "5 cm"
[ends.B]
contacts = ["1-3", "shell"]
contact_resistance = "3 mΩ"
contact_limit = "10 mΩ"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[kinds.screen]
resistance = "40 mΩ/m"
tolerance = "10 %"
role = "screen"
[[wires]]
name = "screen"
from = "A:1"
to = "B:1"
kind = "screen"
[[wires]]
name = "hot"
from = "A:2"
to = "B:2"
kind = "core"
pair = "signal"
[[wires]]
name = "cold"
from = "A:3"
to = "B:3"
kind = "core"
pair = "signal"
[meter]
accuracy = "0.2 % + 2 counts"
resolution = "1 mΩ"
"""
HEAD = "from,to,resistance [Ω]\n"
#: Nets screen, hot, cold and both shells, told apart by three measurements.
APART = "A:1 A:shell B:shell,A:2 A:3,open\nA:1 A:2 A:shell,A:3 B:shell,open\nA:1 A:2 A:3 B:shell,A:shell,open\nA:2,A:3,open\n"
APART += "A:1,B:shell,open\nA:2,B:shell,open\nA:3,B:shell A:shell,open\nA:1,A:2 A:3,open\n"
SOUND = "A:1,B:1,0.41\nA:2,B:2,0.790\nA:3,B:3,0.791\n"


def folder(place: Path, test: str | None = None, cable: str = CABLE) -> Path:
    (place / "cable.toml").write_text(cable, "utf-8")
    if test is not None:
        (place / "test.csv").write_text(HEAD + test, "utf-8")
    return place


def answer(place: Path, capsys: Captured) -> dict[str, Any]:
    code = run(["cable", str(place), "--json"])
    out, err = capsys.readouterr()
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    return found


def test_the_sheet_before_anything_is_measured(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path), capsys)
    assert found["verdict"] is None
    assert (found["nets"], found["pairs"], len(found["measurements"])) == (5, 10, 3)
    hot = found["wires"][1]
    # By hand: 10 m of 0.22 mm² at 58 MS/m, and 3 mΩ at either end.
    assert hot["usual"] == pytest.approx(10 / 58e6 / 0.22e-6 + 6e-3)
    assert hot["low"] == pytest.approx(10 / 58e6 / 0.22e-6 * 0.95 * 0.99 * (1 - 2 * 0.00393))
    assert hot["high"] == pytest.approx(10 / 58e6 / 0.22e-6 * 1.05 * 1.01 * (1 + 2 * 0.00393) + 20e-3)
    assert hot["cut"] == pytest.approx(10.1)
    assert run(["cable", str(tmp_path)]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    for words in (
        "3 readings from end to end and 3 measurements more",
        "What must not touch",
        "carries no voltage",
    ):
        assert words in printed


def test_a_sound_cable_is_right(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path, SOUND + APART), capsys)
    assert (found["verdict"], found["pairs_left"], found["following"]) == ("right", 0, None)
    assert {wire["verdict"] for wire in found["wires"]} == {"within"}
    assert found["sentence"].startswith("Line 12 is right: 3 wires")


@pytest.mark.parametrize(
    ("test", "verdict", "words"),
    [
        ("A:1,B:1,0.41\nA:2,B:2,open\nA:3,B:3,open\nA:2,B:3,0.79\nA:3,B:2,0.79\n", "wrong",
         "a pair is reversed: hot and cold are exchanged at one end."),
        (SOUND + "A:1,A:shell,0.02\n", "wrong", "screen touches the shell at A:shell."),
        (SOUND + "A:2,A:3,1.2\n", "wrong", "hot and cold touch."),
        ("A:1,B:1,0.41\nA:2,B:2,open\nA:3,B:3,0.79\n", "wrong", "hot does not reach from A:2 to B:2."),
        ("A:1,B:1,0.41\nA:2,B:2,0.99\nA:3,B:3,0.79\n", "wrong", "hot has 990.0 ± 2.3 mΩ, over the 858 mΩ"),
        (SOUND + "A:1 A:2,A:3 A:shell,0.9\n", "wrong", "Something touches in the groups of line 5: halve them to find it."),
        (SOUND, "cannot tell yet", "10 of 10 pairs may still touch"),
        ("A:1,B:1,0.41\n", "cannot tell yet", "2 wires not read (hot and cold)"),
        ("A:1,B:1,0.41\nA:2,B:2,0.857\nA:3,B:3,0.79\n" + APART, "too close to call", "hot too close to a bound to call"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_as_a_person_would(
    tmp_path: Path, capsys: Captured, test: str, verdict: str, words: str
) -> None:
    found = answer(folder(tmp_path, test), capsys)
    assert found["verdict"] == verdict
    assert words in found["sentence"]


def test_the_next_measurement_is_a_step(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path, "A:1,B:1,0.41\nA:2,B:2,open\nA:3,B:3,open\n"), capsys)
    assert any(action["words"] == "Measure A:2 against B:3." for action in found["actions"])


def test_a_touch_is_found_by_doing_what_is_asked(tmp_path: Path, capsys: Captured) -> None:
    """The screen touches B's shell: measure what is asked until nothing is left; never more than 10 pairs alone would take."""
    test = SOUND
    for _ in range(10):
        found = answer(folder(tmp_path, test), capsys)
        after = found["following"]
        if after is None:
            break
        path = ("A:1" in after["one"] and "B:shell" in after["other"]) or (
            "B:shell" in after["one"] and "A:1" in after["other"]
        )
        test += f"{' '.join(after['one'])},{' '.join(after['other'])},{'0.3' if path else 'open'}\n"
    assert found["following"] is None
    assert [fault["kind"] for fault in found["faults"]] == ["screen on shell"]
    assert found["pairs_left"] == 0


def test_a_place_off_the_cable_is_a_doubt(tmp_path: Path, capsys: Captured) -> None:
    locate = '[[locate]]\nmethod = "loop from both ends"\nwires = ["hot", "cold"]\nnear = "9 Ω ± 1 mΩ"\nfar = "1 Ω ± 1 mΩ"\n'
    (place,) = answer(folder(tmp_path, SOUND, CABLE + locate), capsys)["places"]
    assert place["beyond"]
    assert "off a cable of 10 m: something taken for granted does not hold" in place["words"]


@pytest.mark.parametrize(
    ("near", "far", "joints", "first"),
    [
        ("1.0", "1.2", "", "cut it off towards end A"),
        ("1.2", "1.0", "", "cut it off towards end B"),
        ("0.1", "1.6", "", "Open end A first: it may lie there"),
        ("1.6", "0.1", "", "Open end B first: it may lie there"),
        ("1.0", "1.2", 'joints = ["1 m", "4.4 m"]\n', "Open the joint at 4.4 m first"),
    ],
)
def test_where_to_open_first(
    tmp_path: Path, capsys: Captured, near: str, far: str, joints: str, first: str
) -> None:
    """x = 5 m + (near − far)/(4 r), r = 78.4 mΩ/m: 4.36 m or 5.64 m; and 0.21 m or 9.79 m, give or take as much."""
    locate = (
        f'[[locate]]\nmethod = "loop from both ends"\nwires = ["hot", "cold"]\nnear = "{near} Ω ± 5 mΩ"\n'
        f'far = "{far} Ω ± 5 mΩ"\n'
    )
    (place,) = answer(folder(tmp_path, None, joints + CABLE + locate), capsys)["places"]
    assert place["metres"] == pytest.approx(5 + (float(near) - float(far)) / (4 / 58e6 / 0.22e-6))
    assert first in place["words"]


def test_a_reading_that_cannot_be_is_refused(tmp_path: Path, capsys: Captured) -> None:
    locate = '[[locate]]\nmethod = "capacitance from both ends"\nwires = ["hot"]\nnear = "0 nF ± 1"\nfar = "0 nF ± 1"\n'
    assert run(["cable", str(folder(tmp_path, None, CABLE + locate))]) == 2
    assert "[[locate]] number 1, key 'near'" in capsys.readouterr().err


def test_every_report_is_written(tmp_path: Path, capsys: Captured) -> None:
    place = tmp_path / "cable"
    wiring.write_demo_cable(place)
    targets = [
        "--html",
        str(tmp_path / "r.html"),
        "--pdf",
        str(tmp_path / "r.pdf"),
        "--pictures",
        str(tmp_path / "p"),
    ]
    (tmp_path / "p").mkdir()
    assert run(["cable", str(place), *targets]) == 0
    page = (tmp_path / "r.html").read_text("utf-8")
    assert "Hot 5 has" in page
    assert page.index("blades away from hand and body") < page.index("Cut list")
    assert "insulation and mains safety are not judged here" in page
    assert (tmp_path / "r.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "p" / "cable-fellows.svg").exists()


def test_nothing_takes_the_place_of_what_is_read(tmp_path: Path, capsys: Captured) -> None:
    place = folder(tmp_path)
    assert run(["cable", str(place), "--html", str(place / "test.csv")]) != 0
    assert not (place / "test.csv").exists()


def test_the_demonstration_finds_what_was_planted(tmp_path: Path) -> None:
    wiring.write_demo_cable(tmp_path)
    found = ow.cable(tmp_path)
    assert [(fault.kind, set(fault.wires)) for fault in found.faults] == [("touch", set(TOUCHING))]
    assert [one.wire for one in found.stands_out] == [BAD]
    assert found.stands_out[0].low < EXCESS < found.stands_out[0].high
    assert found.places[0].low < PLACE < found.places[0].high
    assert found.pairs_left == 0
    assert ow.cable(wiring.load_cable(tmp_path)) == found


WAYS = 48
MULTICORE = """\
name = "multicore"
length = "40 m"
length_tolerance = "1 %"
[ends.A]
contacts = ["1-48.1-3", "shell"]
contact_resistance = "4 mΩ"
contact_limit = "15 mΩ"
[ends.B]
contacts = ["1-48.1-3", "shell"]
contact_resistance = "4 mΩ"
contact_limit = "15 mΩ"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
name = "screen"
from = "A:1-48.1"
to = "B:1-48.1"
[[wires]]
name = "hot"
from = "A:1-48.2"
to = "B:1-48.2"
pair = "way"
[[wires]]
name = "cold"
from = "A:1-48.3"
to = "B:1-48.3"
pair = "way"
[[links]]
contacts = ["A:1-48.1", "A:shell"]
[meter]
accuracy = "0.1 % + 2 counts"
resolution = "1 mΩ"
"""


def multicore(place: Path, far: Mapping[str, str], seed: int = 1) -> CableAnswer:
    """48 ways of three contacts, every wire read; `far` says on which contact of B a wire sits that is not on its own."""
    rng = np.random.default_rng(seed)
    names = [f"{way}.{k}" for way, k in product(range(1, WAYS + 1), (1, 2, 3))]
    rows = []
    for name in names:
        ohm = f"{3.14 * (1 + 1e-3 * rng.standard_normal()) + 8e-3 + (0.04 if name == '17.2' else 0.0):.3f}"
        if name in far:
            rows += [f"A:{name},B:{name},open", f"A:{name},B:{far[name]},{ohm}"]
        else:
            rows.append(f"A:{name},B:{name},{ohm}")
    rows += [f"A:{way}.1,A:shell,0.002" for way in range(1, WAYS + 1)]
    return ow.cable(folder(place, "\n".join(rows) + "\n", MULTICORE))


def test_a_multicore_of_144_wires_is_answered_whole(tmp_path: Path) -> None:
    found = multicore(tmp_path, {"5.2": "5.3", "5.3": "5.2", "9.2": "10.2", "10.2": "9.2"})
    assert len(found.wires) == 144
    assert [(fault.kind, fault.wires) for fault in found.faults] == [
        ("reversed pair", ("hot 5", "cold 5")),
        ("crossed", ("hot 9", "hot 10")),
    ]
    assert [one.wire for one in found.stands_out] == ["hot 17"]
    # 96 cores, one net of all screens and the near shell, and the far shell.
    assert found.nets == 98
    assert len(found.measurements) == math.ceil(math.log2(98))
    assert not any(wire.together for wire in found.wires)
    jsonschema.Draft202012Validator(SCHEMA).validate(json.loads(json.dumps(as_json(found))))


FOUR = CABLE.replace('"1-3", "shell"', '"1-5", "shell"') + "".join(
    f'[[wires]]\nname = "core {k}"\nfrom = "A:{k}"\nto = "B:{k}"\nkind = "core"\n' for k in (4, 5)
)
APART_OF_FOUR = "".join(
    f"{one},rest,open\n"
    for one in ("A:1 B:1", "A:2 B:2", "A:3 B:3", "A:4 B:4", "A:5 B:5", "A:shell", "B:shell")
)


@pytest.mark.parametrize(
    ("core", "verdict"), [("0.55", "wrong"), ("0.760", "look first")], ids=["under", "less than its fellows"]
)
def test_a_cable_that_reads_too_little_is_never_to_be_passed(
    tmp_path: Path, capsys: Captured, core: str, verdict: str
) -> None:
    read = f"A:1,B:1,0.41\nA:2,B:2,0.790\nA:3,B:3,0.791\nA:4,B:4,{core}\nA:5,B:5,0.790\n"
    found = answer(folder(tmp_path, read + APART_OF_FOUR, FOUR), capsys)
    assert found["verdict"] == verdict
    told = " ".join(one["words"] for one in found["actions"])
    assert "core 4 read so little" in told
    assert "Pass it" not in told


@pytest.mark.parametrize(("shown", "code"), [("-0.002", 0), ("-0.02", 2)])
def test_a_link_may_show_as_little_below_zero_as_the_meter_is_unsure_of(
    tmp_path: Path, capsys: Captured, shown: str, code: int
) -> None:
    """2 counts of 1 mΩ are 1.15 mΩ as a standard uncertainty: a meter shows −2 mΩ across nothing, and never −20 mΩ."""
    linked = CABLE.replace("[meter]", '[[links]]\ncontacts = ["A:1", "A:shell"]\n[meter]')
    assert run(["cable", str(folder(tmp_path, SOUND + f"A:1,A:shell,{shown}\n", linked))]) == code
    assert ("zero or more" in capsys.readouterr().err) == bool(code)


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (1.2, "a length of 12.0 m rather than 10 m, copper at 71 °C or another conductor would make it so"),
        (1000.0, "All 3 wires have about 1000 times what they should. A slipped unit or decimal mark would make it so"),
    ],
)  # fmt: skip
def test_wires_that_are_all_off_alike_send_nobody_to_the_terminations(
    tmp_path: Path, capsys: Captured, times: float, words: str
) -> None:
    """20 + 51 °C: copper has 0.393 % more a kelvin ("IACS"), 20 % after 51 K."""
    read = "".join(
        f"A:{k},B:{k},{ohm * times + 0.006:.4f}\n" for k, ohm in enumerate((0.400, 0.7837, 0.7837), 1)
    )
    found = answer(folder(tmp_path, read + APART), capsys)
    assert found["verdict"] == "wrong"
    assert [fault["kind"] for fault in found["faults"]] == ["not as described"]
    assert words.lower() in found["findings"][0].lower()
    steps = " ".join(one["words"] for one in found["actions"])
    assert "Check the description and the meter" in steps
    assert "terminations" not in steps


def test_screens_that_bridge_each_other_are_loosened_and_not_terminated_anew(
    tmp_path: Path, capsys: Captured
) -> None:
    """Two screens linked at both ends read half of one; with one broken the other's whole 0.8 Ω shows on both."""
    screens = CABLE.replace('contacts = ["1-3", "shell"]', 'contacts = ["1-4", "shell"]').replace(
        "[meter]",
        '[[wires]]\nname = "screen 2"\nfrom = "A:4"\nto = "B:4"\nkind = "screen"\n'
        '[[links]]\ncontacts = ["A:1", "A:4", "A:shell"]\n[[links]]\ncontacts = ["B:1", "B:4", "B:shell"]\n[meter]',
    )
    read = "A:1,B:1,0.405\nA:4,B:4,0.405\nA:2,B:2,0.790\nA:3,B:3,0.791\n"
    found = answer(folder(tmp_path, read, screens), capsys)
    assert found["verdict"] == "wrong"
    steps = " ".join(one["words"] for one in found["actions"])
    assert "Loosen the links at one end and read screen and screen 2 one by one" in steps
    assert "terminations" not in steps


#: Hot and cold touch 3 m from A with 0.5 Ω: 78.37 mΩ/m ("IACS"), and 6 mΩ of two contacts at each end.
LOOPS = "A:2,A:3,0.976\nB:2,B:3,1.603\n"


def test_where_two_wires_touch_is_told_from_the_rows_alone(tmp_path: Path, capsys: Captured) -> None:
    (place,) = answer(folder(tmp_path, SOUND + LOOPS), capsys)["places"]
    assert (place["wires"], place["near"]) == (["hot", "cold"], "A")
    assert place["metres"] == pytest.approx(3.0, abs=0.02)
    assert place["low"] < 3.0 < place["high"]
    assert "it lies in the cable and not at an end" in place["words"].lower()


def test_a_touch_is_followed_by_what_tells_its_place(tmp_path: Path, capsys: Captured) -> None:
    found = answer(folder(tmp_path, SOUND + LOOPS.splitlines()[0] + "\n"), capsys)
    assert found["places"] == []
    step = found["actions"][0]
    assert step["words"].startswith(
        "Measure A:2 against A:3 and B:2 against B:3, each with the other end free"
    )
    assert any("carries no voltage" in caution for caution in step["cautions"])


def test_a_wire_that_does_not_reach_is_looked_at_by_its_ends_and_then_by_its_capacitance(
    tmp_path: Path, capsys: Captured
) -> None:
    found = answer(folder(tmp_path, "A:1,B:1,0.41\nA:2,B:2,open\nA:3,B:3,0.79\n"), capsys)
    assert "Look at both terminations of hot first" in found["actions"][0]["words"]


def test_readings_that_say_nothing_of_the_place_open_nothing(tmp_path: Path, capsys: Captured) -> None:
    """A touch of 20 kΩ read to 0.2 %: ± 40 Ω stand beside the 0.2 Ω of the whole loop."""
    (place,) = answer(folder(tmp_path, SOUND + "A:2,A:3,20000\nB:2,B:3,20000\n"), capsys)["places"]
    assert (place["low"], place["high"]) == (0.0, 10.0)
    assert "may lie anywhere" in place["words"]
