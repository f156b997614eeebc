"""The invented shop is there whole, and once, however often it is filled in."""

from pathlib import Path

from ohmsworth import wiring


def test_a_second_time_adds_nothing(tmp_path: Path) -> None:
    wiring.write_demo_study(tmp_path / "study")
    place = str(tmp_path / "shop.records")
    first = wiring.fill_demo_records(place, tmp_path / "earlier", (tmp_path / "study",))
    with wiring.open_records(place) as records:
        lines = {card.number: len(records.lines(card.number)) for card in records.cards("study", most=9)}
        kinds = {kind: records.count(kind) for kind in ("study", "specimen", "meter", "job")}
    assert kinds == {"study": 3, "specimen": 10, "meter": 2, "job": 1}
    assert min(lines.values()) > 10
    assert wiring.fill_demo_records(place, tmp_path / "earlier", (tmp_path / "study",)) == first
    with wiring.open_records(place) as records:
        assert {n: len(records.lines(n)) for n in lines} == lines
