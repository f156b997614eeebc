"""Profiles of instruments: those that come with the program, those of the manual, and what is refused."""

import re
from pathlib import Path

import pytest

from ohmsworth import wiring
from ohmsworth.adapters.files import load_profiles
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Typed
from ohmsworth.work.instruments import BASE_UNITS

MANUAL = Path(__file__).parents[3] / "docs/meters.md"
METER = '[[meter]]\nname = "mine"\nquantity = "voltage"\nunit = "V"\nquery = "READ?"\n'
SOURCE = '[[source]]\nname = "mine"\n'
RANGE = '[[meter.range]]\nup_to = "20 mV"\naccuracy = "0.5 % + 3 counts"\nresolution = "1 µV"\n'


def load(folder: Path, text: str):
    path = folder / "meters.toml"
    path.write_text(text, encoding="utf-8")
    return load_profiles(path)


def test_the_standard_profiles_keep_to_base_units_and_state_no_accuracy() -> None:
    standard = wiring.load_profiles()
    assert {"SCPI voltmeter", "SCPI ammeter", "SCPI ohmmeter, four-wire"} <= set(standard.meters)
    assert "SCPI current source" in standard.sources
    for meter in standard.meters.values():
        assert not meter.ranges
        assert meter.source
        assert meter.unit == ("" if meter.unit_sent else BASE_UNITS[meter.quantity])


def test_the_example_of_the_manual_is_read(tmp_path: Path) -> None:
    [text] = re.findall(r"```toml\n(.*?)```", MANUAL.read_text("utf-8"), re.DOTALL)
    found = load(tmp_path, text)
    voltmeter = found.meters["bench voltmeter"]
    assert voltmeter.talk.expected == "left voltmeter"
    assert voltmeter.talk.timeout == 5.0
    assert [each.up_to for each in voltmeter.ranges] == [0.1, 1.0]
    fine = voltmeter.range_for(Typed("0.2351", "mV", "voltage"))
    assert fine is not None
    assert (fine.accuracy.gain, fine.accuracy.counts, fine.accuracy.resolution) == (5e-5, 35, 1e-7)
    assert voltmeter.range_for(Typed("2", "V", "voltage")) is None
    hand = found.meters["hand meter, milliohms"]
    assert (hand.sends, hand.unit, hand.before, hand.talk.answer_end) == ("on its key", "mΩ", "R4W", "\r")
    source = found.sources["bench supply"]
    assert (source.reversible, source.most_current, source.least_compliance) == (False, 3.0, 0.1)


def test_the_keys_of_the_manual_are_those_that_are_read(tmp_path: Path) -> None:
    """Every key of the tables is one that the reader knows: an unknown one is told by name."""
    page = MANUAL.read_text("utf-8")
    keys = re.findall(r"^\| `([a-z_]+)` \|", page, re.MULTILINE)
    assert len(keys) > 25
    with pytest.raises(InputRefused) as caught:
        load(
            tmp_path, METER + "".join(f"{key} = 1\n" for key in keys if key not in METER) + SOURCE + "x = 1\n"
        )
    listed = " ".join(fault.expected for fault in caught.value.faults if fault.found == "an unknown key")
    told = {fault.where.rpartition("key ")[2].strip("'") for fault in caught.value.faults}
    assert all(key in listed or key in told or key in METER for key in keys)


@pytest.mark.parametrize(
    ("text", "where", "found"),
    [
        ("", "meter", "no profile at all"),
        ("[[meter]]\n", "name", "no such key"),
        ("[[meter]]\n", "quantity", "no such key"),
        ("[[meter]]\n", "unit", "no such key"),
        ("[[meter]]\n", "query", "no query"),
        (METER.replace('"mine"', '"SCPI Voltmeter"'), "name", "a second time"),
        (METER + METER, "name", "a second time"),
        (METER.replace('"V"', '"A"'), "unit", "'A'"),
        (METER.replace('"voltage"', '"volts"'), "quantity", "'volts'"),
        (METER + "unit_sent = true\n", "unit", "a unit, though"),
        (METER + 'unit_sent = "yes"\n', "unit_sent", "'yes'"),
        (METER + 'sends = "continuously"\n', "query", "a query"),
        (METER + 'timeout = "5"\n', "timeout", "unit"),
        (METER + "timeout = 5\n", "timeout", "without a unit"),
        (METER + 'timeout = "10 min"\n', "timeout", "'10 min'"),
        (METER + "baud = 1\n", "baud", "1"),
        (METER + 'frame = "8X1"\n', "frame", "'8X1'"),
        (METER + 'answer_end = "NL"\n', "answer_end", "'NL'"),
        (METER + 'clear = "hope"\n', "clear", "'hope'"),
        (METER + 'identify = "*IDN?\\n*RST"\n', "identify", "IDN"),
        (METER + 'setup = ["SENSe:FUNCtion Ω"]\n', "setup", "Ω"),
        (METER + "setup = [3]\n", "setup", "3"),
        (METER + 'qwery = "x"\n', "qwery", "an unknown key"),
        (METER + RANGE.replace('"0.5 % + 3 counts"', '"good"'), "accuracy", "'good'"),
        (METER + RANGE.replace('"20 mV"', '"20 mA"'), "up_to", "mA"),
        (METER + RANGE.replace('"1 µV"', '"1 V"'), "resolution", "as large as"),
        (METER + RANGE + RANGE, "up_to", "no more than"),
        (METER + "[[meter.range]]\n", "resolution", "no such key"),
        (SOURCE + 'set_current = "CURR"\n', "set_current", "'CURR'"),
        (SOURCE + 'set_current = "CURR {ampere} {volt}"\n', "set_current", "CURR"),
        (SOURCE + 'open_circuit_voltage = "5 V"\nset_compliance = "VOLT {volt}"\n', "open_circuit_voltage", "beside"),
        (SOURCE + 'most_current = "0 A"\n', "most_current", "0 A"),
        ("meter = 3\n", "meter", "3"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_place(tmp_path: Path, text: str, where: str, found: str) -> None:
    with pytest.raises(InputRefused) as caught:
        load(tmp_path, text)
    matching = [fault for fault in caught.value.faults if fault.where.endswith(f"key '{where}'")]
    assert any(found in fault.found for fault in matching), caught.value
    assert all(fault.mend and fault.where.startswith("meters.toml") for fault in caught.value.faults)


def test_several_faults_are_told_at_once_and_text_that_is_no_toml_too(tmp_path: Path) -> None:
    with pytest.raises(InputRefused) as caught:
        load(tmp_path, METER.replace('"V"', '"A"') + "baud = 1\n" + SOURCE + "reversible = 1\n")
    assert len(caught.value.faults) == 4  # the name twice too
    with pytest.raises(InputRefused, match="TOML"):
        load(tmp_path, "[[meter]\n")
    with pytest.raises(InputRefused):
        load_profiles(tmp_path / "nowhere.toml")


def test_own_profiles_stand_beside_the_standard_ones(tmp_path: Path) -> None:
    found = load(tmp_path, METER + RANGE)
    assert {"mine", "SCPI voltmeter"} <= set(found.meters)
