"""cables.toml: the shop's own cables, and every fault of the file at once."""

from pathlib import Path

import pytest

from ohmsworth.adapters.files.cables import read_cables
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.materials import CONSTRUCTIONS, FAMILIES, construct, construction

WHOLE = """
# What hangs on our wall.
[[cable]]
name = "stage pair"
words = "the black one"
source = "datasheet of March 2026"
family = "pair"
conductor = "28 x 0,10 mm + 2 %"
measured_core_core = "60 pF/m"
measured_core_rest = "105 nF/km"
measured_inductance = "0.62 µH/m"
screen_resistance = "25 mΩ/m"
loss_tangent = 0.001

[[cable]]
name = "thin video"
family = "coax"
conductor = "1 x 0.6 mm"
screen_diameter = "2.85 mm"
impedance = "75 Ω"
velocity_factor = "80 %"

[[cable]]
name = "quad for loudspeakers"
family = "two-core"
cores = 4
conductor = "2.5 mm²"
conductor_diameter = "2 mm"
insulation_diameter = "3.2 mm"
permittivity = 3
pitch = "80 mm"
"""


def faults_of(folder: Path, text: str | bytes) -> tuple[Fault, ...]:
    path = folder / "cables.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(InputRefused) as refused:
        read_cables(path)
    return refused.value.faults


def one(**keys: str) -> str:
    """A [[cable]] with these lines, beside a name."""
    lines = {"name": "'mine'", **keys}
    return "[[cable]]\n" + "\n".join(f"{key} = {value}" for key, value in lines.items())


def test_a_file_of_cables(tmp_path: Path) -> None:
    (tmp_path / "cables.toml").write_text(WHOLE, "utf-8")
    pair, video, quad = read_cables(tmp_path / "cables.toml")
    assert (pair.name, pair.words, pair.source) == ("stage pair", "the black one", "datasheet of March 2026")
    assert pair.values["core_core"] == pytest.approx(15e-12)
    assert pair.values["core_screen"] == pytest.approx(90e-12)
    assert pair.values["inductance"] == pytest.approx((0.62 - 2 * 0.051) * 1e-6, rel=1e-4)
    assert pair.values["screen_resistance"] == 0.025
    assert pair.values["loss_tangent"] == 0.001
    assert (video.words, video.source) == ("the shop's own", "cables.toml")
    assert video.values["capacitance"] == pytest.approx(1 / (75 * 0.8 * 299_792_458))
    given = {
        "conductor": "2.5 mm²", "cores": 4, "conductor_diameter": 2e-3, "insulation_diameter": 3.2e-3,
        "permittivity": 3.0, "pitch": 0.08,
    }  # fmt: skip
    assert quad.values == construct("", "", "two-core", given, "").values
    assert construction("Thin Video", (*read_cables(tmp_path / "cables.toml"), *CONSTRUCTIONS)) == video


def test_a_file_without_a_cable_has_none(tmp_path: Path) -> None:
    (tmp_path / "cables.toml").write_text("# nothing yet\n", "utf-8")
    assert read_cables(tmp_path / "cables.toml") == ()


def test_every_fault_is_listed(tmp_path: Path) -> None:
    text = "\n".join(
        (
            one(
                family='"pair"', conductor='"2 x 2.5 mm²"', permittivity="22", insulation_diameter='"1.4 mm"'
            ),
            one(name='"MINE"', family='"coaxial"'),
            one(family='"coax"', conductor='"copper"', screen_diameter="3.7", capacitence='"67 pF/m"'),
            one(
                name='"x"',
                family='"two-core"',
                conductor='"2.5 mm²"',
                capacitance='"70 nF/m"',
                inductance="1",
            ),
        )
    )
    faults = faults_of(tmp_path, "owner = 'me'\n" + text)
    places = [(fault.where.removeprefix("cables.toml, "), fault) for fault in faults]
    assert [place for place, _ in places] == [
        "[[cable]] number 1, key 'conductor'",
        "[[cable]] number 1, key 'permittivity'",
        "[[cable]] number 1, key 'screen_diameter'",
        "[[cable]] number 2, key 'name'",
        "[[cable]] number 2, key 'family'",
        "[[cable]] number 3, key 'name'",
        "[[cable]] number 3, key 'conductor'",
        "[[cable]] number 3, key 'screen_diameter'",
        "[[cable]] number 3, key 'capacitence'",
        "[[cable]] number 3, key 'capacitance'",
        "[[cable]] number 4, key 'capacitance'",
        "[[cable]] number 4, key 'inductance'",
        "key 'owner'",
    ]
    told = dict(places)
    assert "write 2.5 mm²" in told["[[cable]] number 1, key 'conductor'"].mend
    assert (
        "insulation_diameter and permittivity" in told["[[cable]] number 1, key 'screen_diameter'"].expected
    )
    assert "[[cable]] number 1" in told["[[cable]] number 2, key 'name'"].expected
    assert told["[[cable]] number 2, key 'family'"].mend == 'Did you mean "coax"?'
    assert "'capacitance'" in told["[[cable]] number 3, key 'capacitence'"].mend
    assert told["[[cable]] number 4, key 'capacitance'"].expected == "1 pF/m to 10 nF/m"
    assert all(fault.found and fault.expected and fault.mend for fault in faults)


