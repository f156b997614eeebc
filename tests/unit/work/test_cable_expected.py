"""What the description alone says of loops and capacitances, held against the invented cable by hand."""

from pathlib import Path

import pytest

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.errors import InputRefused


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    wiring.write_demo_cable(tmp_path / "cable")
    return tmp_path / "cable"


def test_loops_of_pairs_are_both_wires_in_a_row(folder: Path) -> None:
    found = ow.cable(folder)
    assert [one.wires for one in found.loops] == [(f"hot {k}", f"cold {k}") for k in range(1, 9)]
    by_name = {wire.name: wire for wire in found.wires}
    one = found.loops[0]
    assert one.usual == pytest.approx(by_name["hot 1"].usual + by_name["cold 1"].usual)
    assert one.low == pytest.approx(by_name["hot 1"].low + by_name["cold 1"].low)
    assert one.high == pytest.approx(by_name["hot 1"].high + by_name["cold 1"].high)


def test_capacitances_are_those_of_the_kind(folder: Path) -> None:
    """By hand: 40 m ± 1 % of 150 pF/m ± 10 %; the screens' kind says nothing."""
    found = ow.cable(folder)
    assert len(found.capacitances) == 16
    for one in found.capacitances:
        assert (one.usual, one.low, one.high) == pytest.approx((6e-9, 5.346e-9, 6.666e-9))


def test_they_stand_in_the_report(folder: Path, tmp_path: Path) -> None:
    from ohmsworth.work.cable_study import report_cable

    report = report_cable(wiring.load_cable(folder)).report
    (section,) = (one for one in report.sections if one.title == "Loops and capacitances")
    loops, capacitances = section.blocks
    first, usual, bounds = loops.rows[0]  # type: ignore[union-attr]
    assert first == "hot 1 + cold 1, hot 2 + cold 2, hot 3 + cold 3, hot 4 + cold 4 and 4 more"
    assert (plain(usual), plain(bounds)) == ("6.46 Ω", "6.01 to 6.95 Ω")
    assert len(loops.rows) == 1  # type: ignore[union-attr]
    assert [plain(cell) for cell in capacitances.rows[0][1:]] == ["6.00 nF", "5.35 to 6.67 nF"]  # type: ignore[union-attr]


def plain(cell: str) -> str:
    return cell.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("line", "where"),
    [('capacitance = "150 m"', "capacitance"), ('capacitance_tolerance = "5 %"', "capacitance")],
)
def test_what_cannot_be_is_refused(folder: Path, line: str, where: str) -> None:
    file = folder / "cable.toml"
    file.write_text(file.read_text("utf-8").replace('capacitance = "150 pF/m"', line), "utf-8")
    with pytest.raises(InputRefused) as refused:
        ow.cable(folder)
    assert any(where in fault.where for fault in refused.value.faults)
