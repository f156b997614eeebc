"""What ``meaning`` writes for other programs: netlists solved by another solver, Touchstone files read by another reader."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import skrf  # type: ignore[import-untyped]  # published without types
from tests.journeys.test_command_line import Captured, everything
from tests.unit.report.nodal import Circuit as Text

from ohmsworth import wiring
from ohmsworth.cli.app import OK, REFUSED, run
from ohmsworth.consequence import TwoPort, Use, make_use
from ohmsworth.consequence.circuit import Contact, Line, respond, transfers
from ohmsworth.consequence.circuit.cable import series_impedance, shunt_admittance
from ohmsworth.consequence.kinds import USE_KINDS, kind_of
from ohmsworth.consequence.scattering import scattering_from_chain
from ohmsworth.work.meaning import NEEDS_A_FILE

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]
OHM = 0.3
#: A cable as short as every use can have in sections.
SHORT = "length=3 m"
COMPUTED = [kind for kind in USE_KINDS if kind != NEEDS_A_FILE]
CURVED = [kind for kind in COMPUTED if kind_of(kind).curves(make_use(kind))]
WITH_PATH = [kind for kind in COMPUTED if kind_of(kind).path]
#: In these the screen carries none of the signal.
BALANCED = ("dynamic microphone", "phantom microphone", "balanced line")


def command(kind: str, *more: str) -> list[str]:
    return ["meaning", f"{OHM} ohm", "--use", kind, *more]


def short(kind: str) -> Use:
    return make_use(kind, values={"length": 3.0})


# ------------------------------------------------------------ netlists


def engine(use: Use, frequency: Array) -> Complex:
    """What arrives, by the engine, with the resistance in every contact."""
    kind = kind_of(use.kind)
    signal = kind.path.signal if kind.path else kind.signal
    assert signal is not None
    circuit = kind.curves(use)[0].circuit
    (found,) = transfers(circuit, frequency, signal.drive, [signal.arrives])
    return np.asarray(respond(found, [OHM * circuit.counts()])[0])


def watched(text: Text) -> list[str]:
    """The nodes that the text prints."""
    return [
        command[2].removeprefix("vm(").removesuffix(")")
        for command in text.commands
        if command[0] == ".print"
    ]


@pytest.mark.parametrize("kind", CURVED)
def test_another_solver_finds_the_same_volts(kind: str, tmp_path: Path) -> None:
    """At the frequency that its remark names; what is left is that of the sections, 0.42 % of the phase at most."""
    out = tmp_path / "circuit.cir"
    assert run(command(kind, "--set", SHORT, "--netlist", str(out))) == OK
    text = Text(out.read_text("ascii"))
    assert text.title == f"{kind}: 300 mohm in every contact"
    use = short(kind)
    curve = kind_of(kind).curves(use)[0]
    assert text.sweep()[1:] == pytest.approx((curve.low, curve.high))
    at = np.sqrt(curve.low * curve.high)
    volts = text.solve(float(at))
    nodes = watched(text)
    assert 1 <= len(nodes) <= 2
    arrived = volts[nodes[0]] - (volts[nodes[1]] if len(nodes) == 2 else 0)
    (expected,) = engine(use, np.array([at]))
    assert abs(arrived / expected - 1) < 1e-4
    assert abs(arrived / engine(use, np.array([1.05 * at]))[0] - 1) > 1e-9  # it does depend on frequency


@pytest.mark.parametrize("kind", CURVED)
def test_its_contacts_are_what_was_asked(kind: str, tmp_path: Path) -> None:
    """A tenth of the resistance gives the same volts by both; ideal contacts are exactly zero ohm."""
    for ohm, name in (("30 mohm", "small"), (None, "ideal")):
        out = tmp_path / f"{name}.cir"
        asked = [] if ohm is None else [ohm]
        assert run(["meaning", *asked, "--use", kind, "--set", SHORT, "--netlist", str(out)]) == OK
        lines = out.read_text("ascii").lower().splitlines()
        contacts = [line.split() for line in lines if line.startswith(("r_contact", "vr_contact"))]
        circuit = kind_of(kind).curves(short(kind))[0].circuit
        assert len(contacts) == len(circuit.contacts())
        if ohm is None:
            assert lines[0] == f"{kind}: ideal contacts"
            assert all(card[0].startswith("vr_") and card[3:] == ["dc", "0"] for card in contacts)
        else:
            ohms = [float(card[3]) for card in contacts if card[0].startswith("r_")]
            assert ohms == pytest.approx([0.03 * count for count in circuit.counts() if count], rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "more", "words"),
    [
        ("mains feed", [], "a use that is a circuit over frequency"),
        ("video", ["--set", "length=30 m"], "at most 100 wavelengths"),
        (NEEDS_A_FILE, [], "parts that plain cards can hold"),
    ],
)
def test_what_is_no_netlist_is_refused_in_words(
    kind: str, more: list[str], words: str, tmp_path: Path, capsys: Captured
) -> None:
    arguments = command(kind, *more, "--netlist", str(tmp_path / "a.cir"), "--html", str(tmp_path / "a.html"))
    assert run(arguments) == REFUSED
    err = capsys.readouterr().err
    assert words in err
    assert "Name another use" in err
    assert everything(tmp_path) == {}


# ------------------------------------------------------------ Touchstone


def passed(use: Use, frequency: Array, reference: float) -> Complex:
    """S21 of contacts, cable and contacts by chain matrices of the one mode in which the signal travels."""
    kind = kind_of(use.kind)
    circuit = kind.curves(use)[0].circuit
    assert kind.path is not None
    whole = np.broadcast_to(np.eye(2, dtype=complex), (len(frequency), 2, 2))
    near = True
    contacts = {"near": 0.0, "far": 0.0}
    for part in circuit.elements:
        if isinstance(part, Contact) and in_the_way(part, use):
            contacts["near" if near else "far"] += OHM * part.count
        if isinstance(part, Line):
            if near:
                whole = whole @ in_line(contacts["near"], frequency)
            near = False
            whole = whole @ mode(part, frequency)
    whole = whole @ in_line(contacts["far"], frequency)
    a, b, c, d = (whole[:, i, j] for i in (0, 1) for j in (0, 1))
    return np.asarray(2 / (a + b / reference + c * reference + d))


def in_the_way(contact: Contact, use: Use) -> bool:
    """Screens of balanced cables carry none of the signal, and a terminator is behind the cable."""
    return contact.name != "terminator" and not (contact.name.startswith("screen") and use.kind in BALANCED)


def in_line(ohm: float, frequency: Array) -> Complex:
    return np.broadcast_to(np.array([[1, ohm], [0, 1]], dtype=complex), (len(frequency), 2, 2))


def mode(line: Line, frequency: Array) -> Complex:
    """The first two conductors against each other: cosh and sinh of the line."""
    z, y = series_impedance(line.cable, frequency), shunt_admittance(line.cable, frequency)
    loop = z[:, 0, 0] + z[:, 1, 1] - z[:, 0, 1] - z[:, 1, 0]
    across = (y[:, 0, 0] - y[:, 0, 1] - y[:, 1, 0] + y[:, 1, 1]) / 4
    angle, impedance = np.sqrt(loop * across) * line.length, np.sqrt(loop / across)
    rows = [[np.cosh(angle), impedance * np.sinh(angle)], [np.sinh(angle) / impedance, np.cosh(angle)]]
    return np.moveaxis(np.array(rows), 2, 0)


@pytest.mark.parametrize("kind", WITH_PATH)
def test_another_reader_finds_the_loss_of_an_independent_reckoning(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "cable.s2p"
    assert run(command(kind, "--set", SHORT, "--touchstone", str(out))) == OK
    read = skrf.Network(str(out))
    path = kind_of(kind).path
    assert path is not None
    assert np.all(read.z0 == path.reference)
    curve = kind_of(kind).curves(short(kind))[0]
    assert read.f[[0, -1]] == pytest.approx([curve.low, curve.high], rel=1e-12)
    expected = passed(short(kind), read.f, path.reference)
    np.testing.assert_allclose(read.s[:, 1, 0], expected, rtol=1e-7)
    np.testing.assert_allclose(read.s[:, 0, 1], expected, rtol=1e-7)


@pytest.mark.parametrize("kind", WITH_PATH)
def test_our_own_reader_finds_what_was_written(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "cable.s2p"
    assert run(command(kind, "--touchstone", str(out))) == OK
    loaded, read = wiring.load_network(out), skrf.Network(str(out))
    assert isinstance(loaded.network, TwoPort)
    assert not loaded.notes
    path = kind_of(kind).path
    assert path is not None
    found = scattering_from_chain(loaded.network.chain, path.reference)
    np.testing.assert_allclose(found, read.s, atol=1e-9)
    again = wiring.as_touchstone(loaded.network, path.reference)
    (tmp_path / "again.s2p").write_bytes(again)
    np.testing.assert_allclose(skrf.Network(str(tmp_path / "again.s2p")).s, read.s, atol=1e-12)
    assert f"{OHM} ohm in every contact" in out.read_text("ascii")


def test_a_milliohm_is_there(tmp_path: Path) -> None:
    """1 mΩ in each of four contacts: 4 mΩ in a loop of 75 Ω against 75 Ω, by the difference of two files."""
    for name, asked in (("with", ["1 mohm"]), ("without", [])):
        out = str(tmp_path / f"{name}.s2p")
        assert run(["meaning", *asked, "--use", "video", "--set", "length=0 m", "--touchstone", out]) == OK
    s = [skrf.Network(str(tmp_path / f"{name}.s2p")).s[:, 1, 0] for name in ("with", "without")]
    np.testing.assert_allclose(1 / s[0] - 1 / s[1], 4e-3 / 150, rtol=1e-6)


@pytest.mark.parametrize("kind", [kind for kind in COMPUTED if kind not in WITH_PATH])
def test_what_is_no_two_port_is_refused_in_words(kind: str, tmp_path: Path, capsys: Captured) -> None:
    assert run(command(kind, "--touchstone", str(tmp_path / "a.s2p"))) == REFUSED
    err = capsys.readouterr().err
    assert f"found the use '{kind}'" in err
    assert "expected a use" in err
    assert everything(tmp_path) == {}


def test_a_measured_lead_comes_out_as_it_went_in_but_for_its_contacts(tmp_path: Path) -> None:
    lead, bare, worse = (tmp_path / f"{name}.s2p" for name in ("lead", "bare", "worse"))
    assert run(["meaning", "--use", "video", "--set", "length=30 m", "--touchstone", str(lead)]) == OK
    one = ["--set", "contacts_near=1", "--set", "contacts_far=1"]
    measured = ["--use", NEEDS_A_FILE, *one, "--set", f"touchstone={lead}"]
    assert run(["meaning", *measured, "--touchstone", str(bare)]) == OK
    assert run(["meaning", "2 ohm", *measured, "--touchstone", str(worse)]) == OK
    known, again, with_contacts = (skrf.Network(str(path)) for path in (lead, bare, worse))
    again.renormalize(75.0)
    np.testing.assert_allclose(again.s, known.s, atol=1e-6)
    with_contacts.renormalize(75.0)
    # One contact of 2 Ω at either end, in front of and behind what was measured.
    alone = np.array([[2.0, 150.0], [150.0, 2.0]]) / 152.0
    contact = skrf.Network(frequency=known.frequency, s=np.tile(alone, (len(known.f), 1, 1)), z0=75.0)
    np.testing.assert_allclose(with_contacts.s, (contact**known**contact).s, atol=1e-6)


def test_a_name_of_any_letters_stays_out_of_the_way(tmp_path: Path) -> None:
    circuits = tmp_path / "c.toml"
    circuits.write_text(
        '[[use]]\nkind = "video"\nname = "Ωmätz ! # \\n[end]\\n.end"\nlength = "3 m"\n', "utf-8"
    )
    out = [str(tmp_path / name) for name in ("a.cir", "a.s2p")]
    assert (
        run(["meaning", "1ohm", "--circuits", str(circuits), "--netlist", out[0], "--touchstone", out[1]])
        == OK
    )
    assert Text(Path(out[0]).read_text("ascii")).title.endswith("1 ohm in every contact")
    assert len(skrf.Network(out[1]).f) == 201
    assert isinstance(wiring.load_network(Path(out[1])).network, TwoPort)
