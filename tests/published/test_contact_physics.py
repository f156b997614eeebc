"""Contact physics and platings against published values."""

import pytest
from tests.published.printed import assert_printed, printed_value

from ohmsworth.materials import (
    ANODIC_INDEX,
    DRY_VOLTAGE,
    ENVIRONMENTS,
    HARDNESS,
    METALS,
    OBSERVATIONS,
    SAFE_DIFFERENCE,
    SLIDING,
    Span,
    clean_resistance,
    melting_span,
    pairing,
    plating_facts,
    spot_radius,
    spot_resistance,
    tarnish,
    unwiped_resistance,
    wiped_resistance,
)
from ohmsworth.materials.conductors import COPPER_RESISTIVITY
from ohmsworth.materials.hardness import PASCAL_OF_NUMBER

MICROINCH = 25.4e-9
ANGSTROM = 1e-10


def within(span: Span, printed: str, unit: float = 1.0) -> bool:
    """Whether a published value, as printed, lies in a span."""
    number, half = printed_value(printed)
    return span.low <= (number + half) * unit and (number - half) * unit <= span.high


def test_clean_contact_as_slade_writes_it() -> None:
    """Slade, quoted: R = √(ρ² η π H/(4F)), η = 1 for clean surfaces; worked out by hand for ρ = 1.68e-8, H = 5e8, F = 1."""
    radius = spot_radius(1.0, 5e8)
    assert_printed("25.23", float(radius) * 1e6)
    assert_printed("0.3329", float(spot_resistance(1.68e-8, radius)) * 1e3)


def test_silver_at_higher_force() -> None:
    """Overview of the use of silver, 2009, published: 0.1 to 1 mΩ at higher forces, 2 N the least of them."""
    span = clean_resistance("silver", 2.0)
    assert 0.1e-3 <= span.low < span.high <= 1e-3


# Formula at the melting point, recomputed, and Holm's table (published): where they agree and where not.
MELTING = {
    "silver": ("0.375", "0.37"),
    "tin": ("0.129", "0.13"),
    "gold": ("0.408", "0.43"),
    "copper": ("0.414", "0.43"),
    "nickel": ("0.532", "0.65"),
}


@pytest.mark.parametrize(("name", "printed"), MELTING.items())
def test_melting_by_table_and_formula(name: str, printed: tuple[str, str]) -> None:
    span = melting_span(name)
    formula, table = (
        (span.low, span.high) if span.high == METALS[name].melting_voltage else (span.high, span.low)
    )
    assert_printed(printed[0], formula)
    assert_printed(printed[1], table)


# ISA-71.04-2013, published: Å per 30 days, from which the class begins and below which it ends.
CLASSES = {
    ("G1", "copper"): (None, "300"),
    ("G1", "silver"): (None, "200"),
    ("G2", "copper"): ("300", "1000"),
    ("G2", "silver"): ("200", "1000"),
    ("G3", "copper"): ("1000", "2000"),
    ("G3", "silver"): ("1000", "2000"),
    ("GX", "copper"): ("2000", None),
    ("GX", "silver"): ("2000", None),
}


@pytest.mark.parametrize(("key", "printed"), CLASSES.items())
def test_environment_classes(key: tuple[str, str], printed: tuple[str | None, str | None]) -> None:
    film = ENVIRONMENTS[key[0]].film[key[1]]
    if printed[0] is None:
        assert film.low == 0
    else:
        assert_printed(printed[0], film.low / ANGSTROM)
    if printed[1] is None:
        assert film.high == float("inf")
    else:
        assert_printed(printed[1], film.high / ANGSTROM)
    month = tarnish(key[1], key[0], 30 * 86400.0)
    assert month.thickness == film


# Published: museum in urban air, Phys. Stat. Sol. C 5 (2008) 1215; office air, Tamai and Kuranaga 1995.
OBSERVED = {"inside a display case": "180", "outside a display case": "280", "office air": "500"}


@pytest.mark.parametrize(("place", "printed"), OBSERVED.items())
def test_films_that_were_measured_lie_in_a_mild_environment(place: str, printed: str) -> None:
    seen = next(one for one in OBSERVATIONS if one.words.endswith(place))
    assert_printed(printed, seen.thickness / ANGSTROM)
    span = tarnish("silver", "G1", seen.time).thickness
    assert span.low <= seen.thickness <= span.high
    # And the range says something: neither is met by a harsh environment.
    assert tarnish("silver", "G3", seen.time).thickness.low > seen.thickness


