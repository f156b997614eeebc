"""The manual's page about cards names every kind, field and step that there is."""

from pathlib import Path

import pytest

from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.records import CardKind

PAGE = (Path(__file__).parents[4] / "docs/cards.md").read_text("utf-8")


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_stands_in_the_manual(kind: CardKind) -> None:
    spec = KINDS[kind]
    part = PAGE[PAGE.index(f"## {spec.several.capitalize()}\n") :].partition("\n## ")[0]
    assert all(f"| {ask.label} |" in part for ask in spec.asks)
    assert all(ask.label in part for step in spec.steps for ask in step.asks)
    assert all(option in part for ask in spec.asks if ask.form == "choice" for option in ask.options)
