"""The figures on a cable's face, each against what was typed."""

from __future__ import annotations

import pytest
from tests.unit.work.builds.built import TOML, BuiltShop

from ohmsworth.work.builds.face import plain_face
from ohmsworth.work.builds.writing import Sending, change_row

JACKS = TOML.replace("[ends.A]", '[ends.A]\nconnector = "jack"').replace(
    "[ends.B]", '[ends.B]\nconnector = "plug"'
)


def figures(built: BuiltShop) -> dict[str, object]:
    return dict(built.shop.records.card(built.cable).face.figures)


def test_a_cable_that_was_not_measured_has_none() -> None:
    assert figures(BuiltShop()) == {}


def test_a_sound_cable() -> None:
    built = BuiltShop(JACKS)
    # 10 m at 85 mΩ/m: 0.850 Ω is expected.
    for resistance in ("0.8585", "0.8800", "0.8600"):
        built.next_row(resistance)
    built.whole()
    found = figures(built)
    rows = built.state.counted
    ratios = [3, pytest.approx(0.8600 / 0.850, rel=1e-5)]
    assert found == {
        "day": rows[-1].at.astimezone().date().isoformat(), "rows": len(rows), "wires": 3, "over": 0, "under": 0,
        "open": 0, "first": built.shown, "faults": [], "connectors": {"jack": ratios, "plug": ratios},
        "conductors": {"85 mΩ/m": ratios},
    }  # fmt: skip
    assert built.shown == "right"
    assert dict(plain_face(built.shop.records.lines(built.cable)).figures) == {}


def test_before_everything_is_measured_there_is_no_first_test() -> None:
    built = BuiltShop()
    built.row("A:1", "B:1", "0.850")
    built.row("B:1", "A:1", "0.851")  # read twice: still the same test
    assert figures(built)["first"] is None
    built.whole()
    assert figures(built)["first"] == "right"


def test_what_was_wrong_first_stays_so_after_it_was_mended() -> None:
    built = BuiltShop()
    built.row("A:1", "B:1", "0.950", anyway="so it reads")
    built.row("A:2", "B:2", "open", anyway="so it reads")
    found = figures(built)
    assert (found["first"], found["faults"], found["over"], found["open"]) == (
        "wrong",
        ["open", "over"],
        1,
        1,
    )
    built.row("A:1", "B:1", "0.850")
    built.row("A:2", "B:2", "0.850")
    built.whole()
    found = figures(built)
    assert built.shown == "right"
    assert (found["first"], found["faults"], found["over"], found["open"]) == (
        "wrong",
        ["open", "over"],
        0,
        0,
    )


def test_a_slip_that_was_withdrawn_makes_no_cable_wrong() -> None:
    built = BuiltShop()
    slip = built.row("A:1", "B:1", "0.950", anyway="so it reads").number
    assert slip is not None
    change_row(built.desk, built.cable, slip, False, "misread", Sending("Ada", "w"))
    built.whole()
    assert (figures(built)["first"], figures(built)["faults"]) == ("right", [])


def test_whoever_repeats_without_end_has_no_first_test() -> None:
    built = BuiltShop()
    for _ in range(12):
        built.row("A:1", "B:1", "0.850")
    built.whole()
    assert (built.shown, figures(built)["first"]) == ("right", None)
