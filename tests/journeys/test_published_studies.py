"""Published data sets put into study folders and answered as a user would: the printed results come out.

Sources and standing stand beside each check; the data files are in tests/published/data.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from ohmsworth.cli.app import run

DATA = Path(__file__).parents[1] / "published" / "data"


def rows_of(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture
def answer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    def ask(keys: str, header: str, rows: list[tuple[object, ...]]) -> dict[str, Any]:
        (tmp_path / "study.toml").write_text(f'question = "?"\nscale = "linear"\n{keys}\n', "utf-8")
        lines = [header, *(",".join(map(str, row)) for row in rows)]
        (tmp_path / "readings.csv").write_text("\n".join(lines) + "\n", "utf-8")
        code = run(["answer", str(tmp_path), "--json"])
        printed = capsys.readouterr()
        assert code == 0, printed.err
        return json.loads(printed.out)

    return ask


def scatter(found: dict[str, Any]) -> dict[str, float]:
    return {s["level"]: s["standard_deviation"] for s in found["scatter"]}


def test_dyestuff(answer: Any) -> None:
    """Davies' dyestuff yields, as fitted by lme4 (reference software; from memory, reproduced)."""
    rows = [(r["Batch"], r["Yield"]) for r in rows_of("lme4_Dyestuff.csv")]
    found = answer("", "specimen,resistance [mΩ]", rows)
    (only,) = found["conditions"]
    assert 1e3 * only["resistance"] == pytest.approx(1527.5, abs=0.05)
    assert 1e3 * only["standard_uncertainty"] == pytest.approx(19.38, abs=0.005)
    assert only["degrees_of_freedom"] == pytest.approx(5, abs=1e-6)
    # The exact t interval on five degrees of freedom.
    assert 1e3 * only["low"] == pytest.approx(1477.67335, abs=1e-4)
    assert 1e3 * only["high"] == pytest.approx(1577.32665, abs=1e-4)
    assert 1e6 * scatter(found)["specimen"] ** 2 == pytest.approx(1764, abs=0.5)
    assert 1e6 * scatter(found)["reading"] ** 2 == pytest.approx(2451, abs=0.5)


@pytest.mark.parametrize("level", ["mating", "contact"])
def test_pastes(answer: Any, level: str) -> None:
    """Davies' paste strengths: casks in batches (reference software lme4; from memory, reproduced)."""
    rows = [(r["batch"], r["cask"], r["strength"]) for r in rows_of("lme4_Pastes.csv")]
    found = answer("", f"specimen,{level},resistance [Ω]", rows)
    (only,) = found["conditions"]
    assert only["resistance"] == pytest.approx(60.0533, abs=5e-5)
    assert only["standard_uncertainty"] == pytest.approx(0.67687, abs=5e-6)
    assert only["degrees_of_freedom"] == pytest.approx(9, abs=1e-6)
    assert scatter(found)["specimen"] ** 2 == pytest.approx(1.65731, abs=1e-5)
    assert scatter(found)[level] ** 2 == pytest.approx(8.43367, abs=1e-5)
    assert scatter(found)["reading"] ** 2 == pytest.approx(0.67800, abs=1e-5)


@pytest.mark.parametrize(
    ("kind", "t", "freedom"), [("equal", 12.62059, 326.0), ("by condition", 12.94627, 136.875)]
)
def test_two_samples(answer: Any, kind: str, t: float, freedom: float) -> None:
    """NIST/SEMATECH handbook, automobile mileage: pooled and Welch t (from memory, reproduced)."""
    rows = [(i, r["group"], r["mpg"]) for i, r in enumerate(rows_of("nist_auto83b.csv"))]
    found = answer(f'reference = "us"\nscatter = "{kind}"', "specimen,condition,resistance [Ω]", rows)
    (only,) = found["comparisons"]
    assert only["degrees_of_freedom"] == pytest.approx(freedom, abs=5e-4)
    from scipy import stats

    half = (only["difference"]["high"] - only["difference"]["low"]) / 2
    error = half / stats.t.ppf(0.975, only["degrees_of_freedom"])
    assert only["difference"]["value"] / error == pytest.approx(t, abs=5e-6)


