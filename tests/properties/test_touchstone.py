"""Two-ports and Touchstone files: what must hold for every two-port and every text."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from ohmsworth.adapters.files import read_touchstone, write_touchstone
from ohmsworth.consequence.losses import insertion_loss, largest_gain, passive, reciprocal
from ohmsworth.consequence.scattering import at_frequency, chain_from_scattering, scattering_from_chain
from ohmsworth.consequence.twoport import OnePort, TwoPort, cascade, series, shunt
from ohmsworth.errors import InputRefused
from ohmsworth.work.ports import LoadedNetwork

EPS = np.finfo(float).eps
references = st.floats(0.1, 1e4)
parts = st.floats(-1, 1)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("touchstone")


@st.composite
def frequencies(draw: st.DrawFn) -> np.ndarray:
    return np.array(sorted(draw(st.sets(st.floats(0, 1e12), min_size=1, max_size=5))))


@st.composite
def scattered(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Frequencies, and scattering matrices of anything that passes something."""
    f = draw(frequencies())
    values = np.array([[draw(parts) for _ in range(8)] for _ in f])
    s = values.view(np.complex128).reshape(-1, 2, 2)
    assume(np.all(np.abs(s[:, 1, 0]) > 1e-3))
    return f, s


@st.composite
def ladders(draw: st.DrawFn) -> TwoPort:
    """Resistors, coils and capacitors in line and across: passive and reciprocal."""
    f = np.array([10.0, 1e3, 1e5, 1e7])
    s = 2j * np.pi * f
    rungs = [
        part
        for _ in range(draw(st.integers(1, 4)))
        for part in (
            series(f, draw(st.floats(0, 1e3)) + s * draw(st.floats(0, 1e-3))),
            shunt(f, draw(st.floats(0, 1)) + s * draw(st.floats(0, 1e-7))),
        )
    ]
    return cascade(*rungs)


@given(scattered(), references, references)
def test_a_two_port_that_is_written_is_read(
    folder: Path, given_s: tuple[np.ndarray, np.ndarray], first: float, second: float
) -> None:
    f, s = given_s
    two_port = TwoPort(f, chain_from_scattering(s, (first, second)))
    (folder / "a.s2p").write_bytes(write_touchstone(two_port, (first, second)))
    loaded = read_touchstone(folder / "a.s2p")
    assert isinstance(loaded.network, TwoPort)
    assert not loaded.notes
    assert loaded.reference_resistance == (first, second)
    np.testing.assert_array_equal(loaded.network.frequency, f)
    # Nothing is lost in the text, so that what is left is the rounding of S: some 1e-15 where S21 is not small.
    written = scattering_from_chain(two_port.chain, (first, second))
    np.testing.assert_array_equal(loaded.network.chain, chain_from_scattering(written, (first, second)))
    worst = 32 * EPS / np.abs(s[:, 1, 0])
    assert np.all(np.abs(written - s) <= worst[:, None, None] * 4)


@given(frequencies(), st.lists(st.tuples(parts, parts), min_size=5, max_size=5), references)
def test_a_one_port_that_is_written_is_read_to_the_last_bit(
    folder: Path, f: np.ndarray, values: list[tuple[float, float]], reference: float
) -> None:
    one_port = OnePort(f, np.array(values[: len(f)]).view(np.complex128)[:, 0], reference)
    (folder / "a.s1p").write_bytes(write_touchstone(one_port))
    loaded = read_touchstone(folder / "a.s1p")
    assert isinstance(loaded.network, OnePort)
    np.testing.assert_array_equal(loaded.network.reflection, one_port.reflection)
    np.testing.assert_array_equal(loaded.network.frequency, f)
    assert loaded.reference_resistance == (reference,)


KEYWORDS = (
    "[Version]|[Number of Ports]|[Two-Port Data Order]|[Number of Frequencies]|[Reference]|[Network Data]|[Noise Data]|[End]|"
    "[Matrix Format]|[Mixed-Mode Order]|[Begin Information]|[End Information]"
)
WORDS = "# ! 2.0 2.1 1 2 3 GHz Hz S Y Z H MA DB RI R 50 75 12_21 21_12 full 0 -1 1e5 1e400 nan inf 1,5 .5 0.1"
pieces = st.one_of(
    st.sampled_from(KEYWORDS.split("|")),
    st.sampled_from(WORDS.split()),
    st.sampled_from(
        ["\n", "\r\n", "\x1a", "\n1 .1 0 .5 0 .5 0 .1 0\n", "\n2 .1 0 .5 0 .5 0 .1 0\n", "1 0.5 0\n"]
    ),
    st.text(max_size=6),
)


