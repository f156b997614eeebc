"""What is said of a study in the records names readings by the numbers on its pages; its folder is told by lines."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from tests.unit.work.bench_shop import FORM, BenchShop

from ohmsworth import wiring
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.document import Document, Table
from ohmsworth.work.live_study import live_study
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.reading_changes import change_reading
from ohmsworth.work.report_study import Told, report_study
from ohmsworth.work.results import find_results
from ohmsworth.work.shop_fitness import Asked, tell_fitness
from ohmsworth.work.study_desk import Desk

#: What nobody has seen whose study was typed on pages.
FILES = re.compile(
    r"readings\.csv|study\.toml|check\.csv|\[\[use\]\]|'keep'|\blines? \d|'ohmsworth |\brows\b"
)
#: The reading that is ten times too large.
SLIPPED = 7


@pytest.fixture(scope="module")
def bench() -> BenchShop:
    """Return a whole sheet of which the first two readings were withdrawn, one is a slip, one kept, one set aside."""
    bench = BenchShop(form=replace(FORM, limit="", limit_source=""))
    for step in range(1, len(bench.state.sheet) + 1):
        bench.take(step, 10.0 if step == SLIPPED else 1.0, waited=True)
    for nth, change in ((1, "withdraw"), (2, "withdraw"), (12, "keep"), (14, "set aside")):
        number = next(one.number for one in bench.state.readings if one.nth == nth)
        change_reading(bench.shop, bench.study, bench.state, number, change, "it was so", "Ada", f"key {nth}")
    return bench


def told(bench: BenchShop) -> Told:
    return report_study(bench.desk.loaded(bench.study, bench.state))


def text(*documents: Document) -> str:
    return "\n".join(wiring.as_text(one, 10_000) for one in documents)


def test_no_word_of_the_answer_names_a_file(bench: BenchShop) -> None:
    found = told(bench)
    said = [FILES.findall(text(one)) for one in (found.summary, found.report)]
    assert said == [[], []]
    mends = [w.what_to_do for w in found.answer.warnings]
    assert [FILES.findall(one) for one in mends] == [[] for _ in mends]


def test_readings_go_by_the_numbers_of_the_pages(bench: BenchShop) -> None:
    found = told(bench)
    (slip,) = [w for w in found.answer.warnings if w.code == "UNIT_SLIP"]
    # The first line is the heading, and two readings above it were withdrawn.
    assert slip.rows == (SLIPPED - 1,)
    assert any(a.words == f"Check reading {SLIPPED} under Readings." for a in found.answer.actions)
    (warned,) = [
        block
        for section in found.report.sections
        for block in section.blocks
        if isinstance(block, Table) and block.caption == "Warnings"
    ]
    assert warned.header[1] == "readings"
    assert [row[1] for row in warned.rows if row[0] == "UNIT_SLIP"] == [str(SLIPPED)]
    loaded = bench.desk.loaded(bench.study, bench.state)
    numbers = loaded.study.home.number_of
    assert {numbers[line] for line in loaded.study.keep} == {12}
    assert {numbers[line] for line in loaded.study.set_aside} == {14}


def test_its_folder_is_told_by_lines(bench: BenchShop, tmp_path: Path) -> None:
    for name, content in bench.desk.folder(bench.study, bench.state).items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_bytes(content)
    folder, kept = report_study(wiring.load_study(tmp_path)), told(bench)
    words = text(folder.report)
    assert f"Check line {SLIPPED - 1} of readings.csv against the bench sheet." in words
    assert "add [[use]] to study.toml" in words
    # The same answer, in other words.
    assert folder.answer.conditions == kept.answer.conditions
    assert [w.rows for w in folder.answer.warnings] == [w.rows for w in kept.answer.warnings]


def test_the_answer_so_far_names_no_file(bench: BenchShop) -> None:
    live = live_study(bench.desk, bench.study, bench.state)
    assert live is not None
    assert FILES.findall(f"{live.sentence} {' '.join(live.findings)} {live.rule}") == []


def test_the_fitness_of_the_bench_names_no_file(bench: BenchShop) -> None:
    found = tell_fitness(bench.shop, bench.desk, Asked(study=bench.study))
    assert FILES.findall(text(found.report, found.summary)) == []


def test_a_refusal_stands_at_a_reading(bench: BenchShop) -> None:
    fault = Fault("readings.csv, line 9, column 'resistance'", "-1", "more than zero", "Check the signs.")

    def refuse(*_: object) -> LoadedStudy:
        raise InputRefused((fault,))

    desk = Desk(replace(bench.shop, read_folder=refuse))
    with pytest.raises(InputRefused) as refused:
        desk.loaded(bench.study, bench.state)
    # Two readings above it were withdrawn.
    assert refused.value.faults == (replace(fault, where="reading 10, column 'resistance'"),)


def test_a_resistance_without_a_logarithm_stands_at_a_reading(bench: BenchShop) -> None:
    loaded = bench.desk.loaded(bench.study, bench.state)
    assert loaded.table.voltage is not None
    turned = replace(loaded, table=replace(loaded.table, voltage=-loaded.table.voltage))
    with pytest.raises(InputRefused) as refused:
        find_results(turned)
    assert all(re.fullmatch(r"readings? \d+(, \d+)*", fault.where) for fault in refused.value.faults)
