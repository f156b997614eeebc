"""A mains feed against published values."""

import pytest
from tests.published.printed import assert_printed

from ohmsworth.consequence import effects, make_use, settings_of, thresholds


def test_touch_voltage() -> None:
    """IEC TS 60479-1, as quoted: 50 V alternating current, adults. Without cable, 230 V over 0.5 Ω and the earth contacts."""
    limit = next(s for s in settings_of("mains feed") if s.key == "limit_touch")
    assert limit.source == "IEC60479-1"
    assert_printed("50", float(limit.default))
    use = make_use("mains feed", values={"length": 0.0})
    reached = next(t for t in thresholds(use) if t.effect == "touch_voltage")
    assert reached.source == "IEC60479-1"
    earth = 2 * (reached.resistance or 0.0)
    assert_printed("50", 230 * earth / (0.5 + earth))


@pytest.mark.parametrize(
    ("conductor", "printed"),
    [("10 AWG", ".9989"), ("12 AWG", "1.588"), ("14 AWG", "2.525"), ("16 AWG", "4.016")],
)
def test_volts_lost_in_a_run_of_100_feet(conductor: str, printed: str) -> None:
    """Copper wire tables, ohm per 1000 ft at 20 °C: out and back at 15 A from 120 V, 60 Hz."""
    use = make_use(
        "mains feed",
        values={
            "voltage": 120.0,
            "mains_frequency": 60.0,
            "current": 15.0,
            "length": 100 * 0.3048,
            "conductor": conductor,
        },
    )
    drop = next(e for e in effects(use, 0.0) if e.key == "drop")
    assert float(drop.value) / 100 * 120 == pytest.approx(15 * 0.2 * float(printed), rel=6e-4)
