"""An axis without length: readings alike to the last bit."""

from ohmsworth.adapters.render.scales import Ruler


def test_readings_all_alike_stand_in_the_middle() -> None:
    assert Ruler(low=1e6, high=1e6, length=200.0).pixel(1e6) == 100.0
    assert Ruler(low=0.0, high=2.0, length=200.0).pixel(2.0) == 200.0
