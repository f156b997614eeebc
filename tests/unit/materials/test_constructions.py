"""Constructions: the ways to describe a cable agree with one another, and what does not fit is refused."""

import math

import pytest

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import (
    CONSTRUCTIONS,
    ENTRIES,
    FAMILIES,
    Construction,
    Family,
    characteristic_impedance,
    conductor_from_text,
    conductor_impedance,
    construct,
    construction,
    keys_of,
    measured_of_elements,
    pair_in_screen,
    quad_in_screen,
    twist_factor,
    two_wires,
    velocity_factor_of,
    way_of,
)
from ohmsworth.sources import SOURCES
from ohmsworth.units import EXAMPLES

WIRE = "28 × 0.10 mm"


def built(family: str, **given: float | str) -> Construction:
    return construct("mine", "a cable", family, given, "practice")


def between(cable: Construction) -> float:
    """Capacitance between the two conductors in which the current flows."""
    values = cable.values
    if cable.family == "pair":
        return float(values["core_core"]) + float(values["core_screen"]) / 2
    return float(values["capacitance"])


def same(one: Construction, other: Construction) -> None:
    assert one.values.keys() == other.values.keys()
    for key, value in one.values.items():
        assert other.values[key] == (pytest.approx(value, rel=1e-9) if key != "conductor" else value), key


def test_a_pair_is_the_same_in_every_way() -> None:
    made = built("pair", conductor=WIRE, insulation_diameter=1.4e-3, screen_diameter=3e-3, permittivity=2.0)
    direct = pair_in_screen(conductor_from_text(WIRE).diameter or 0.0, 1.4e-3, 3e-3, 2.0)
    elements = {"core_core": direct.core_core, "core_screen": direct.core_screen}
    same(made, built("pair", conductor=WIRE, inductance=direct.inductance, **elements))
    core, rest = measured_of_elements(**elements)
    inside = 2 * conductor_impedance(conductor_from_text(WIRE), 293.15, 1e3).item().imag / (2e3 * math.pi)
    capacitances = {"measured_core_core": core, "measured_core_rest": rest}
    same(made, built("pair", conductor=WIRE, measured_inductance=direct.inductance + inside, **capacitances))
    impedance = characteristic_impedance(direct.inductance, core)
    velocity = velocity_factor_of(direct.inductance, core)
    same(made, built("pair", conductor=WIRE, impedance=impedance, **capacitances))
    travelling = {"conductor": WIRE, "impedance": impedance, "velocity_factor": velocity}
    same(made, built("pair", measured_core_rest=rest, **travelling))
    same(made, built("pair", core_screen=direct.core_screen, **travelling))


@pytest.mark.parametrize("family", ["coax", "two-core"])
def test_two_conductors_are_the_same_in_every_way(family: str) -> None:
    common: dict[str, float | str] = {"conductor": WIRE}
    if family == "coax":
        common["screen_diameter"] = 2.5e-3
        made = built(family, permittivity=2.3, **common)
    else:
        made = built(family, permittivity=2.3, insulation_diameter=1.4e-3, **common)
    capacitance, inductance = float(made.values["capacitance"]), float(made.values["inductance"])
    same(made, built(family, capacitance=capacitance, inductance=inductance, **common))
    wires = 1 if family == "coax" else 2
    inside = wires * conductor_impedance(conductor_from_text(WIRE), 293.15, 1e3).item().imag / (2e3 * math.pi)
    same(made, built(family, capacitance=capacitance, measured_inductance=inductance + inside, **common))
    impedance = characteristic_impedance(inductance, capacitance)
    same(made, built(family, capacitance=capacitance, impedance=impedance, **common))
    same(made, built(family, impedance=impedance, velocity_factor=1 / math.sqrt(2.3), **common))


def test_a_star_quad_has_legs_of_two_cores() -> None:
    made = built(
        "pair", conductor=WIRE, cores=4, insulation_diameter=1.2e-3, screen_diameter=3e-3, permittivity=2.0
    )
    assert made.values["conductor"] == "2 wires of 28 × 0.1 mm"
    diameter = conductor_from_text(WIRE).diameter or 0.0
    assert made.values["inductance"] == quad_in_screen(diameter, 1.2e-3, 3e-3, 2.0).inductance
    open_one = built(
        "two-core", conductor="2.5 mm²", cores=4, capacitance=150e-12, measured_inductance=0.3e-6
    )
    # Two wires in parallel have half the inside of one.
    assert open_one.values["inductance"] == pytest.approx(0.25e-6, rel=1e-2)
    assert conductor_from_text(str(open_one.values["conductor"])).area == pytest.approx(5e-6)