@given(st.lists(pieces, max_size=40), st.sampled_from(["a.s1p", "a.s2p", "a.ts", "a.s4p"]))
def test_whatever_stands_in_the_text_it_is_read_or_refused_in_words(
    folder: Path, words: list[str], name: str
) -> None:
    (folder / name).write_bytes(" ".join(words).encode("utf-8", "replace"))
    loaded = read_or_refused(folder / name)
    if loaded is not None:
        write_touchstone(loaded.network)


@given(st.integers(0, 12), st.integers(0, 9), pieces, st.booleans(), st.sampled_from(["a.s2p", "a.ts"]))
def test_a_file_with_one_word_spoiled_too(
    folder: Path, line: int, place: int, word: str, put: bool, name: str
) -> None:
    unlike = (50.0, 75.0) if name == "a.ts" else 50.0
    two_port = series([1.0, 2.0, 3.0], 1 + 1j)
    lines = [text.split(" ") for text in write_touchstone(two_port, unlike).decode().splitlines()]
    spoiled = lines[line % len(lines)]
    place %= len(spoiled)
    spoiled[place : place + (not put)] = [word]
    (folder / name).write_text("\n".join(" ".join(words) for words in lines), "utf-8", "replace")
    loaded = read_or_refused(folder / name)
    assert loaded is None or isinstance(loaded.network, TwoPort)


@given(st.binary(max_size=200))
def test_whatever_bytes_stand_there_too(folder: Path, data: bytes) -> None:
    (folder / "b.s1p").write_bytes(data)
    read_or_refused(folder / "b.s1p")


def read_or_refused(path: Path) -> LoadedNetwork | None:
    """What is read, or None where all faults are told in words that fit on a screen."""
    try:
        return read_touchstone(path)
    except InputRefused as refused:
        faults = refused.faults
    assert faults
    assert all(fault.found and fault.expected and fault.mend for fault in faults)
    assert all(len(str(fault)) < 600 for fault in faults)
    return None


@given(ladders(), references, references, references)
def test_what_is_made_of_passive_things_is_passive_and_reciprocal(
    ladder: TwoPort, first: float, second: float, third: float
) -> None:
    assert reciprocal(ladder)
    assert passive(ladder)
    for reference in (first, (second, third)):
        s21 = np.abs(scattering_from_chain(ladder.chain, reference)[:, 1, 0])
        assert np.all(largest_gain(ladder, reference) <= 1 + 1e-9 + 64 * EPS / s21)


@given(ladders(), ladders(), ladders())
def test_a_cascade_can_be_bracketed_anyhow(one: TwoPort, two: TwoPort, three: TwoPort) -> None:
    together = cascade(one, two, three).chain
    scale = np.abs(one.chain) @ np.abs(two.chain) @ np.abs(three.chain)
    for other in (cascade(cascade(one, two), three), cascade(one, cascade(two, three))):
        assert np.all(np.abs(other.chain - together) <= 16 * EPS * scale)
    nothing = series(one.frequency, 0.0)
    np.testing.assert_array_equal(cascade(nothing, one, nothing).chain, one.chain)


@given(ladders(), references)
def test_a_resistance_in_line_and_the_loss_that_a_divider_gives(ladder: TwoPort, load: float) -> None:
    # A passive two-port between like resistances never gains; ohms in line with a bare source add a divider's loss.
    assert np.all(insertion_loss(ladder, load, load) >= -1e-9)
    contact = series(ladder.frequency, load)
    np.testing.assert_allclose(insertion_loss(contact, load, load), 20 * np.log10(1.5), rtol=1e-12)


@given(ladders(), st.floats(10, 1e7))
def test_what_does_not_change_is_the_same_between_frequencies(ladder: TwoPort, frequency: float) -> None:
    still = TwoPort(ladder.frequency, np.repeat(ladder.chain[:1], 4, axis=0))
    s = scattering_from_chain(ladder.chain[0], 50.0)
    assume(abs(s[1, 0]) > 1e-4)
    found = at_frequency(still, [frequency])
    np.testing.assert_allclose(scattering_from_chain(found.chain[0], 50.0), s, rtol=1e-9, atol=1e-12)
