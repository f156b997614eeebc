import pytest

from ohmsworth.errors import UnknownName
from ohmsworth.materials import (
    ANODIC_INDEX,
    FRITTING_FACTS,
    HARDNESS,
    METALS,
    OBSERVATIONS,
    PLATING_FACTS,
    PLATINGS,
    SLIDING,
    TARNISH_FACTS,
    WEAR_FACTS,
    PlatingFacts,
    Statement,
    pairing,
    plating_facts,
)
from ohmsworth.sources import SOURCES

FACTS = tuple(PLATING_FACTS.values())


def statements(facts: PlatingFacts) -> tuple[Statement, ...]:
    return (*facts.good, *facts.bad, *facts.notes)


ALL = [
    *(statement for facts in FACTS for statement in statements(facts)),
    *TARNISH_FACTS,
    *WEAR_FACTS,
    *FRITTING_FACTS,
    *(advice for one in ANODIC_INDEX for two in ANODIC_INDEX for advice in pairing(one, two).advice),
]


@pytest.mark.parametrize("facts", FACTS, ids=lambda facts: facts.name)
def test_every_metal_is_told_of_on_all_that_a_buyer_asks(facts: PlatingFacts) -> None:
    asked = {"cost", "tarnish", "galvanic", "fretting", "conductivity", "force"}
    if not facts.base:
        asked |= {"lubricity", "thickness", "wear"}
    assert asked <= {statement.topic for statement in statements(facts)}
    assert facts.good
    assert facts.bad


@pytest.mark.parametrize("facts", FACTS, ids=lambda facts: facts.name)
def test_a_metal_has_the_same_name_everywhere(facts: PlatingFacts) -> None:
    assert facts.name in HARDNESS
    assert facts.name in ANODIC_INDEX
    assert (facts.name in METALS) == (not facts.base or facts.name == "copper")
    assert (facts.thickness is None) == facts.base
    assert (facts.force is None) == facts.base


def test_the_finishes_a_study_may_name_are_all_told_of() -> None:
    assert tuple(METALS) == PLATINGS
    assert set(PLATINGS) <= set(PLATING_FACTS)


def test_every_statement_names_a_source_that_exists() -> None:
    named = [
        *(one.source for one in ALL),
        *(one.source for one in HARDNESS.values()),
        *(one.source for one in SLIDING.values()),
        *(one.source for one in OBSERVATIONS),
    ]
    assert len(named) > 100
    assert set(named) <= set(SOURCES)


def test_every_statement_is_a_sentence_and_none_stands_twice_for_a_metal() -> None:
    assert all(one.words[0].isupper() or one.words[0].isdigit() for one in ALL)
    assert all(one.words.endswith(".") for one in ALL)
    for facts in FACTS:
        words = [one.words for one in statements(facts)]
        assert len(words) == len(set(words))


def test_resistivity_holds_the_pure_metal() -> None:
    for name in METALS:
        span = plating_facts(name).resistivity
        assert span.low <= METALS[name].resistivity * 1.02
        assert METALS[name].resistivity <= span.high


def test_what_hurts_is_cautioned() -> None:
    cautioned = {facts.name for facts in FACTS if any(one.topic == "safety" for one in statements(facts))}
    assert {"silver", "nickel", "beryllium copper"} <= cautioned


@pytest.mark.parametrize(
    ("one", "two", "eaten", "places"),
    [
        ("gold", "gold", None, 3),
        ("gold", "silver", "silver", 3),
        ("gold", "nickel", "nickel", 1),
        ("silver", "nickel", "nickel", 3),
        ("silver", "brass", "brass", 1),
        ("gold", "brass", "brass", 1),
        ("gold", "tin", "tin", 0),
        ("silver", "tin", "tin", 1),
        ("nickel", "tin", "tin", 1),
        ("nickel", "brass", "brass", 3),
        ("brass", "phosphor bronze", None, 3),
    ],
)
def test_pairings(one: str, two: str, eaten: str | None, places: int) -> None:
    found = pairing(one, two)
    assert found.eaten == eaten
    assert len(found.places) == places
    assert one in found.words.lower()
    assert two in found.words.lower()


def test_tin_on_gold_is_advised_against() -> None:
    assert any("not recommended" in one.words for one in pairing("Tin", " GOLD ").advice)
    assert not any("not recommended" in one.words for one in pairing("tin", "nickel").advice)


def test_unknown_names_are_refused() -> None:
    with pytest.raises(UnknownName, match="silver"):
        plating_facts("sliver")
    with pytest.raises(UnknownName, match="tin"):
        pairing("gold", "tim")
