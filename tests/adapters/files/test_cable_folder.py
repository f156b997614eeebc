"""The folder of a cable: what spreadsheets and people write is read, and everything wrong is told at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from ohmsworth.adapters.files.cable_folder import load_cable
from ohmsworth.adapters.files.cable_places import contacts_from_text, group_from_text, places_from_text
from ohmsworth.cables.build import Place
from ohmsworth.cables.no_path import NO_PATH_WORDS
from ohmsworth.errors import InputRefused, QuantityFault
from ohmsworth.report.cable_words import places_in_short

CABLE = """\
name = "line"
length = "10 m"
length_tolerance = "1 %"
temperature = "21 °C"
temperature_tolerance = "2 °C"
[ends.A]
connector = "plug"
contacts = ["1-3", "shell"]
contact_resistance = "3 mΩ"
contact_limit = "10 mΩ"
[ends.B]
contacts = ["1-3", "shell"]
[kinds.core]
conductor = "0.22 mm² + 2 % lay"
tolerance = "5 %"
[kinds.screen]
resistance = "40 Ω/km"
tolerance = "10 %"
role = "screen"
[[wires]]
name = "screen"
from = "A:1"
to = "B:1"
kind = "screen"
[[wires]]
name = "core"
from = "A:2-3"
to = "B:2-3"
kind = "core"
pair = "signal"
colour = ["red", "blue"]
[[links]]
contacts = ["A:1", "A:shell"]
"""
METER = """\
[meter]
accuracy = "0.5 % + 3 counts"
resolution = "0.01 Ω"
wires = "two-wire"
leads = "0.2 Ω"
leads_uncertainty = "10 mΩ"
"""
ENDS = {"A": ("1", "2", "3", "shell"), "B": ("1", "2", "3", "shell")}


def folder(path: Path, cable: str = CABLE + METER, test: str | bytes | None = None) -> Path:
    (path / "cable.toml").write_text(cable, "utf-8")
    if test is not None:
        (path / "test.csv").write_bytes(test if isinstance(test, bytes) else test.encode())
    return path


def refused(path: Path, cable: str = CABLE + METER, test: str | None = None) -> list[str]:
    with pytest.raises(InputRefused) as caught:
        load_cable(folder(path, cable, test))
    return [str(fault) for fault in caught.value.faults]


def test_a_cable_is_read(tmp_path: Path) -> None:
    found = load_cable(folder(tmp_path))
    build = found.request.build
    assert found.rows is None
    assert [(w.name, str(w.start), str(w.stop), w.pair, w.colour) for w in build.wires] == [
        ("screen", "A:1", "B:1", "", ""),
        ("core 2", "A:2", "B:2", "signal 2", "red"),
        ("core 3", "A:3", "B:3", "signal 3", "blue"),
    ]
    assert build.wires[1].kind.per_metre == pytest.approx(1.02 / 58e6 / 0.22e-6)
    assert build.wires[0].kind.per_metre == pytest.approx(0.04)
    assert build.length_tolerance == pytest.approx(0.1)
    assert (found.request.temperature, found.request.temperature_tolerance) == pytest.approx((294.15, 2.0))
    assert {frozenset(map(str, link)) for link in build.links} == {frozenset(("A:1", "A:shell"))}
    assert found.request.meter is not None
    assert found.request.meter.leads.value == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1-3", ("1", "2", "3")),
        ("1 – 3", ("1", "2", "3")),
        ("shell", ("shell",)),
        ("9-10.1-2", ("9.1", "9.2", "10.1", "10.2")),
        ("4.+", ("4.+",)),
    ],
)
def test_contacts(text: str, expected: tuple[str, ...]) -> None:
    assert contacts_from_text(text) == expected


@pytest.mark.parametrize("text", ["", "3-1", "2-2", "1-99999", "1-48.1-48.1-2", "A:1"])
def test_contacts_that_cannot_be(text: str) -> None:
    with pytest.raises(QuantityFault):
        contacts_from_text(text)


@pytest.mark.parametrize("text", ["A:1 A:3", "A:1, 3", "A:1;A:3", "A:1+3", "A: 1 3", "A:1 A:1 A:3"])
def test_contacts_joined_by_hand(text: str) -> None:
    assert group_from_text(text, ENDS) == (Place("A", "1"), Place("A", "3"))


def test_contacts_as_the_sheet_tells_them_can_be_typed_back() -> None:
    places = [
        Place(end, name) for end in ("A", "B") for name in (*contacts_from_text("1-3.1-3"), "7.2", "shell")
    ]
    ends = {end: tuple(place.contact for place in places if place.end == end) for end in ("A", "B")}
    told = places_in_short(map(str, places))
    assert told == "A:1.1–3, 2.1–3, 3.1–3, 7.2, shell; B:1.1–3, 2.1–3, 3.1–3, 7.2, shell"
    assert group_from_text(told, ends) == tuple(places)


@pytest.mark.parametrize("text", ["1", "C:1", "A:4", "A", ""])
def test_places_that_are_not_there(text: str) -> None:
    with pytest.raises(QuantityFault):
        places_from_text(text, ENDS)


SHEETS = {
    "commas": "from,to,resistance [Ω]\nA:1,B:1,0.61\nA:2,B:2,open\nA:3,B:3,\n\"A:1 A:2\",A:3,OL\n",
    "semicolons and decimal commas": "From;To;Resistance [Ω];note\r\nA:1;B:1;0,61;\r\nA:2;B:2;O.L;x\r\n"
    "A:3;B:3;;\r\nA:1, 2;A:3;OL;\r\n;;;\r\n",
    "tabs and a mark": "\ufefffrom\tto\tresistance (Ohm)\nA:1\tB:1\t0.61\nA:2\tB:2\tOPEN\nA:3\tB:3\t\nA:1 A:2\tA:3\tinf\n",
    "quoted milliohm": 'sep=;\n"from";"to";"resistance [mΩ]"\n"A:1";"B:1";"610"\n"A:2";"B:2";"0L"\n'
    '"A:3";"B:3";""\n"A:1+2";"A:3";"∞"\n',
}  # fmt: skip


@pytest.mark.parametrize("name", SHEETS)
@pytest.mark.parametrize("code", ["utf-8", "utf-16"])
def test_what_spreadsheets_write(tmp_path: Path, name: str, code: str) -> None:
    text = SHEETS[name] if code == "utf-8" else SHEETS[name].removeprefix("\ufeff")
    found = load_cable(folder(tmp_path, test=text.encode(code)))
    assert found.rows is not None
    told = [([str(p) for p in r.one], [str(p) for p in r.other], r.ohm) for r in found.rows]
    assert told == [
        (["A:1"], ["B:1"], pytest.approx(0.61)),
        (["A:2"], ["B:2"], None),
        (["A:1", "A:2"], ["A:3"], None),  # the empty cell between them: not measured yet
    ]


@pytest.mark.parametrize("word", NO_PATH_WORDS)
def test_every_word_for_no_path(tmp_path: Path, word: str) -> None:
    found = load_cable(folder(tmp_path, test=f"from,to,resistance [Ω]\nA:1,B:1,{word.upper()}\n"))
    assert found.rows is not None
    assert [row.ohm for row in found.rows] == [None]


def test_the_rest_is_every_other_contact(tmp_path: Path) -> None:
    found = load_cable(folder(tmp_path, test="from,to,resistance [Ω]\nA:1 A:shell B:1,rest,open\n"))
    assert found.rows is not None
    assert [str(place) for place in found.rows[0].other] == ["A:2", "A:3", "B:2", "B:3", "B:shell"]


def test_all_faults_of_both_files_at_once(tmp_path: Path) -> None:
    cable = (
        CABLE.replace('length = "10 m"', 'length = "10"')
        .replace('to = "B:2-3"', 'to = "B:2-4"')
        .replace('kind = "screen"', 'kind = "scren"')
        .replace('tolerance = "5 %"', 'tolernace = "5 %"')
        .replace('contact_limit = "10 mΩ"\n', "")
    )
    test = "from,to,resistance [Ω]\nA:9,B:1,0.6\nA:1,B:1,abc\nA:1 B:1,A:1,1\nA:2,B:2,-0.1\nrest,rest,1\n"
    told = refused(tmp_path, cable + METER.replace('leads = "0.2 Ω"\n', ""), test)
    for words in (
        "key 'length'",
        "'4', which end B does not have",
        "Did you mean 'screen'?",
        "key 'tolernace': found an unknown key",
        "[kinds.core], key 'tolerance': found no such key",
        "[ends.A], key 'contact_limit'",
        "[meter], key 'leads'",
        "test.csv, line 2, column 'from': found '9'",
        "test.csv, line 3, column 'resistance'",
        "test.csv, line 4: found 'A:1' on both sides",
        "test.csv, line 5, column 'resistance': found '-0.1'",
        "test.csv, line 6: found 'rest' on both sides",
    ):
        assert sum(words in fault for fault in told) == 1, words
    assert len(told) == 12


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('from = "A:1"', 'from = "B:2"', "key 'to'"),
        ('name = "screen"', 'name = "core 2"', "key 'name'"),
        ('contacts = ["A:1", "A:shell"]', 'contacts = ["A:1", "B:shell"]', "[[links]] number 1, key 'contacts'"),
        ('contacts = ["A:1", "A:shell"]', 'contacts = ["A:1"]', "[[links]] number 1, key 'contacts'"),
        ('colour = ["red", "blue"]', 'colour = ["red"]', "key 'colour'"),
        ('resistance = "40 Ω/km"', 'resistance = "40 Ω/km"\nconductor = "24 AWG"', "[kinds.screen], key 'conductor'"),
        ('conductor = "0.22 mm² + 2 % lay"', 'conductor = "thin"', "[kinds.core], key 'conductor'"),
        ('temperature = "21 °C"', 'temperature = "210 °C"', "key 'temperature'"),
        ('temperature_tolerance = "2 °C"', 'temperature_tolerance = "90 °C"', "key 'temperature_tolerance'"),
        ('length_tolerance = "1 %"', 'length_tolerance = "12 m"', "key 'length_tolerance'"),
        ('to = "B:2-3"', 'to = "B:2"', "key 'to'"),
        ('contacts = ["1-3", "shell"]', 'contacts = ["1-3", "2"]', "key 'contacts'"),
    ],
)  # fmt: skip
def test_each_fault_says_where(tmp_path: Path, old: str, new: str, where: str) -> None:
    assert CABLE.count(old) >= 1
    told = refused(tmp_path, CABLE.replace(old, new, 1))
    assert any(where in fault for fault in told), told


def test_measurements_need_a_meter(tmp_path: Path) -> None:
    assert load_cable(folder(tmp_path, CABLE)).request.meter is None
    (told,) = refused(tmp_path, CABLE, "from,to,resistance [Ω]\nA:1,B:1,0.6\n")
    assert "cable.toml, key 'meter'" in told


LOCATE = """\
[[locate]]
method = "loop from both ends"
wires = ["core 2", "core 3"]
from = "B"
near = "0.9 Ω ± 5 mΩ"
far = "0,8 Ω ± 0,005"
"""


def test_readings_of_a_place(tmp_path: Path) -> None:
    (found,) = load_cable(folder(tmp_path, CABLE + LOCATE)).request.locate
    assert (found.method, found.wires, found.at) == ("loop from both ends", ("core 2", "core 3"), "B")
    for name, value in (("near", 0.9), ("far", 0.8)):
        assert found.readings[name].value == pytest.approx(value)
        assert found.readings[name].uncertainty == pytest.approx(0.005 / 3**0.5)


def test_a_core_and_the_screen_may_touch(tmp_path: Path) -> None:
    """The commonest touch of all: what a metre of either has is known, so that the loop tells where."""
    (found,) = load_cable(folder(tmp_path, CABLE + LOCATE.replace("core 3", "screen"))).request.locate
    assert found.wires == ("core 2", "screen")


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('near = "0.9 Ω ± 5 mΩ"', 'near = "0.9 Ω"', "key 'near'"),
        ('near = "0.9 Ω ± 5 mΩ"', 'near = "0.9 nF ± 1 %"', "key 'near'"),
        ('near = "0.9 Ω ± 5 mΩ"\n', "", "key 'near'"),
        ('wires = ["core 2", "core 3"]', 'wires = ["core 2"]', "key 'wires'"),
        (
            'from both ends"\nwires = ["core 2", "core 3"]',
            'from both ends and a sound pair"\nwires = ["core 2", "screen"]',
            "key 'wires'",
        ),
        ('wires = ["core 2", "core 3"]', 'wires = ["core 2", "core 4"]', "key 'wires'"),
        ('method = "loop from both ends"', 'method = "guess"', "key 'method'"),
        ('from = "B"', 'from = "C"', "key 'from'"),
        ('from = "B"', 'from = "B"\nwhole = "1 Ω ± 1 %"', "key 'whole'"),
    ],
)
def test_each_fault_of_a_place(tmp_path: Path, old: str, new: str, where: str) -> None:
    told = refused(tmp_path, CABLE + LOCATE.replace(old, new))
    assert any(f"[[locate]] number 1, {where}" in fault for fault in told), told


def test_no_cable_in_the_folder(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=r"cable.toml: found no such file"):
        load_cable(tmp_path)