def test_a_twist_lengthens_wires_and_constants() -> None:
    given = {"conductor": f"{WIRE} + 1 % lay", "insulation_diameter": 1.4e-3, "permittivity": 2.0}
    straight, twisted = built("two-core", **given), built("two-core", pitch=30e-3, **given)
    factor = twist_factor(30e-3, 1.4e-3)
    assert twisted.values["inductance"] == pytest.approx(factor * float(straight.values["inductance"]))
    assert twisted.values["capacitance"] == pytest.approx(factor * float(straight.values["capacitance"]))
    lay = conductor_from_text(str(twisted.values["conductor"])).lay
    assert lay == pytest.approx(1.01 * factor - 1, rel=1e-3)


def test_a_bare_diameter_may_be_said() -> None:
    given = {"insulation_diameter": 3.4e-3, "permittivity": 3.0}
    stated = built("two-core", conductor="2.5 mm²", conductor_diameter=2.0e-3, **given)
    assert stated.values["inductance"] == two_wires(2.0e-3, 3.4e-3, 3.0).inductance
    with pytest.raises(ArgumentFault, match="an area does not tell") as fault:
        built("two-core", conductor="2.5 mm²", **given)
    assert fault.value.name == "conductor_diameter"


def test_what_is_not_known_is_left_to_the_circuit() -> None:
    bare = built("coax", conductor=WIRE, screen_diameter=2e-3, permittivity=2.3)
    assert set(bare.values) == {"conductor", "capacitance", "inductance", "screen_diameter"}
    full = built(
        "coax",
        conductor=WIRE,
        screen_diameter=2e-3,
        permittivity=2.3,
        screen_resistance=0.02,
        loss_tangent=1e-3,
    )
    assert (full.values["screen_resistance"], full.values["loss_tangent"]) == (0.02, 1e-3)


PAIR = {"conductor": WIRE}
TWO = {"conductor": WIRE, "capacitance": 70e-12}


@pytest.mark.parametrize(
    ("family", "given", "name"),
    [
        ("pair", PAIR, "core_core"),
        ("pair", {"core_core": 1e-11, "core_screen": 1e-10, "inductance": 5e-7}, "conductor"),
        ("pair", {**PAIR, "core_core": 1e-11, "core_screen": 1e-10}, "inductance"),
        ("pair", {**PAIR, "core_core": 0.0, "core_screen": 0.0, "inductance": 5e-7}, "core_core"),
        ("pair", {**PAIR, "capacitance": 1e-10}, "capacitance"),
        ("pair", {"conductor": "2 x 2.5 mm²", "core_core": 1e-11, "core_screen": 1e-10, "inductance": 5e-7}, "conductor"),
        ("pair", {**PAIR, "measured_core_core": 60e-12, "measured_core_rest": 150e-12, "impedance": 100.0}, "measured_core_rest"),
        ("pair", {**PAIR, "measured_core_core": 20e-12, "measured_core_rest": 30e-12, "impedance": 100.0}, "measured_core_core"),
        ("pair", {**PAIR, "impedance": 110.0, "velocity_factor": 0.7, "core_screen": 1e-10}, "core_screen"),
        ("pair", {**PAIR, "cores": 3, "core_core": 1e-11, "core_screen": 1e-10, "inductance": 5e-7}, "cores"),
        ("pair", {**PAIR, "insulation_diameter": 0.5e-3, "screen_diameter": 3e-3, "permittivity": 2.0}, "insulation_diameter"),
        ("pair", {**PAIR, "insulation_diameter": 1.4e-3, "screen_diameter": 2e-3, "permittivity": 2.0}, "insulation_diameter"),
        ("two-core", {**TWO, "inductance": 5e-7, "impedance": 80.0}, "impedance"),
        ("two-core", {**TWO, "impedance": 20.0}, "capacitance"),
        ("two-core", {**TWO, "inductance": 5e-8}, "inductance"),  # faster than light
        ("two-core", {**TWO, "inductance": 5e-5}, "inductance"),  # slower than anything
        ("two-core", {**TWO, "inductance": 5e-2}, "inductance"),
        ("two-core", {**TWO, "inductance": math.nan}, "inductance"),
        ("two-core", {**TWO, "inductance": "0.5 µH/m"}, "inductance"),
        ("two-core", {**TWO, "measured_inductance": 5e-8}, "measured_inductance"),
        ("two-core", {"conductor": WIRE, "permittivity": 3.0}, "insulation_diameter"),
        ("two-core", {**PAIR, "insulation_diameter": 1.4e-3, "permittivity": 3.0, "pitch": 2e-3}, "pitch"),
        ("two-core", {**TWO, "inductance": 5e-7, "pitch": 3e-2}, "pitch"),
        ("coax", {"conductor": WIRE, "permittivity": 2.3}, "screen_diameter"),
        ("coax", {"conductor": WIRE, "screen_diameter": 0.5e-3, "permittivity": 2.3}, "screen_diameter"),
    ],
)  # fmt: skip
def test_the_entry_to_be_corrected_is_named(family: str, given: dict[str, float | str], name: str) -> None:
    with pytest.raises(ArgumentFault) as fault:
        built(family, **given)
    assert fault.value.name == name
    assert ", wanted " in str(fault.value)


