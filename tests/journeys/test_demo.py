"""The demonstration from the command to the paper: it runs, finds its known truth, and tells it alike everywhere."""

from __future__ import annotations

import html
import io
import math
import re
import shutil
from dataclasses import dataclass
from pathlib import Path

import pypdf
import pytest

import ohmsworth as ow
from ohmsworth import wiring
from ohmsworth.adapters.simulated import TRUTH
from ohmsworth.adapters.simulated.broken_wire import BREAK, LENGTH
from ohmsworth.adapters.simulated.hall import AS_FOUND, CLEANED, LONE, NEW, SLIPPED, UNSETTLED
from ohmsworth.adapters.simulated.season import TREATMENTS
from ohmsworth.adapters.simulated.shop import LOT, LOT_TRUTH, OWNER, PEOPLE_TRUTH, SHUNT, SHUNT_TRUTH
from ohmsworth.adapters.simulated.tarnished import TARNISHED
from ohmsworth.cli.app import run
from ohmsworth.errors import OutputFault
from ohmsworth.report.answer import Answer, WarningAnswer
from ohmsworth.report.document import Table
from ohmsworth.report.heading import heading
from ohmsworth.work.capacitance.told import tell_capacitance
from ohmsworth.work.report_study import Told, report_study


@dataclass(frozen=True)
class Demo:
    folder: Path
    printed: str
    told: Told
    page: str
    pages: list[str]

    @property
    def answer(self) -> Answer:
        return self.told.answer


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    folder = tmp_path_factory.mktemp("shop") / "demo"
    with pytest.MonkeyPatch.context() as patch:
        out = io.StringIO()
        patch.setattr("sys.stdout", out)
        assert run(["demo", str(folder)]) == 0
    reader = pypdf.PdfReader(folder / "report.pdf")
    return Demo(
        folder,
        out.getvalue(),
        report_study(wiring.load_study(folder / "study")),
        seen((folder / "report.html").read_text("utf-8")),
        [words(page.extract_text()) for page in reader.pages],
    )


def words(text: str) -> str:
    """Text with its blanks, line ends and break marks made one."""
    return " ".join(re.sub("[\u2060\u200b\u00ad]", "", text).split())


def seen(page: str) -> str:
    """What a reader of a page sees of it."""
    body = re.sub(r"(?s)<(style|script|svg)\b.*?</\1>", " ", page)
    return words(html.unescape(re.sub(r"<[^>]*>", " ", body)))


def squeezed(text: str) -> str:
    """Text without blanks: paper and screen break lines at different places."""
    return re.sub(r"\s", "", text)


def rows_of(folder: Path, place: tuple[str, str, int]) -> list[int]:
    """Lines of readings.csv that hold a specimen's mating under a condition."""
    start = ",".join(map(str, place)) + ","
    lines = (folder / "study" / "readings.csv").read_text("utf-8").splitlines()
    return [number for number, line in enumerate(lines, start=1) if line.startswith(start)]


def warning(demo: Demo, code: str) -> WarningAnswer:
    (found,) = [w for w in demo.answer.warnings if w.code == code]
    return found


def test_it_writes_what_it_says(demo: Demo) -> None:
    for name in ("study/study.toml", "study/readings.csv", "report.html", "report.pdf"):
        assert (demo.folder / name).stat().st_size > 1000
    for name in (
        "report.html",
        "report.pdf",
        "study",
        "bench",
        "bench.html",
        "plan",
        "plan.html",
        "lot",
        "lot.html",
        "takes",
        "takes.html",
        "cable",
        "cable.html",
        "wire",
        "wire.html",
        "care",
        "care.html",
        "known.html",
        "workshop",
        "workshop.html",
        "certificate.html",
        "certificate.pdf",
        "label.pdf",
        "shop.records",
        "ladder.svg",
    ):
        assert (demo.folder / name).exists()
        assert str(demo.folder / name) in "".join(demo.printed.split())


def test_it_can_be_run_again(demo: Demo, capsys: pytest.CaptureFixture[str]) -> None:
    before = (demo.folder / "study" / "readings.csv").read_bytes()
    assert run(["demo", str(demo.folder)]) == 0
    assert capsys.readouterr().out == demo.printed
    assert (demo.folder / "study" / "readings.csv").read_bytes() == before


