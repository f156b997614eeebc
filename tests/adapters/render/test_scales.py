"""Axes: whole decades, explicit and readable ticks."""

import pytest

from ohmsworth.adapters.render.scales import (
    decade_span,
    even_ruler,
    even_ticks,
    interval_words,
    log_ruler,
    log_ticks,
    plain,
    ruler_ticks,
)


@pytest.mark.parametrize(
    ("values", "span"),
    [
        ([0.002], (-3, -1)),
        ([0.001, 0.1], (-3, -1)),
        ([0.0009, 0.11], (-4, 0)),
        ([1e-9, 1e9], (-6, 3)),
        ([], (-6, 3)),
        ([1000.0], (1, 3)),
    ],
)
def test_decades_hold_what_is_marked(values: list[float], span: tuple[int, int]) -> None:
    assert decade_span(values, -6, 3) == span


def test_ticks_are_round_and_enclose() -> None:
    assert even_ticks(0.0, 1.0, 5) == [0, 0.2, 0.4, 0.6, 0.8, 1.0]
    assert even_ticks(-0.78, 0.0)[0] <= -0.78
    assert log_ticks(0.0015, 0.03) == [0.002, 0.005, 0.01, 0.02]
    assert log_ticks(20, 20e3)[0] == 20
    assert log_ticks(20, 20e3)[-1] == 20e3


@pytest.mark.parametrize("values", [[0.003], [0.0029, 0.0031], [1e-6, 1.0], [5.0, 5.0]])
def test_every_axis_has_two_ticks_or_more(values: list[float]) -> None:
    assert len(ruler_ticks(log_ruler(values, 300))) >= 2
    assert len(ruler_ticks(even_ruler(values, 300))) >= 2


def test_a_ruler_keeps_order_and_ends() -> None:
    for ruler in (log_ruler([0.001, 0.1], 300), even_ruler([0.001, 0.1], 300)):
        assert 0 <= ruler.pixel(0.001) < ruler.pixel(0.01) < ruler.pixel(0.1) <= 300
        assert ruler.pixel(-1) == 0
        assert ruler.pixel(1e9) == 300


def test_labels_read_well() -> None:
    assert [plain(v, "Hz") for v in (20.0, 20e3)] == ["20 Hz", "20 kHz"]
    assert [plain(v, "Ω") for v in (1e-6, 1e-5, 0.01, 1000.0)] == ["1 µΩ", "10 µΩ", "10 mΩ", "1 kΩ"]
    assert plain(-0.30000000000000004, "") == "−0.3"
    assert interval_words(9e-7, 950.0, "Ω").replace("\u00a0", " ") == "900 nΩ to 950 Ω"
