"""The invented season in the records: its truth is found again by what the bench tells of them."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from ohmsworth import wiring
from ohmsworth.adapters.simulated.season import CERTIFIED, DRUM_GROWN, FLAWS, LONG, ORDERS, TREATMENTS
from ohmsworth.adapters.simulated.season.built import BEGUN, MISNAMED, SLIPPED, WAITING, serials
from ohmsworth.adapters.simulated.season.visits import AGEING, AS_FOUND, CLEANED
from ohmsworth.inference.control import FIT
from ohmsworth.report.care.ageing_answer import By
from ohmsworth.report.care.ageing_sentences import FASTER, SLOWER
from ohmsworth.wiring.paper_files import Verifying, verify_file
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.log import CableState
from ohmsworth.work.builds.season import MONTH, season_of
from ohmsworth.work.cards.specimen_history import specimen_history
from ohmsworth.work.care.ageing import report_ageing
from ohmsworth.work.care.known_records import known_in_records
from ohmsworth.work.care.specimen_trend import specimen_trend
from ohmsworth.work.fill_season import TurnedClock
from ohmsworth.work.paper_lines import papers_of
from ohmsworth.work.records import Card, Records
from ohmsworth.work.shop_fitness import day_of
from ohmsworth.work.standards import standards
from ohmsworth.work.study_desk import Desk

LAST = date(2026, 11, 26)
#: What the verdict of the first complete test is to name of each flaw.
FOUND = {
    "M05": ["over"], "M11": ["reversed pair"], "P07": ["open"], "D04": ["crossed"], "D09": ["touch"], "L06": ["over"],
    "S02": ["touch"],
}  # fmt: skip


@dataclass(frozen=True)
class Filled:
    folder: Path

    @property
    def address(self) -> str:
        return str(self.folder / "shop.records")

    def fill(self, last: date = LAST) -> int:
        hall = tuple(self.folder.parent / name for name in ("earlier", "study", "lot"))
        return wiring.fill_demo_season(self.address, self.folder / "shop.key", hall, last)

    @contextmanager
    def records(self) -> Iterator[Records]:
        with wiring.open_records(self.address) as records:
            yield records


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    wiring.write_demo_study(folder / "study")
    wiring.write_demo_shop(*(folder / name for name in ("bench", "plan", "lot", "earlier")))
    return folder


@pytest.fixture(scope="module")
def filled(folders: Path) -> Filled:
    (folders / "whole").mkdir()
    made = Filled(folders / "whole")
    made.fill()
    return made


def cable(records: Records, serial: str) -> Card:
    (found,) = [card for card in records.cards("cable", search=serial) if card.face.title.endswith(serial)]
    return found


def state(records: Records, serial: str) -> CableState:
    return CableDesk(wiring.shop(records)).state(cable(records, serial).number)


def test_the_records_hold_a_season(filled: Filled) -> None:
    with filled.records() as records:
        kinds = Counter(card.kind for card in records.cards(most=1000))
        assert records.check() == ()
    assert kinds["cable"] == sum(order.many for order in ORDERS) + 1 > 60
    assert kinds["study"] == 13
    assert 20 <= kinds["specimen"] <= 32
    assert min(kinds[kind] for kind in ("person", "limit", "meter", "job", "customer")) >= 2


@pytest.mark.parametrize("treatment", TREATMENTS)
def test_what_treatments_do_is_found(filled: Filled, treatment: str) -> None:
    with filled.records() as records:
        found = known_in_records(Desk(wiring.shop(records)), records, AS_FOUND, treatment)
    together = found.told.answer.together
    assert together is not None
    assert together.low < TREATMENTS[treatment][0] < together.high
    assert found.left_out == ()
    assert len(found.told.answer.studies) == (5 if treatment == CLEANED else 3)


def test_every_flaw_is_found_and_nothing_else(filled: Filled) -> None:
    with filled.records() as records:
        figures = {
            serial: cable(records, serial).face.figures for order in ORDERS for serial in serials(order)
        }
        states = {serial: cable(records, serial).face.state for serial in figures}
    assert {serial: one["faults"] for serial, one in figures.items() if one["faults"]} == FOUND
    assert figures["S03"]["first"] == "look first"
    assert set(FLAWS) == set(FOUND) | {"S03"}
    sound = set(figures) - set(FLAWS) - {BEGUN}
    assert {figures[serial]["first"] for serial in sound} == {"right"}
    assert {serial for serial, shown in states.items() if shown != "right"} == {"L06", BEGUN}


def test_what_was_not_measured_yet_says_so(filled: Filled) -> None:
    with filled.records() as records:
        assert cable(records, WAITING).face.state == "not tested"
        assert cable(records, BEGUN).face.state == "cannot tell yet"
        withdrawn = [row for row in state(records, SLIPPED).rows if row.state == "withdrawn"]
        assert [bool(row.reason) for row in withdrawn] == [True]


def test_the_drums_growth_is_found(filled: Filled) -> None:
    with filled.records() as records:
        season = season_of(records.figures_of("cable"), "week")
    (course,) = [one for one in season.conductors if one.name == "85 mΩ/m"]
    # Over the season, on the logarithm's scale, for the share of it that is copper: 20 m with two contacts of 4 mΩ.
    copper = 20 * 0.085 / (20 * 0.085 + 8e-3)
    truth = math.expm1(math.log1p(DRUM_GROWN * copper) * MONTH / LONG)
    assert course.drift is not None
    assert 0 < course.drift.low < truth < course.drift.high
    still = next(one for one in season.conductors if one.name == "0.22 mm² + 2 % lay")
    assert still.drift is not None
    assert still.drift.low < 0 < still.drift.high
    assert season.unread == 0
    assert season.begun == 1


def test_every_paper_verifies(filled: Filled, tmp_path: Path) -> None:
    with filled.records() as records:
        papers: dict[str, list[bytes]] = {}
        for serial in (CERTIFIED, MISNAMED, "L06"):
            kept, card = papers_of(state(records, serial)), cable(records, serial).number
            papers[serial] = [records.content(card, one.line) for one in kept]
    said = {}
    for serial, contents in papers.items():
        for number, content in enumerate(contents):
            path = tmp_path / f"{serial}-{number}.json"
            path.write_bytes(content)
            answer = verify_file(Verifying(path, None, filled.folder / "shop.key.pub", filled.address))
            said[path.stem] = answer.fits, answer.verdict, answer.signer
            assert answer.issued < "2026-11-26", "issued in the season, not today"
    assert said == {
        f"{CERTIFIED}-0": (True, "right", "known"),
        f"{MISNAMED}-0": (True, "right", "known"),
        f"{MISNAMED}-1": (False, "right", "known"),  # a later one takes its place
        "L06-0": (True, "wrong", "known"),
    }


def test_the_lot_has_its_certificate(filled: Filled, tmp_path: Path) -> None:
    with filled.records() as records:
        (study,) = records.cards("study", search="bag of connectors")
        (paper,) = papers_of(Desk(wiring.shop(records)).state(study.number))
        content = records.content(study.number, paper.line)
    assert (paper.kind, paper.result) == ("certificate", "accept")
    path = tmp_path / "lot.json"
    path.write_bytes(content)
    answer = verify_file(Verifying(path, None, filled.folder / "shop.key.pub", filled.address))
    assert (answer.fits, answer.signer) == (True, "known")


def test_the_bench_is_fit_and_something_is_due(filled: Filled) -> None:
    with filled.records() as records:
        shop = wiring.shop(records)
        (standard,) = standards(records)
        moment = datetime(2026, 11, 26, 12, tzinfo=UTC)
        day = day_of(_at(shop, moment), Desk(shop), standard)
        due = {card.face.due_for: card.face.due for card in records.cards(due_by=date(2026, 12, 26))}
    assert day.fit
    assert day.today
    assert FIT in day.sentence.lower()
    assert set(due) == {"calibration", "re-test", "promised to the customer"}
    assert all(day is not None and day > LAST for day in due.values())


def _at(shop: Any, moment: datetime) -> Any:
    from dataclasses import replace

    return replace(shop, clock=TurnedClock(moment))


def test_a_specimen_has_a_trend(filled: Filled) -> None:
    with filled.records() as records:
        (card,) = (one for one in records.cards("specimen") if one.face.title.startswith("club 3 "))
        studies = specimen_history(records, card.number, Desk(wiring.shop(records)).state)
    assert len(studies) == 2
    found = specimen_trend(studies, 5e-3, LAST)
    assert found is not None
    assert (found.condition, found.days) == ("in use", 6)


@pytest.mark.parametrize(
    ("job", "by", "level", "specimens"),
    [
        ("club", "supplier lot", "delivery 114", 5),
        ("theatre", "supplier lot", "delivery 87", 5),
        ("theatre", "age", "3 to 10 years old", 5),
        ("school", "treatment", "exercise", 3),
        ("school", "plating", "tin", 3),
    ],
)
def test_what_was_planted_is_found_again_in_how_contacts_age(
    filled: Filled, job: str, by: By, level: str, specimens: int
) -> None:
    with filled.records() as records:
        told = report_ageing(records, by, ()).answer
    found = next(one for one in told.levels if one.name == level)
    backs = sorted(AGEING[job])
    grown = math.log(AGEING[job][backs[0]] / AGEING[job][backs[-1]])
    truth = grown / (backs[-1] - backs[0]) * 365.25
    assert found.specimens == specimens
    assert found.per_year is not None
    assert found.per_year.low < math.exp(truth) < found.per_year.high


def test_an_older_delivery_ages_faster_and_it_is_said(filled: Filled) -> None:
    with filled.records() as records:
        told = report_ageing(records, "supplier lot", ()).answer
    said = next(one for one in told.differences if {one.of, one.against} == {
        "delivery 114", "delivery 87"
    })  # fmt: skip
    assert said.verdict in (FASTER, SLOWER)


def test_filling_again_adds_nothing(filled: Filled) -> None:
    before = rows(filled)
    filled.fill(date(2027, 1, 15))
    assert rows(filled) == before


@pytest.mark.slow
def test_an_interrupted_season_goes_on_to_the_same_rows(
    filled: Filled, folders: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folders / "broken").mkdir()
    again = Filled(folders / "broken")
    from ohmsworth.work import fill_season

    done, issue = [0], fill_season.issue_paper

    def breaks(*given: Any) -> Any:
        done[0] += 1
        if done[0] == 4:
            raise KeyboardInterrupt
        return issue(*given)

    monkeypatch.setattr(fill_season, "issue_paper", breaks)
    with pytest.raises(KeyboardInterrupt):
        again.fill()
    monkeypatch.undo()
    assert len(rows(again)) < len(rows(filled))
    again.fill(date(2026, 12, 1))
    assert rows(again) == rows(filled)


def rows(of: Filled) -> list[tuple[Any, ...]]:
    """Every line of every log; the key that papers are signed with is made anew each time, and stands in none of them."""
    with of.records() as records:
        return [
            (
                card.kind,
                line.number,
                line.key,
                line.kind,
                line.by,
                line.at,
                dict(line.fields),
                line.about,
                line.entry,
            )
            for card in sorted(records.cards(most=1000), key=lambda card: card.number)
            for line in records.lines(card.number)
        ]
