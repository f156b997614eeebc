import numpy as np
import pytest
from tests.unit.resistance.impedance.drives import plan, tones_at

from ohmsworth.resistance.impedance.drive import drive, largest_sample, level_check, mark, one_period, peak
from ohmsworth.resistance.impedance.tone_plan import Way


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_the_main_part_is_the_sum_of_its_tones(way: Way) -> None:
    of = plan(way=way)
    whole = drive(of, 0, of.length)
    for turn, stretch in enumerate(of.main):
        wanted = tones_at(of, np.arange(len(stretch)), turn if way == "in turn" else None)
        assert np.allclose(whole[stretch.start : stretch.stop], wanted, atol=1e-12)


def test_nothing_is_louder_than_the_main_part() -> None:
    of = plan()
    assert np.abs(drive(of, 0, of.length)).max() <= peak(of) * (1 + 1e-12)
    assert np.abs(level_check(of)).max() == pytest.approx(peak(of), rel=0.01)
    assert np.abs(mark(of)).max() == pytest.approx(peak(of), rel=0.01)
    assert np.abs(one_period(of)).max() == largest_sample(of) <= peak(of)


def test_silence_is_silent_and_the_parts_follow_each_other() -> None:
    of = plan()
    whole = drive(of, 0, of.length)
    assert not whole[: of.silence].any()
    assert not whole[of.last_mark.stop :].any()
    assert of.first_mark.stop + of.gap == of.level_check.start
    assert not whole[of.level_check.stop : of.level_check.stop + of.gap].any()
    assert len(whole) == of.length == of.last_mark.stop + of.silence


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_pieces_are_the_whole(way: Way) -> None:
    of = plan(way=way)
    whole = drive(of, 0, of.length)
    for first, last in [(0, 5000), (3999, 6001), (15_000, 25_001), (of.length - 9000, of.length)]:
        assert np.array_equal(drive(of, first, last), whole[first:last])
