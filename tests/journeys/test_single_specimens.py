"""A study folder in; which specimen carries its verdict, and which plug is high, out in words, table, picture and JSON."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from tests.journeys.kinds import LIMIT, OHMMETER, Row, asking, kind, told, write

from ohmsworth import wiring
from ohmsworth.cli.app import run
from ohmsworth.report.document import IntervalFigure, Table

NEW, WORN = (2.42, 2.51, 2.38, 2.47, 2.45), (2.61, 2.55, 2.66, 2.58, 3.30)


def flat(worn: tuple[float, ...] = WORN) -> list[Row]:
    return [
        {"specimen": f"{letter}{i + 1}", "condition": condition, "resistance [mΩ]": value}
        for letter, condition, values in (("N", "new", NEW), ("T", "worn", worn))
        for i, value in enumerate(values)
    ]


def re_paired(plug_3: float = 1.0, pair: float = 0.01) -> list[Row]:
    """Three plugs with three sockets, mated twice."""
    rng = np.random.default_rng(6)
    rows: list[Row] = []
    for p in range(1, 5):
        for s in range(1, 5):
            own = pair * rng.standard_normal()
            for m in (1, 2):
                level = own + 0.01 * rng.standard_normal()
                ohm = 2.4 * (plug_3 if p == 3 else 1.0) * np.exp(level)
                row = {"plug": f"P{p}", "socket": f"S{s}", "mating": m, "resistance [mΩ]": f"{ohm:.4f}"}
                rows.append(row)
    return rows


def test_the_specimen_that_keeps_a_question_open_is_named_everywhere(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = asking("new", 'margin = "0.4 mΩ"', 'scale = "linear"')
    folder = write(tmp_path / "study", study, flat())
    assert run(["answer", str(folder), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    (found,) = answer["sensitivity"]
    assert found["verdict"] == answer["comparisons"][0]["verdict"] == "cannot tell yet"
    assert found["changes"] == [{"kind": "specimen", "id": "T5", "verdict": "too small to matter"}]
    sentence = next(f for f in answer["findings"] if "without T5" in f)
    assert run(["answer", str(folder), "--html", str(tmp_path / "report.html")]) == 0
    assert "without T5 it would be 'too small to matter'" in " ".join(capsys.readouterr().out.split())
    page = (tmp_path / "report.html").read_text("utf-8")
    assert "Without one of them" in page
    # What is told is what the study says without that specimen.
    rest = [row for row in flat() if row["specimen"] != "T5"]
    assert told(study, rest).answer.comparisons[0].verdict == "too small to matter"
    assert "leave it out for no other reason" in sentence


def test_the_reference_need_not_come_first() -> None:
    answer = told(asking("new", 'margin = "0.4 mΩ"', 'scale = "linear"'), flat()[::-1]).answer
    assert answer.conditions[0].condition == "worn"
    (found,) = answer.sensitivity
    assert (found.of, found.against) == ("worn", "new")
    assert [(c.id, c.verdict) for c in found.changes] == [("T5", "too small to matter")]


def test_every_change_told_is_that_of_a_study_without_the_specimen() -> None:
    study = asking("new", 'margin = "0.3 mΩ"') + LIMIT.replace("3 mΩ", "2.79 mΩ")
    rows = flat((2.61, 2.72, 2.66, 2.80, 2.75))
    whole = told(study, rows).answer
    changed = {(s.of, s.against, c.id): c.verdict for s in whole.sensitivity for c in s.changes}
    assert changed
    for name in {row["specimen"] for row in rows}:
        rest = told(study, [row for row in rows if row["specimen"] != name]).answer
        verdicts = {(c.of, c.against): c.verdict for c in rest.comparisons}
        verdicts |= {(c.condition, None): c.verdict or "" for c in rest.conditions}
        for s in whole.sensitivity:
            assert verdicts[s.of, s.against] == changed.get((s.of, s.against, name), s.verdict)


def test_a_high_plug_is_told_tabled_and_drawn() -> None:
    found = told(asking() + OHMMETER, re_paired(1.4))
    (high,) = [p for p in found.answer.parts if p.stands_out == "high"]
    assert (high.kind, high.id, high.partners, high.above) == ("plug", "P3", 4, 4)
    # Against the middle of four plugs, of which it is one: a ratio of 1.4 to the power of three quarters.
    assert high.effect.value == pytest.approx(1.4**0.75, rel=0.03)
    assert any(f.startswith("Plug P3 is high with every socket: ") for f in found.answer.findings)
    assert any("best linear unbiased prediction" in m for m in found.answer.method)
    blocks = [block for section in found.report.sections for block in section.blocks]
    (figure,) = [block for block in blocks if isinstance(block, IntervalFigure)]
    (table,) = [
        block for block in blocks if isinstance(block, Table) and block.caption == "Plugs and sockets"
    ]
    assert [mark.label for mark in figure.marks if mark.flag == "high"] == ["P3"]
    assert [row[0] for row in table.rows if row[-1] == "high"] == ["plug P3"]
    assert "Plug P3 is high with every socket" in " ".join(wiring.as_text(found.summary, 100).split())
    assert "high" in wiring.as_html(found.report)


def test_a_plug_with_one_partner_does_not_stand_out() -> None:
    """It may be high, or the pair of it and its only socket."""
    rows = [row for row in re_paired(1.4) if row["plug"] != "P3" or row["socket"] == "S1"]
    (plug,) = [p for p in told(asking() + OHMMETER, rows).answer.parts if p.id == "P3"]
    assert plug.effect.low is not None
    assert plug.effect.low > 1
    assert (plug.partners, plug.stands_out) == (1, None)


def test_the_pairing_is_told_where_no_part_is_high() -> None:
    found = told(asking() + OHMMETER, re_paired(pair=0.25))
    assert any(
        f.startswith("It is the pairing, not a single part: pairs scatter by ") for f in found.answer.findings
    )


def test_little_scatter_is_not_spoken_of() -> None:
    findings = told(asking() + OHMMETER, re_paired()).answer.findings
    assert not any("pairing" in f or "is high with" in f for f in findings)


@pytest.mark.parametrize("name", ["paired", "one specimen", "hundreds of specimens", "identical readings"])
def test_studies_without_re_paired_parts_tell_none(name: str) -> None:
    answer = kind(name).answer
    assert answer.parts == ()
    assert bool(answer.sensitivity) == (name == "paired")
