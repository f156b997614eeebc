"""The numbers of a figure come back from its CSV as they went in."""

import csv
import io
from dataclasses import replace

import pytest
from tests.adapters.render.hostile import MARKUP
from tests.adapters.render.sample import CHART, CURVES, EVIDENCE, LADDER, LINES, SHARES
from tests.adapters.render.twelve_uses import TWELVE

from ohmsworth.adapters.render import to_csv
from ohmsworth.report.document import LadderFigure, LadderMark


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


@pytest.mark.parametrize("figure", [LADDER, TWELVE], ids=["few", "many"])
def test_the_ladder_returns(figure: LadderFigure) -> None:
    back = tuple(
        LadderMark(
            row["kind"],  # type: ignore[arg-type]
            row["label"],
            row["group"],
            float(row["value [Ω]"]),
            float(row["low [Ω]"]) if row["low [Ω]"] else None,
            float(row["high [Ω]"]) if row["high [Ω]"] else None,
            row["note"],
            row["position"],
            row["harm"],
            row["serious"] == "yes",
        )
        for row in rows(to_csv(figure))
    )
    assert back == figure.marks


def test_the_readings_return() -> None:
    table = rows(to_csv(EVIDENCE))
    readings = [row for row in table if row["kind"] == "reading"]
    assert [float(row["value [Ω]"]) for row in readings] == [dot.value for dot in EVIDENCE.dots]
    assert [row["flag"] for row in readings] == [dot.flag for dot in EVIDENCE.dots]
    assert {row["kind"]: float(row["value [Ω]"]) for row in table}["limit"] == EVIDENCE.limit
    assert sum(row["kind"] == "pair" for row in table) == 18


def test_shares_return() -> None:
    assert [float(row["share [1]"]) for row in rows(to_csv(SHARES))] == list(SHARES.shares)


def test_lines_return_with_the_ends_of_their_bands() -> None:
    table = rows(to_csv(CURVES))
    assert list(table[0]) == ["kind", "label", "frequency [Hz]", "level change [dB]", "low [dB]", "high [dB]"]
    for line in CURVES.lines[:-1]:
        mine = [row for row in table if row["label"] == line.label]
        columns = [tuple(float(row[name]) for row in mine) for name in list(table[0])[2:]]
        assert columns == [line.across, line.up, line.low, line.high]
        assert {row["kind"] for row in mine} == {"line"}
    ideal = [row for row in table if row["kind"] == "ideal"]
    assert [float(row["level change [dB]"]) for row in ideal] == list(CURVES.lines[-1].up)
    assert {row["low [dB]"] for row in ideal} == {""}
    assert list(table[-1].values()) == ["threshold", "the hall bears", "", "-0.5", "", ""]


def test_lines_and_their_points_return() -> None:
    table = rows(to_csv(LINES))
    up, across = "inlets that still shine [%]", "months since they were cleaned [1]"
    lines = [(float(row[across]), float(row[up])) for row in table if row["kind"] == "line"]
    assert lines == [pair for line in LINES.lines for pair in zip(line.across, line.up, strict=True)]
    assert [row["label"] for row in table if row["kind"] == "point"] == [mark.label for mark in LINES.marks]
    assert table[-1][up] == "50.0"


@pytest.mark.parametrize("label", [MARKUP, 'a,b;"c"', "two\nlines", "=1+1"])
def test_any_label_returns(label: str) -> None:
    figure = LadderFigure("l", "", "", (replace(LADDER.marks[0], label=label),))
    assert rows(to_csv(figure))[0]["label"] == label


def test_a_control_chart() -> None:
    table = rows(to_csv(CHART))
    assert [row["check"] for row in table] == list(CHART.checks)
    assert [float(row["check [Ω]"]) for row in table] == list(CHART.series[0].values)
    assert [row["check: flag"] for row in table if row["check: flag"]] == ["jump", "beyond its limits"]
    assert {float(row["upper limit 5.05 mΩ [Ω]"]) for row in table} == {0.00505}
