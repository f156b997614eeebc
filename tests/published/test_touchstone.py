"""The examples of the Touchstone specification, and what their numbers must come to.

Source "Touchstone-examples": files of examples 9, 14, 18 and 19 of the specification (numbers of version 2.1).
"""

from pathlib import Path

import numpy as np
import pytest
from tests.published.printed import assert_printed

from ohmsworth.adapters.files import read_touchstone
from ohmsworth.consequence.losses import passive, reciprocal
from ohmsworth.consequence.scattering import impedance_of, scattering_from_chain
from ohmsworth.consequence.twoport import OnePort, TwoPort
from ohmsworth.work.ports import LoadedNetwork

NORMALISED = """! 1-port Z-parameter file, multiple frequency points
# MHz Z MA R 75
! freq magZ11 angZ11
100 0.99 -4
200 0.80 -22
300 0.707 -45
400 0.40 -62
500 0.01 -89
"""
IN_OHM = """! 1-port Z-parameter file, multiple frequency points
[Version] 2.0
# MHz Z MA
[Number of Ports] 1
[Number of Frequencies] 5
[Reference] 20.0
[Network Data]
! freq magZ11 angZ11
100 74.25 -4
200 60 -22
300 53.025 -45
400 30 -62
500 0.75 -89
"""
THREE_FREQUENCIES = """! 2-port S-parameter file, three frequency points
# GHz S RI R 50.0
! freq ReS11 ImS11 ReS21 ImS21 ReS12 ImS12 ReS22 ImS22
1.0000 0.3926 -0.1211 -0.0003 -0.0021 -0.0003 -0.0021 0.3926 -0.1211
2.0000 0.3517 -0.3054 -0.0096 -0.0298 -0.0096 -0.0298 0.3517 -0.3054
10.000 0.3419 0.3336 -0.0134 0.0379 -0.0134 0.0379 0.3419 0.3336
"""
WITH_NOISE = """! 2-port network, S-parameter and noise data
! Default MA format, GHz frequencies, 50-ohm reference, S-parameters
#
! NETWORK PARAMETERS
2 .95 -26 3.57 157 .04 76 .66 -14
22 .60 -144 1.30 40 .14 40 .56 -85
! NOISE PARAMETERS
4 .7 .64 69 .38
18 2.7 .46 -33 .40
"""
WITH_NOISE_2 = """! 2-port network, S-parameter and noise data
[Version] 2.0
#
[Number of Ports] 2
[Two-Port Data Order] 21_12
[Number of Frequencies] 2
[Number of Noise Frequencies] 2
[Reference] 50 25.0
[Network Data]
2 .95 -26 3.57 157 .04 76 .66 -14
22 .60 -144 1.30 40 .14 40 .56 -85
[Noise Data]
4 .7 .64 69 19
18 2.7 .46 -33 20
[End]
"""


def read(folder: Path, text: str, name: str) -> LoadedNetwork:
    (folder / name).write_text(text)
    return read_touchstone(folder / name)


def test_the_same_impedance_in_both_versions(tmp_path: Path) -> None:
    """Published: 0.99 against 75 ohm in version 1 is 74.25 ohm in version 2, and so on."""
    for text, name in ((NORMALISED, "a.s1p"), (IN_OHM, "a.ts")):
        network = read(tmp_path, text, name).network
        assert isinstance(network, OnePort)
        ohms = impedance_of(network)
        for i, printed in enumerate(["74.25", "60.0", "53.025", "30.0", "0.75"]):
            assert_printed(printed, abs(ohms[i]))
        np.testing.assert_allclose(np.degrees(np.angle(ohms)), [-4, -22, -45, -62, -89], atol=1e-9)
        np.testing.assert_allclose(network.frequency, [1e8, 2e8, 3e8, 4e8, 5e8])


def test_three_frequencies(tmp_path: Path) -> None:
    """Published: real and imaginary parts; a symmetrical two-port that takes power."""
    loaded = read(tmp_path, THREE_FREQUENCIES, "a.s2p")
    assert isinstance(loaded.network, TwoPort)
    assert loaded.network.frequency.tolist() == [1e9, 2e9, 1e10]
    s = scattering_from_chain(loaded.network.chain, loaded.reference_resistance)
    np.testing.assert_allclose(
        s[1], [[0.3517 - 0.3054j, -0.0096 - 0.0298j], [-0.0096 - 0.0298j, 0.3517 - 0.3054j]]
    )
    assert reciprocal(loaded.network)
    assert passive(loaded.network)


@pytest.mark.parametrize(
    ("text", "name", "references"),
    [(WITH_NOISE, "a.s2p", (50.0, 50.0)), (WITH_NOISE_2, "a.ts", (50.0, 25.0))],
)
def test_an_amplifier_with_noise(
    tmp_path: Path, text: str, name: str, references: tuple[float, float]
) -> None:
    """Published: magnitudes and angles by default, the order 11, 21, 12, 22, and noise behind them."""
    loaded = read(tmp_path, text, name)
    assert isinstance(loaded.network, TwoPort)
    assert loaded.reference_resistance == references
    assert loaded.notes == ("2 lines of noise parameters are left aside",)
    assert loaded.network.frequency.tolist() == [2e9, 22e9]
    s = scattering_from_chain(loaded.network.chain, references)
    for row, column, size, angle in (
        (0, 0, ".95", -26),
        (1, 0, "3.57", 157),
        (0, 1, ".04", 76),
        (1, 1, ".66", -14),
    ):
        assert_printed(size, abs(s[0, row, column]))
        assert np.degrees(np.angle(s[0, row, column])) == pytest.approx(angle, abs=1e-9)
    assert not reciprocal(loaded.network)
    assert not passive(loaded.network)