@pytest.mark.parametrize("condition", [AS_FOUND, CLEANED, NEW])
def test_each_true_median_lies_in_its_interval(demo: Demo, condition: str) -> None:
    (found,) = [c for c in demo.answer.conditions if c.condition == condition]
    assert found.low is not None
    assert found.high is not None
    assert found.low < TRUTH.surfaces[condition].median < found.high
    # Four contacts with a scatter of their own say less than six.
    assert found.high / found.low < (1.2 if found.specimens > 4 else 1.3)


@pytest.mark.parametrize("condition", [AS_FOUND, NEW])
def test_each_true_ratio_lies_in_its_interval(demo: Demo, condition: str) -> None:
    (found,) = [c for c in demo.answer.comparisons if c.of == condition]
    assert found.against == CLEANED
    assert found.paired == (condition == AS_FOUND)
    low, high = found.ratio.low, found.ratio.high
    assert low is not None
    assert high is not None
    assert low < TRUTH.ratio(condition, CLEANED) < high
    truth = TRUTH.surfaces[condition].median - TRUTH.surfaces[CLEANED].median
    assert (found.difference.low or 0) < truth < (found.difference.high or 0)


def test_the_true_scatter_is_found(demo: Demo) -> None:
    """Four and more degrees of freedom a level: within a factor of two."""
    found = {(s.level, s.condition): s.standard_deviation for s in demo.answer.scatter}
    assert found["specimen", None] == pytest.approx(TRUTH.specimen, rel=0.5)
    assert 0.025 < found["mating", None] < 0.12
    groups = {s.condition: s.groups for s in demo.answer.scatter if s.level == "reading"}
    assert groups == {c.condition: c.readings for c in demo.answer.conditions}


def test_the_verdicts(demo: Demo) -> None:
    assert {c.of: c.verdict for c in demo.answer.comparisons} == dict.fromkeys(
        (AS_FOUND, NEW), "too small to matter"
    )
    assert {(s.condition, s.verdict) for s in demo.answer.specimens} == {
        (AS_FOUND, "over"), (CLEANED, "within"), (NEW, "within"),
    }  # fmt: skip


def test_the_slip_is_named_and_left_out(demo: Demo) -> None:
    found = warning(demo, "UNIT_SLIP")
    assert found.rows == (rows_of(demo.folder, SLIPPED)[-1],)
    assert found.set_aside
    assert f"line {found.rows[0]} of readings.csv" in demo.answer.actions[0].words


def test_the_unsettled_mating_is_named_and_left_out(demo: Demo) -> None:
    found = warning(demo, "STILL_MOVING")
    assert list(found.rows) == rows_of(demo.folder, UNSETTLED)
    assert found.set_aside
    moving = [s for s in demo.answer.specimens if s.state == "still moving"]
    assert [(s.id, s.condition) for s in moving] == [UNSETTLED[:2]]
    assert not any("fresh mating" in a.words for a in demo.answer.actions), "it has been cleaned since"


def test_the_same_contacts_are_told_as_they_were_and_as_they_are(demo: Demo) -> None:
    assert "as they were ('as found') all 6 were over, as they are now ('cleaned') all 6 are within" in (
        demo.answer.sentence
    )
    assert heading(demo.answer) == ("too small to matter; over the limit before, within it now", "good")
    steps = [a.words for a in demo.answer.actions]
    assert not any(step.startswith(("Hold back", "Do not pass")) for step in steps)
    assert any("others like them that are still 'as found'" in step for step in steps)
    assert any("bring other contacts that are still 'as found'" in step for step in steps)


def test_the_lone_polarity_is_named_and_stays(demo: Demo) -> None:
    found = warning(demo, "ONE_POLARITY")
    assert len(found.rows) == 1
    assert found.rows[0] in rows_of(demo.folder, LONE)
    assert not found.set_aside
    left_out = len(warning(demo, "UNIT_SLIP").rows) + len(warning(demo, "STILL_MOVING").rows)
    assert demo.answer.rows - demo.answer.rows_used == left_out
    assert len(demo.answer.warnings) == 3