def test_darwin(answer: Any) -> None:
    """Darwin's plants, Fisher 1935: t = 2.148, sign-flip p = 5.267 % (from memory, reproduced).

    Only the pairs' differences are published here, so one member of each pair stands at 200.
    """
    rows = []
    for r in rows_of("darwin_zea.csv"):
        rows += [(r["pair"], "self", 200), (r["pair"], "cross", 200 + int(r["diff_eighths_inch"]))]
    found = answer('reference = "self"', "specimen,condition,resistance [Ω]", rows)
    (only,) = found["comparisons"]
    assert only["paired"] is True
    assert only["pairs"] == 15
    assert only["difference"]["value"] == pytest.approx(314 / 15)
    assert only["degrees_of_freedom"] == pytest.approx(14)
    assert only["p_value"] == pytest.approx(0.0497, abs=5e-5)  # two-sided t of 2.148 on 14
    assert only["exact_p_value"] == pytest.approx(0.05267, abs=5e-6)
    assert only["smallest_exact_p_value"] == pytest.approx(2 / 2**15)


def test_gauge(answer: Any) -> None:
    """AIAG gauge study, parts crossed with appraisers: re-paired plugs and sockets.

    REML by an independent dense computation; the interaction is at the bound, and readings of both signs must not be
    taken for slips.
    """
    rows = [(r["part"], r["appraiser"], r["value"]) for r in rows_of("aiag_gage.csv")]
    found = answer("", "plug,socket,resistance [Ω]", rows)
    assert scatter(found)["plug"] ** 2 == pytest.approx(1.086447, abs=1e-5)
    assert scatter(found)["socket"] ** 2 == pytest.approx(0.0514553, abs=1e-5)
    assert scatter(found)["specimen"] == 0
    assert scatter(found)["reading"] ** 2 == pytest.approx(0.0399733, abs=1e-6)
    assert found["rows_used"] == 90


def test_instruments(answer: Any) -> None:
    """NIST StRD SiRstv (certified): between 0.0127865654, within 0.010831828, five readings each."""
    rows = [(r["treatment"], r["y"]) for r in rows_of("anova_SiRstv.csv")]
    found = answer("", "specimen,resistance [Ω]", rows)
    assert scatter(found)["reading"] ** 2 == pytest.approx(0.010831828, rel=1e-7)
    assert scatter(found)["specimen"] ** 2 == pytest.approx((0.0127865654 - 0.010831828) / 5, rel=1e-6)


def test_split_plot(answer: Any) -> None:
    """Yates' oats: three varieties in six blocks, four doses each; the doses compared within them.

    lme4 (reference software): yield means 79.39, 98.89, 114.22, 123.39.
    """
    rows = [(r["B"], r["V"], r["N"], r["Y"]) for r in rows_of("mass_oats.csv")]
    found = answer('reference = "0.0cwt"', "specimen,contact,condition,resistance [Ω]", rows)
    means = {c["condition"]: c["resistance"] for c in found["conditions"]}
    assert means == pytest.approx(
        {"0.0cwt": 79.38889, "0.2cwt": 98.88889, "0.4cwt": 114.22222, "0.6cwt": 123.38889}, abs=1e-5
    )


def test_thermometer(answer: Any) -> None:
    """NIST TN 1900, example E2: 25.59, u 0.872, 23.8 to 27.4 (from memory, reproduced)."""
    rows = [(i, r["t_C"]) for i, r in enumerate(rows_of("tn1900_e2.csv"))]
    (only,) = answer("", "specimen,resistance [Ω]", rows)["conditions"]
    assert only["resistance"] == pytest.approx(25.59, abs=0.005)
    assert only["standard_uncertainty"] == pytest.approx(0.872, abs=0.0006)
    assert only["low"] == pytest.approx(23.8, abs=0.05)
    assert only["high"] == pytest.approx(27.4, abs=0.05)
