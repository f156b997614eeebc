"""How a contact is kept, by what is known of its plating."""

import pytest

from ohmsworth.advice.keeping import EXERCISE, KEEP_DRY, keeping_words, plated_with
from ohmsworth.advice.remedies import USUAL_NAMES, remedy_cautions, usual_remedies
from ohmsworth.materials import plating_facts
from ohmsworth.materials.tarnish_facts import KEEP_SILVER


def test_silver_is_kept_from_sulfur_and_rubbed_before_use() -> None:
    assert keeping_words("silver, 3 µm") == (KEEP_SILVER.words, EXERCISE, KEEP_DRY)


@pytest.mark.parametrize("metal", ["gold", "tin", "nickel"])
def test_other_finishes_have_words_of_their_own_and_are_not_rubbed(metal: str) -> None:
    first, *rest = keeping_words(f"hard {metal}")
    facts = [one.words.casefold() for one in plating_facts(metal).bad]
    assert first.partition(" – ")[2].casefold() in facts
    assert rest == [KEEP_DRY]


def test_a_plating_that_nobody_stated_is_kept_as_if_it_were_silver_and_told_so() -> None:
    first, *_ = keeping_words("")
    assert first == f"Its plating is not stated. {KEEP_SILVER.words}"
    assert keeping_words("rhodium") == (KEEP_DRY,)


def test_a_metal_is_found_as_a_word() -> None:
    assert plated_with("Silver over nickel", "silver")
    assert not plated_with("quicksilver", "silver")


def test_cautions_of_a_remedy_are_those_of_all_its_steps() -> None:
    remedies = {one.name: one for one in usual_remedies(dict.fromkeys(USUAL_NAMES, 0.0))}
    for name, remedy in remedies.items():
        assert set(remedy_cautions(name)) == {one for step in remedy.steps for one in step.cautions}
    assert remedy_cautions("polish") == ()
