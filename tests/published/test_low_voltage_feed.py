"""A low-voltage feed against published values."""

import pytest
from tests.published.printed import assert_printed

from ohmsworth.consequence import effects, make_use, thresholds

KELVIN_293: dict[str, float | str] = {"temperature": 293.0, "length": 0.0}


@pytest.mark.parametrize(
    ("conductor", "printed"),
    [("10 AWG", ".9989"), ("12 AWG", "1.588"), ("16 AWG", "4.016"), ("20 AWG", "10.15")],
)
def test_volts_lost_in_a_thousand_feet(conductor: str, printed: str) -> None:
    """Copper wire tables, ohm per 1000 ft at 20 °C: 500 ft out and 500 ft back at 1 A lose as many volts."""
    use = make_use(
        "low-voltage feed",
        values={"voltage": 48.0, "current": 1.0, "length": 500 * 0.3048, "conductor": conductor},
    )
    volts = next(e for e in effects(use, 0.0) if e.key == "load_volts")
    assert 48 - float(volts.value) == pytest.approx(float(printed), rel=5e-4)


@pytest.mark.parametrize(("milliohm", "printed"), [(10.0, "6.9"), (50.0, "141")])
def test_spots_at_20_and_100_millivolt(milliohm: float, printed: str) -> None:
    """Recomputed from V² = 4L(Tmax² − T0²) of Kohlrausch (Holm, 4th edition), from 293 K: 2 A through 10 and 50 mΩ."""
    use = make_use("low-voltage feed", values=KELVIN_293)
    spots = next(e for e in effects(use, milliohm * 1e-3) if e.key == "spot_rise")
    assert_printed(printed, float(spots.value))


@pytest.mark.parametrize(
    ("plating", "printed"),
    [("gold", "0.08"), ("silver", "0.09"), ("copper", "0.12"), ("nickel", "0.22"), ("tin", "0.07")],
)
def test_softening_voltages(plating: str, printed: str) -> None:
    """Holm, 4th edition, table: 2 A through half as many ohm."""
    use = make_use("low-voltage feed", values={"plating": plating})
    told = next(t for t in thresholds(use) if t.effect == "contact_voltage")
    assert told.source == "Holm"
    assert_printed(printed, 2 * (told.resistance or 0.0))