def test_office_film_unwiped() -> None:
    """Tamai and Kuranaga 1995, published: 500 Å add 0.1 to 1.0 Ω at low force."""
    span = unwiped_resistance(Span(500 * ANGSTROM, 500 * ANGSTROM))
    assert_printed("0.1", span.low)
    assert_printed("1.0", span.high)
    assert OBSERVATIONS[-1].added == Span(0.1, 1.0)
    assert OBSERVATIONS[-1].time == 3000 * 3600


def test_pressed_without_rubbing_ten_times_clean() -> None:
    """Silver-load, published: up to 5 N more than ten times a clean contact; Bresgen: rubbed, slightly more only."""
    clean = clean_resistance("silver", 5.0)
    office = tarnish("silver", "G1", 3000 * 3600.0)
    assert office.unwiped is not None
    assert office.unwiped.high > 10 * clean.high
    assert wiped_resistance(clean).high < 10 * clean.high


# Tables of the anodic index, published (reprinted on several pages): volts below gold.
INDEX = {
    "silver": ("0.15", "0.15"),
    "nickel": ("0.30", "0.30"),
    "copper": ("0.35", "0.35"),
    "phosphor bronze": ("0.40", "0.45"),
    "brass": ("0.40", "0.45"),
    "tin": ("0.60", "0.65"),
}


@pytest.mark.parametrize(("name", "printed"), INDEX.items())
def test_anodic_index(name: str, printed: tuple[str, str]) -> None:
    assert_printed(printed[0], ANODIC_INDEX[name].low)
    assert_printed(printed[1], ANODIC_INDEX[name].high)
    assert pairing("gold", name).difference == ANODIC_INDEX[name]


def test_safe_differences() -> None:
    """The same tables: 0.15 V harsh, 0.25 V normal, 0.50 V controlled; gold on silver is acceptable even where harsh."""
    for printed, value in zip(("0.15", "0.25", "0.50"), SAFE_DIFFERENCE.values(), strict=True):
        assert_printed(printed, value)
    assert len(pairing("gold", "silver").places) == 3


def test_hardness_of_gold() -> None:
    """Trade articles, published: hard gold 130 to 200 HK, soft gold 20 to 90 HK."""
    gold = HARDNESS["gold"].pressure
    assert_printed("20", gold.low / PASCAL_OF_NUMBER)
    assert_printed("200", gold.high / PASCAL_OF_NUMBER)


# Published: copper trade's design guide (brass C26000), data sheets to ASTM B103 (bronzes). % IACS.
CONDUCTIVITY = [
    ("brass", "28"),
    ("phosphor bronze", "15"),
    ("phosphor bronze", "14"),
    ("phosphor bronze", "20"),
]


@pytest.mark.parametrize(("name", "printed"), CONDUCTIVITY)
def test_conductivity_of_alloys(name: str, printed: str) -> None:
    span = plating_facts(name).resistivity
    percent = Span(100 * COPPER_RESISTIVITY / span.high, 100 * COPPER_RESISTIVITY / span.low)
    assert within(percent, printed)
    assert percent.high < 30


def test_resistivity_of_phosphor_bronze() -> None:
    """Data sheets to ASTM B103, published: 8.7 and 11.5 µΩ·cm (20 and 15 % IACS)."""
    span = plating_facts("phosphor bronze").resistivity
    assert within(span, "8.7", 1e-8)
    assert within(span, "11.5", 1e-8)


def test_resistivity_of_bright_nickel() -> None:
    """Letters on metal finishing, published: 12 to 19 µΩ·cm bright, 7 to 8 pure."""
    span = plating_facts("nickel").resistivity
    assert all(within(span, printed, 1e-8) for printed in ("7", "12", "19"))


# Published, microinch: copper trade's design guide (hard gold 10 to 50, tin at least 100); silver at least 2 µm.
def test_usual_thickness() -> None:
    gold, tin, silver = (plating_facts(name).thickness for name in ("gold", "tin", "silver"))
    assert gold is not None
    assert tin is not None
    assert silver is not None
    assert_printed("10", gold.low / MICROINCH)
    assert_printed("50", gold.high / MICROINCH)
    assert tin.low == pytest.approx(100 * MICROINCH, rel=0.02)
    assert_printed("2.0", silver.low * 1e6)


def test_wear_coefficients_end_where_the_tables_do() -> None:
    """Encyclopedias on wear, published: 1e-2 for severe, dry sliding to 1e-6 or lower for mild."""
    assert SLIDING["severe"].coefficient.high == 1e-2
    assert SLIDING["mild"].coefficient.low == 1e-6


def test_dry_circuit() -> None:
    """IEC 60512-2-1:2002, published: at most 20 mV."""
    assert_printed("20", DRY_VOLTAGE * 1e3)
