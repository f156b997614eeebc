"""What a described cable should read, against published wire tables, from its file to the answer."""

from pathlib import Path

import pytest
from tests.published.printed import assert_printed
from tests.published.test_conductors import AWG_TABLE, CLASS5

import ohmsworth as ow

CABLE = """\
length = "{length}"
temperature = "20 °C"
[ends.A]
contacts = "1"
[ends.B]
contacts = "1"
[kinds.wire]
conductor = "{conductor}"
tolerance = "{tolerance}"
[[wires]]
from = "A:1"
to = "B:1"
"""


def wire(folder: Path, length: str, conductor: str, tolerance: str) -> tuple[float, float]:
    text = CABLE.format(length=length, conductor=conductor, tolerance=tolerance)
    (folder / "cable.toml").write_text(text, "utf-8")
    (found,) = ow.cable(folder).wires
    return found.usual, found.high


@pytest.mark.parametrize("gauge", [10, 16, 20, 22, 24, 26, 30])
def test_a_thousand_feet_of_each_gauge(tmp_path: Path, gauge: int) -> None:
    """Copper wire tables, ohm per 1000 ft at 20 °C, published: here 1000 ft of cable between bare ends."""
    assert_printed(AWG_TABLE[gauge], wire(tmp_path, "1000 ft", f"{gauge} AWG", "1 %")[0])


@pytest.mark.parametrize("area", CLASS5)
def test_what_the_standard_allows_lies_within_the_tolerance_that_is_advised(
    tmp_path: Path, area: str
) -> None:
    """IEC 60228 class 5, published: ohm per km at most. A refusal tells of up to 16 % above the nominal area."""
    usual, high = wire(tmp_path, "1 km", f"{area} mm²", "16 %")
    assert usual < float(CLASS5[area][0]) <= high
