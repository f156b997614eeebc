"""The invented shop is there whole, and once, however often it is filled in."""

from pathlib import Path

from ohmsworth import wiring
from ohmsworth.work.cards.specimen_history import specimen_history
from ohmsworth.work.study_desk import Desk


def written(folder: Path) -> tuple[Path, Path]:
    """Write the scenario's folders; the two that the records take in."""
    wiring.write_demo_study(folder / "study")
    wiring.write_demo_shop(*(folder / name for name in ("bench", "plan", "lot", "earlier")))
    return folder / "earlier", folder / "study"


def test_a_second_time_adds_nothing(tmp_path: Path) -> None:
    studies = written(tmp_path)
    place = str(tmp_path / "shop.records")
    wiring.write_demo_cable(tmp_path / "cable")
    cables = (tmp_path / "cable",)
    first = wiring.fill_demo_records(place, studies, cables)
    with wiring.open_records(place) as records:
        lines = {card.number: len(records.lines(card.number)) for card in records.cards("study", most=9)}
        kinds = {kind: records.count(kind) for kind in ("study", "specimen", "meter", "job", "cable")}
        (cable,) = records.cards("cable")
    assert kinds == {"study": 3, "specimen": 10, "meter": 2, "job": 1, "cable": 1}
    assert (cable.face.title, cable.face.state) == ("stage multicore no. 7", "wrong")
    assert min(lines.values()) > 10
    assert wiring.fill_demo_records(place, studies, cables) == first
    with wiring.open_records(place) as records:
        assert {n: len(records.lines(n)) for n in lines} == lines


def test_a_specimen_is_shown_in_the_years_in_which_it_was_read(tmp_path: Path) -> None:
    studies = written(tmp_path)
    place = str(tmp_path / "shop.records")
    wiring.fill_demo_records(place, studies)
    with wiring.open_records(place) as records:
        (card,) = records.cards("specimen", search="ch 08")
        found = specimen_history(records, card.number, Desk(wiring.shop(records)).state)
    assert [one.points[0].at.year for one in found] == [2021, 2026]
