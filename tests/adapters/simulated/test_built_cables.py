"""Cables of the invented season: what they are described as, and that what was done to them is what the program finds."""

from __future__ import annotations

import math

import numpy as np
import pytest

from ohmsworth import wiring
from ohmsworth.adapters.simulated.season import (
    OPEN,
    Design,
    LikeWires,
    TrueCable,
    WireKind,
    as_test_csv,
    build,
    exchanged,
    touching,
    with_excess,
)
from ohmsworth.report.cable_answer import CableAnswer
from ohmsworth.work.builds.teller import Teller
from ohmsworth.work.cable_ports import WrittenRow

CORE = WireKind('resistance = "85 mΩ/m"\ntolerance = "5 %"', 0.085)
LEAD = Design(
    "lead", 5.0, ("socket", "plug"), "1-3", {"core": CORE}, (LikeWires("wire", "1-3", ("1", "2", "3"), "core"),)
)  # fmt: skip


def told(cable: TrueCable) -> CableAnswer:
    """The answer after everything that is asked for was measured."""
    teller = Teller(wiring.cable_ports())
    toml = LEAD.described("no. 1")
    rows = list[WrittenRow]()
    while True:
        after = teller.leading(toml).following if not rows else teller.answer(toml, rows).following
        if after is None:
            return teller.answer(toml, rows)
        shown = cable.shows(after.one, after.other)
        line = as_test_csv([(" ".join(after.one), " ".join(after.other), shown)])
        rows += teller.ports.tested(line.encode(), teller.described(toml)).written


@pytest.fixture
def sound() -> TrueCable:
    return build(LEAD, np.random.default_rng(4))


def test_a_sound_one_is_right(sound: TrueCable) -> None:
    assert told(sound).verdict == "right"
    for wire in told(sound).wires:
        assert wire.resistance == pytest.approx(5 * 0.085 + 8e-3, rel=0.03)


def test_the_whole_sheet_is_what_is_asked_for(sound: TrueCable) -> None:
    teller = Teller(wiring.cable_ports())
    toml = LEAD.described("no. 1")
    rows = teller.ports.tested(as_test_csv(sound.sheet()).encode(), teller.described(toml)).written
    assert teller.answer(toml, rows).verdict == "right"
    assert teller.answer(toml, rows[:-1]).verdict == "cannot tell yet"


def test_what_was_done_to_it_is_found(sound: TrueCable) -> None:
    assert told(with_excess(sound, "2", 0.09)).sentence.startswith("Lead no. 1 is wrong: wire 2 has")
    assert "wire 3 does not reach" in told(with_excess(sound, "3", math.inf)).sentence
    assert "wire 1 and wire 2 are exchanged" in told(exchanged(sound, "1", "2")).sentence
    assert "wire 2 and wire 3 touch" in told(touching(sound, "2", "3", 0.02)).sentence


def test_what_has_grown_is_shown() -> None:
    new, grown = (build(LEAD, np.random.default_rng(4), {"core": share}) for share in (0.0, 0.02))
    for place in LEAD.places:
        copper = grown.ohm[place] - new.ohm[place]
        assert copper == pytest.approx(0.02 * 5 * 0.085, rel=0.02)


def test_the_meter_shows_whole_counts(sound: TrueCable) -> None:
    fine = build(
        Design("fine", 5.0, LEAD.connectors, "1-3", LEAD.kinds, LEAD.wires, count=1e-4),
        np.random.default_rng(4),
    )
    assert len(fine.shows(["A:1"], ["B:1"]).partition(".")[2]) == 4
    assert len(sound.shows(["A:1"], ["B:1"]).partition(".")[2]) == 3
    assert sound.shows(["A:1"], ["B:2"]) == sound.shows(["A:1", "A:2"], ["A:3"]) == OPEN