COAX = {"family": "'coax'", "conductor": "'24 AWG'", "screen_diameter": "'2 mm'", "permittivity": "2"}
TWO = {
    "family": "'two-core'",
    "conductor": "'24 AWG'",
    "capacitance": "'70 pF/m'",
    "inductance": "'0.5 µH/m'",
}
MEASURED = {"family": "'two-core'", "insulation_diameter": "'3 mm'", "permittivity": "2"}
NAMELESS = "\n".join(f"{key} = {value}" for key, value in COAX.items())


@pytest.mark.parametrize(
    ("text", "key", "told"),
    [
        (
            one(family="'pair'", conductor="'0.22 mm²'"),
            "core_core",
            "measured_core_core, measured_core_rest and",
        ),
        (one(conductor="'0.22 mm²'"), "family", "two like cores in a screen"),
        (f"[[cable]]\n{NAMELESS}", "name", "a name"),
        (one(**COAX, name="''"), "name", "a text"),
        (one(**COAX, name=f"'{'x' * 200}'"), "name", "120"),
        (
            one(**{key: COAX[key] for key in COAX if key != "screen_diameter"}),
            "screen_diameter",
            "over its dielectric",
        ),
        (one(**{**COAX, "conductor": "24"}), "conductor", "text in quotation"),
        (one(**{**COAX, "permittivity": "'2 Ω'"}), "permittivity", "plain number"),
        (one(**{**COAX, "permittivity": "true"}), "permittivity", "plain ratio"),
        (one(**{**COAX, "permittivity": "nan"}), "permittivity", "1 to 10"),
        (one(**{**COAX, "screen_diameter": "'0.4 mm'"}), "screen_diameter", "inner conductor"),
        (one(**MEASURED, conductor="'2.5 mm²'"), "conductor_diameter", "strands"),
        (one(**TWO, cores="3"), "cores", "2 or 4"),
        (one(**{**TWO, "inductance": "'0.05 µH/m'"}), "inductance", "velocity"),
        (one(**TWO, impedance="'80 Ω'"), "impedance", "say the same"),
        (one(**TWO, screen_resistance="'1 Ω/km'"), "screen_resistance", "one of"),
        (one(**TWO, length="'3 m'"), "length", "one of"),
    ],
)
def test_a_fault_names_its_key(tmp_path: Path, text: str, key: str, told: str) -> None:
    (fault,) = faults_of(tmp_path, text)
    assert fault.where == f"cables.toml, [[cable]] number 1, key '{key}'"
    assert told in fault.expected
    assert "study" not in fault.mend
    assert "[[use]]" not in fault.mend


@pytest.mark.parametrize(
    ("text", "where", "told"),
    [
        ("[cable]\nname = 'x'", "cables.toml, key 'cable'", "[[cable]]"),
        ("[[cable]]\nname = x", "cables.toml, line 2, column 8", "TOML"),
        ("x = 1,5", "cables.toml, line 1, column 6", "TOML"),
        (b"\xff\xfe\x00", "cables.toml, line 1", "text"),
        ("x = " + "[" * 5000, "cables.toml", "short file"),
    ],
)
def test_a_file_that_is_no_list_of_cables(tmp_path: Path, text: str | bytes, where: str, told: str) -> None:
    (fault,) = faults_of(tmp_path, text)
    assert fault.where == where
    assert told in f"{fault.found} {fault.expected}"
    assert "ohmsworth new" not in fault.mend


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match=r"no such file.*\[\[cable\]\]"):
        read_cables(tmp_path / "cables.toml")


@pytest.mark.parametrize("family", FAMILIES)
def test_every_way_can_be_written(tmp_path: Path, family: str) -> None:
    """Each way of each family, with sound values, is read."""
    written = {
        "conductor": '"28 x 0.10 mm"', "screen_diameter": '"3 mm"', "insulation_diameter": '"1.4 mm"',
        "permittivity": "2.0", "capacitance": '"70 pF/m"', "core_core": '"15 pF/m"', "core_screen": '"70 pF/m"',
        "measured_core_core": '"55 pF/m"', "measured_core_rest": '"70 pF/m"', "inductance": '"0.5 µH/m"',
        "measured_inductance": '"0.6 µH/m"', "impedance": '"100 Ω"', "velocity_factor": "0.66",
    }  # fmt: skip
    for way in FAMILIES[family].ways:
        keys = dict.fromkeys((*FAMILIES[family].needed, *way.keys))
        text = one(family=f'"{family}"', **{key: written[key] for key in keys})
        (tmp_path / "cables.toml").write_text(text, "utf-8")
        (cable,) = read_cables(tmp_path / "cables.toml")
        assert cable.family == family
        assert 0.3e-6 < float(cable.values["inductance"]) < 0.8e-6
