"""What the page on files for other programs shows can be typed as it stands."""

import re
from pathlib import Path

import numpy as np
import pytest

from ohmsworth import wiring
from ohmsworth.consequence import TwoPort, series

PAGE = (Path(__file__).parents[2] / "docs/files.md").read_text("utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", PAGE, re.DOTALL)


def test_a_touchstone_file_is_read_and_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    lead = series(np.linspace(1e5, 2e7, 11), 3.0)
    wiring.write_file(Path("lead.s2p"), wiring.as_touchstone(lead, 50.0))
    exec(BLOCKS[0], {})
    loss = 20 * np.log10(153 / 150)
    printed = [float(n) for n in re.findall(r"[0-9]+\.[0-9]+", capsys.readouterr().out)]
    np.testing.assert_allclose(printed[-2:], loss, rtol=1e-6)
    again = wiring.load_network(Path("out.s2p"))
    assert again.reference_resistance == (75.0, 75.0)
    assert isinstance(again.network, TwoPort)
    np.testing.assert_allclose(again.network.chain, lead.chain, atol=1e-13)


def test_a_netlist_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    exec(BLOCKS[1], {})
    text = capsys.readouterr().out
    assert text.startswith("Lead 3\n* a line in 31 sections")
    assert text.count("\nL_lead") == 31
    assert text.rstrip().endswith(".end")
    assert len(BLOCKS) == 2
