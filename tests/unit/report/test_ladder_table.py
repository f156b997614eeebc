"""The ladder of an answer, as marks and as a table."""

import math
import re

import pytest
from tests.adapters.render.twelve_uses import TWELVE, USES
from tests.unit.report.answers import answer, condition, falling_short

from ohmsworth.report.document import LadderFigure, LadderMark
from ohmsworth.report.ladder import ladder, ladder_table
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer

MICROPHONE = UseAnswer(
    "dynamic microphone",
    "vocal microphone",
    {},
    (),
    (
        ThresholdAnswer("rejection_mains", "hum falls to 60 dB", "one leg", 1.9, "", "", ""),
        ThresholdAnswer("new_effect", "something new happens", "the screen", 0.5, "", "", ""),
    ),
)


def test_a_threshold_keeps_where_it_is_and_gets_a_short_name() -> None:
    figure = ladder(answer(uses=[MICROPHONE, falling_short()]), 293.15)
    found = {m.label: m for m in figure.marks if m.kind == "threshold"}
    hum, new = found["hum falls to 60 dB"], found["something new happens"]
    assert (hum.group, hum.value, hum.position, hum.harm) == ("vocal microphone", 1.9, "one leg", "hum")
    assert (new.position, new.harm) == ("the screen", "new effect")
    # What ideal contacts pass already is no contact's doing, and stands in the table of the use only.
    assert [m.label for m in figure.marks if m.group == "tie line"] == ["level at 1 kHz falls by 0.1 dB"]


def test_those_who_cannot_see_it_hear_which_use_suffers_first() -> None:
    both = ladder(answer(uses=[falling_short(), MICROPHONE]), 293.15)
    assert "of 2 uses the first to suffer is vocal microphone, at 500 mΩ" in both.alt
    assert "suffer" not in ladder(answer(uses=[MICROPHONE]), 293.15).alt


def test_a_condition_is_told_by_its_name_or_as_the_contacts() -> None:
    assert [m.label for m in ladder(answer(), 293.15).marks if m.kind == "contact"] == ["the contacts"]
    named = answer(conditions=[condition("worn"), condition("new", -1e-4)])
    assert [m.label for m in ladder(named, 293.15).marks if m.kind == "contact"] == ["worn"]


def ohm(cell: str) -> float:
    number, unit = cell.split("\u00a0")
    return float(number) * {"µΩ": 1e-6, "mΩ": 1e-3, "Ω": 1.0, "kΩ": 1e3}[unit]


def test_the_table_holds_every_mark_smallest_resistance_first() -> None:
    table = ladder_table(TWELVE)
    assert table.header == ("at", "use", "what happens", "where")
    assert len(table.rows) == len(TWELVE.marks)
    values = [ohm(row[0]) for row in table.rows]
    assert values == pytest.approx(sorted(m.value for m in TWELVE.marks), rel=0.05)
    told = {(row[1], row[2].removesuffix(": a hazard"), row[3]) for row in table.rows}
    for use, steps in USES.items():
        assert {(use, words, where) for _, words, _, where, _ in steps} <= told
    hazards = [row for row in table.rows if row[2].endswith(": a hazard")]
    assert len(hazards) == sum(step[4] for steps in USES.values() for step in steps)


def test_the_table_tells_contacts_limit_and_wires_from_uses() -> None:
    rows = {row[1]: row for row in ladder_table(TWELVE).rows if row[1] not in USES}
    assert rows["limit"][2] == "limit (the datasheet: contact resistance of a mated pair)"
    assert re.fullmatch(r"(new|cleaned|as found) \(measured\), [\d.]+ to [\d.]+ mΩ", rows["contact"][2])
    assert rows["wire"][2].endswith(" of 0.22 mm² wire")
    assert {row[3] for row in rows.values()} == {"–"}


def test_a_threshold_that_nothing_reaches_is_never_reached() -> None:
    mark = LadderMark("threshold", "it breaks", "use", math.inf, note="not below a megohm")
    assert ladder_table(LadderFigure("l", "", "", (mark,))).rows == (
        ("never", "use", "it breaks, not below a megohm", "–"),
    )