def test_the_first_sheet_of_paper_is_the_answer(demo: Demo) -> None:
    first = squeezed(demo.pages[0])
    for text in (demo.answer.question, demo.answer.sentence, "What to do"):
        assert squeezed(text) in first
    for action in demo.answer.actions:
        assert squeezed(action.words + action.why) in first
        for caution in action.cautions:
            assert squeezed(caution) in first


def test_screen_and_terminal_say_the_same(demo: Demo) -> None:
    printed = squeezed(demo.printed.replace("|", " "))
    for text in (demo.answer.sentence, *(a.words for a in demo.answer.actions)):
        assert words(text) in demo.page
        assert squeezed(text) in printed


def test_paper_and_screen_have_the_same_sections_and_tables(demo: Demo) -> None:
    paper, screen = squeezed(" ".join(demo.pages)), squeezed(demo.page)
    tables = 0
    for section in demo.told.report.sections:
        assert squeezed(section.title) in paper
        assert squeezed(section.title) in screen
        for table in (block for block in section.blocks if isinstance(block, Table)):
            tables += 1
            for text in (table.caption, table.note, *table.header, *(c for row in table.rows for c in row)):
                assert squeezed(text) in paper, text
                assert squeezed(text) in screen, text
    assert tables >= 10
    for finding in demo.answer.findings:
        assert squeezed(finding) in screen


def test_the_bench_beside_the_answer_is_the_bench_of_fitness(demo: Demo) -> None:
    assert demo.answer.bench is not None
    told = ow.fitness(demo.folder / "bench")
    assert demo.answer.bench.verdict == told.verdict == "fit today"
    assert told.sentence.startswith(demo.answer.bench.sentence)
    assert demo.answer.bench.sentence[4:] in demo.page
    assert "Single checks: is today's reading where it belongs?" in demo.page


def test_the_bench_finds_its_truth(demo: Demo) -> None:
    told = ow.fitness(demo.folder / "bench")
    assert told.control is not None
    assert told.study is not None
    shunt = SHUNT_TRUTH.surfaces[SHUNT]
    # The meters' gains are shared by all checks: 0.2 % of the ammeter, 0.03 % of the voltmeter.
    assert told.control.centre == pytest.approx(shunt.median, rel=0.0023)
    assert told.control.standard_deviation == pytest.approx(shunt.mating * shunt.median, rel=0.4)
    size = {c.component: c.standard_deviation for c in told.study.components}
    assert size["repeatability"] == pytest.approx(PEOPLE_TRUTH.surfaces[OWNER].mating, rel=0.4)
    assert size["between specimens"] == pytest.approx(PEOPLE_TRUTH.specimen, rel=0.6)
    assert size["of it, operators"] == pytest.approx(0.01 / math.sqrt(2), rel=1.0)
    assert told.ability is not None
    assert told.ability.within_up_to is not None
    assert told.ability.within_up_to < 3e-3 < told.ability.over_from


def test_the_plan_takes_the_scatter_of_the_hall(demo: Demo) -> None:
    found = ow.plan(demo.folder / "plan", [demo.folder / "study"])
    assert {s.source for s in found.scatter} == {"found in 'study'"}
    assert found.best is not None
    assert found.best.chance >= 0.9
    assert squeezed(found.sentence) in squeezed(demo.printed)
    page = (demo.folder / "plan.html").read_text("utf-8")
    assert "power.svg" in page
    assert "check standard, first" in page


def test_the_lot_finds_its_truth(demo: Demo) -> None:
    told = ow.lot(demo.folder / "lot")
    limit = math.log(3e-3 / LOT_TRUTH.surfaces[LOT].median)
    over = 0.5 * math.erfc(limit / LOT_TRUTH.specimen / math.sqrt(2))
    assert told.verdict == "accept"
    assert told.measured is not None
    assert told.measured.share_low <= over <= told.measured.share_high
    assert squeezed(told.sentence) in squeezed(demo.printed)
    assert "lot-curve.svg" in (demo.folder / "lot.html").read_text("utf-8")


