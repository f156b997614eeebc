"""The library's face for circuits: what resistances mean, circuits of one's own, and networks from files."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from tests.journeys.test_command_line import Captured

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.consequence import series

F = np.array([50.0, 1e3, 20e3])


# ------------------------------------------------------------ what resistances mean


def test_it_says_what_the_command_does(capsys: Captured) -> None:
    assert run(["meaning", "3mohm", "2ohm", "--use", "headphone", "--spread", "20 %", "--json"]) == 0
    by_command = json.loads(capsys.readouterr().out)
    assert json.loads(json.dumps(ow.as_json(ow.meaning([3e-3, 2.0], ["headphone"], 0.2)))) == by_command


def test_uses_by_kind_as_a_request_or_made() -> None:
    values = {"length": 40.0}
    made = ow.make_use("balanced line", "stage", values)
    request = ow.UseRequest("balanced line", "stage", values)
    assert ow.meaning([5.0], [made]) == ow.meaning([5.0], [request])
    assert ow.meaning(np.array([5.0]), ("video",)).uses[0].kind == "video"
    assert [use.name for use in ow.meaning(uses=["video", "video"]).uses] == ["video", "video 2"]
    assert len(ow.meaning().uses) >= 12


@pytest.mark.parametrize(
    ("arguments", "error", "told"),
    [
        (([0.0],), ow.ArgumentFault, "resistances: got 0.0"),
        (([-1.0],), ow.ArgumentFault, "above 0"),
        (([np.nan],), ow.ArgumentFault, "above 0"),
        (([2e9],), ow.ArgumentFault, "at most 1e"),
        (("3 mΩ",), ow.ArgumentFault, "a list of ohm"),
        ((["3 mΩ"],), ow.ArgumentFault, "a list of ohm"),
        ((3e-3,), ow.ArgumentFault, "a list of ohm"),
        (([1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0],), ow.ArgumentFault, "at most 6"),
        (([1.0], ["toaster"]), ow.UnknownName, "toaster"),
        (([1.0], ["balnced line"]), ow.UnknownName, "Did you mean 'balanced line'"),
        (([1.0], "video"), ow.ArgumentFault, "a list of uses"),
        (([1.0], [3]), ow.ArgumentFault, "a kind as text"),
        (([1.0], (), 0.0), ow.ArgumentFault, "spread"),
        (([1.0], (), 9.0), ow.ArgumentFault, "spread"),
        (([1.0], (), np.nan), ow.ArgumentFault, "spread"),
        (((), (), 0.2), ow.ArgumentFault, "resistances to scatter about"),
    ],
)
def test_what_cannot_be_asked_is_refused(
    arguments: tuple[object, ...], error: type[Exception], told: str
) -> None:
    with pytest.raises(error, match=told):
        ow.meaning(*arguments)  # type: ignore[arg-type]


# ------------------------------------------------------------ circuits of one's own


def divider(*more: ow.Resistor) -> ow.Circuit:
    return ow.Circuit(
        (
            ow.VoltageSource("desk", "out"),
            ow.Resistor("out", "jack", 150.0),
            ow.Contact("joints", "jack", "in", count=3),
            ow.Resistor("in", "0", 600.0),
            *more,
        )
    )


def test_a_circuit_of_ones_own_by_ohms_law() -> None:
    volts, ampere = ow.transfers(divider(), F, {"desk": 2.0}, [ow.Volts("in"), ow.Amperes("joints")])
    ohm = np.array([[0.0], [0.3], [60.0]])
    current = 2.0 / (750.0 + ohm)
    np.testing.assert_allclose(ow.respond(volts, ohm), np.broadcast_to(600 * current, (3, 3)), rtol=1e-12)
    np.testing.assert_allclose(ow.respond(ampere, ohm), np.broadcast_to(current, (3, 3)), rtol=1e-12)


def test_bands_of_a_circuit_of_ones_own() -> None:
    (volts,) = ow.transfers(divider(), F, {"desk": 1.0}, [ow.Volts("in")])
    ohm = np.linspace(0.0, 100.0, 101)[:, None]
    bands = ow.magnitude_bands(volts, ohm, [0.0, 0.5, 1.0])
    expected = 600 / (750 + np.array([100.0, 50.0, 0.0]))
    np.testing.assert_allclose(bands, np.repeat(expected[:, None], 3, axis=1), rtol=1e-12)


def test_every_part_there_is() -> None:
    """A transformer, a coil, a capacitor, an impedance, a cable and a current: against the same by hand."""
    cable = ow.cable_of([ow.plain_resistance(0.05)] * 2, (0.0, 0.0), np.zeros((2, 2)))
    circuit = ow.Circuit(
        (
            ow.CurrentSource("noise", "a"),
            ow.Resistor("a", "0", 1e3),
            ow.Transformer(("a", "0"), ("b", "0"), 4.0),
            ow.Inductor("b", "c", 1e-3),
            ow.Impedance("c", "d", lambda f: 2.0 + 0j * f),
            ow.Line(("d", "0"), ("e", "back"), cable, 10.0),
            ow.Resistor("e", "back", 8.0),
            ow.Capacitor("e", "back", 1e-6),
        )
    )
    (found,) = ow.transfers(circuit, F, {"noise": 1e-3}, [ow.Volts("e", "back")])
    s = 2j * np.pi * F
    load = 1 / (1 / 8.0 + s * 1e-6)
    loop = s * 1e-3 + 2.0 + 2 * 0.05 * 10.0 + load
    across = 1e-3 / (1 / 1e3 + 1 / (16 * loop))
    np.testing.assert_allclose(found.ideal, across / 4 * load / loop, rtol=1e-9)


def test_a_network_from_a_file_stands_in_a_circuit(tmp_path: Path) -> None:
    f = np.geomspace(10.0, 1e5, 200)
    wiring.write_file(tmp_path / "pad.s2p", wiring.as_touchstone(series(f, np.full(200, 450.0 + 0j)), 600.0))
    loaded = ow.load_network(str(tmp_path / "pad.s2p"))
    assert loaded.reference_resistance == (600.0, 600.0)
    pad = loaded.network
    circuit = ow.Circuit(
        (
            ow.VoltageSource("desk", "out"),
            ow.Block(("out", "0"), ("in", "0"), lambda f: ow.at_frequency(pad, f, 600.0).chain),  # type: ignore[arg-type]
            ow.Resistor("in", "0", 150.0),
        )
    )
    (volts,) = ow.transfers(circuit, F, {"desk": 1.0}, [ow.Volts("in")])
    np.testing.assert_allclose(volts.ideal, 0.25, rtol=1e-9)
    with pytest.raises(ow.InputRefused, match="no such file"):
        ow.load_network(tmp_path / "nowhere.s2p")