def test_an_unknown_family_is_told_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="two-core"):
        built("triax", conductor=WIRE)


@pytest.mark.parametrize("family", FAMILIES.values(), ids=lambda family: family.name)
def test_every_entry_can_be_written_and_every_way_told_apart(family: Family) -> None:
    assert len({way.keys for way in family.ways}) == len(family.ways)
    for key in keys_of(family):
        entry = ENTRIES[key]
        assert entry.dimension in {*EXAMPLES, "number", "text"}
        assert entry.words
        assert entry.dimension == "text" or entry.lowest < entry.highest
    for way in family.ways:
        assert {*way.keys, *way.optional}.isdisjoint((*family.needed, *family.optional))
        assert way_of(family, dict.fromkeys((*way.keys, *way.optional), 1.0)) == way


@pytest.mark.parametrize("cable", CONSTRUCTIONS, ids=lambda cable: cable.name)
def test_a_cable_of_the_library_is_complete(cable: Construction) -> None:
    assert cable.source in SOURCES
    assert cable.words
    assert construction(cable.name) is cable
    conductor = conductor_from_text(str(cable.values["conductor"]))
    assert 0.03e-6 < conductor.area < 10e-6
    numbers = {key: float(value) for key, value in cable.values.items() if key != "conductor"}
    assert 0 < numbers["loss_tangent"] < 0.1
    known = {
        "pair": {"core_core", "core_screen", "screen_resistance"},
        "coax": {"capacitance", "screen_diameter", "screen_resistance"},
        "two-core": {"capacitance"},
    }
    assert set(numbers) == {"inductance", "loss_tangent", *known[cable.family]}
    assert 0.4 < velocity_factor_of(numbers["inductance"], between(cable)) < 0.9


def test_the_area_in_a_name_is_that_of_the_strands() -> None:
    """Class 5 and finer: strands have a few per cent less than the nominal area."""
    for cable in CONSTRUCTIONS:
        stated = [
            word for word in cable.name.replace("mm²,", "mm²").split() if word.replace(".", "").isdigit()
        ]
        if "mm²" in cable.name:
            conductor = conductor_from_text(str(cable.values["conductor"]))
            area = conductor.area / conductor.wires * 1e6
            assert area == pytest.approx(float(stated[-1]), rel=0.035), cable.name


def test_names_as_they_are_typed() -> None:
    for typed in ("Microphone pair 0.22 mm2", "microphone  pair 0.22 mm²", " MICROPHONE PAIR 0.22 MM² "):
        assert construction(typed).name == "microphone pair 0.22 mm²"
    for typed in ("star quad 4x0.20 mm2", "Star quad 4 X 0.20 mm²"):
        assert construction(typed).values["conductor"] == "2 wires of 26 × 0.1 mm + 2 % lay"
    assert construction("digital audio pair 110 ohm").name == "digital audio pair 110 \u03a9"
    assert construction("digital audio pair 110 \u2126").name == "digital audio pair 110 \u03a9"


def test_an_unknown_cable_is_told_the_nearest() -> None:
    with pytest.raises(UnknownName, match="microphone pair") as fault:
        construction("microfone pair 0.22 mm2")
    assert fault.value.nearest == "microphone pair 0.22 mm²"
    assert len(fault.value.known) == len(CONSTRUCTIONS)


def test_the_shop_comes_first_where_it_stands_first() -> None:
    own = built("pair", conductor=WIRE, impedance=110.0, velocity_factor=0.7, core_screen=0.0)
    named = Construction("Microphone Pair 0.22 mm2", own.words, own.family, own.values, own.source)
    assert construction("microphone pair 0.22 mm²", (named, *CONSTRUCTIONS)) is named
    with pytest.raises(TypeError):
        named.values["inductance"] = 0.0  # type: ignore[index]