def test_the_lot_can_be_certified(demo: Demo, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lot, key = shutil.copytree(demo.folder / "lot", tmp_path / "lot"), demo.folder / "shop.key"
    pdf = tmp_path / "lot.pdf"
    assert run(["certify", str(lot), "--key", str(key), "--pdf", str(pdf)]) == 0
    assert run(["verify", str(pdf), "--key", f"{key}.pub", "--folder", str(lot)]) == 0
    assert "lot B-77 was accepted" in " ".join(capsys.readouterr().out.split())


def test_care_goes_by_what_the_shop_did(demo: Demo) -> None:
    told = ow.care(demo.folder / "care")
    assert told.advice == "clean"
    seen = {one.name: (one.good, one.cases) for one in told.helps}
    assert seen["clean"][0] == seen["clean"][1] > 10
    assert seen["exercise"][0] < seen["exercise"][1]
    assert squeezed(told.sentence) in squeezed(demo.printed)
    assert "care-" in (demo.folder / "care.html").read_text("utf-8")


def test_all_studies_together_find_their_truth(demo: Demo) -> None:
    names = ("club", "church", "theatre", "festival")
    studies = [demo.folder / "known" / name for name in names]
    told = ow.known([*studies, demo.folder / "study"], of=AS_FOUND, against=CLEANED)
    assert told.together is not None
    assert told.together.low < TREATMENTS[CLEANED][0] < told.together.high
    assert squeezed(told.sentence) in squeezed(demo.printed)


def test_the_order_is_cut_and_priced(demo: Demo) -> None:
    place = demo.folder / "workshop"
    cables = [path.parent for path in sorted(place.rglob("cable.toml"))]
    assert len(cables) == 2
    told = ow.workshop(cables, reels=place / "reels.csv", prices=place / "prices.toml")
    assert all(stock.proven and not stock.missing for stock in told.stocks)
    assert told.estimate is not None
    assert told.estimate.complete
    (label,) = [line for line in told.estimate.lines if line.name == "label"]
    assert (label.number, label.amount) == (11, "1.65")  # 11 at 0.15
    assert squeezed(told.sentence.split(". It comes")[1]) in squeezed(demo.printed)


def test_the_certificate_verifies(demo: Demo, capsys: pytest.CaptureFixture[str]) -> None:
    key, records = str(demo.folder / "shop.key.pub"), str(demo.folder / "shop.records")
    for name in ("certificate.json", "certificate.html", "certificate.pdf"):
        assert run(["verify", str(demo.folder / name), "--key", key, "--records", records]) == 0
    assert "is whole" in capsys.readouterr().out
    assert "Verified: The certificate" in words(demo.printed)


def test_the_contact_over_frequency_finds_its_truth(demo: Demo) -> None:
    told = ow.takes(demo.folder / "takes")
    assert told.resistance.low < TARNISHED.resistance + TARNISHED.film < told.resistance.high
    assert told.model is not None
    parts = {part.name: part for part in told.model.parts}
    assert parts["inductance"].low < TARNISHED.inductance < parts["inductance"].high
    assert told.model.hidden_film is not None, "a film of milliohms is bridged far above what is heard"
    assert told.limit is not None
    assert told.limit.verdict == "over"
    assert told.direct is not None
    assert told.direct.explained
    assert not told.warnings
    assert squeezed(told.sentence) in squeezed(demo.printed)
    page = (demo.folder / "takes.html").read_text("utf-8")
    assert "Interface and recordings" in page
    assert sum(path.stat().st_size for path in (demo.folder / "takes").iterdir()) < 4_000_000


def test_the_break_of_a_wire_is_found_where_it_is(demo: Demo) -> None:
    (broken,) = tell_capacitance(wiring.load_capacitance(demo.folder / "wire")).answer.breaks
    assert broken.low < BREAK / LENGTH < broken.high
    assert f"The break of core 2 lies at {100 * broken.share:.1f} %" in words(demo.printed)
    assert "For cable.toml" in (demo.folder / "wire.html").read_text("utf-8")
    assert sum(path.stat().st_size for path in (demo.folder / "wire").iterdir()) < 10_000_000


def test_the_drive_may_be_made_beside_the_demos_takes(tmp_path: Path) -> None:
    wiring.write_demo_takes(tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert run(["tones", str(tmp_path)]) == 0
    wiring.write_demo_takes(tmp_path)
    assert {name: (tmp_path / name).read_bytes() for name in before} == before
    (tmp_path / "notes.txt").write_text("mine")
    with pytest.raises(OutputFault, match=r"notes\.txt"):
        wiring.write_demo_takes(tmp_path)
