"""What is known of a plating, in a report: what it is good and bad at, each with where it comes from."""

from __future__ import annotations

from ohmsworth.materials import TARNISH_FACTS, PlatingFacts, Statement, plating_facts
from ohmsworth.report.document import Block
from ohmsworth.report.tables import table
from ohmsworth.sources import source

#: Films on this metal are told too.
_TARNISHES = "silver"


def plating_blocks(name: str) -> tuple[Block, ...]:
    """A table of statements about the plating `name`, cautions among them."""
    facts = plating_facts(name)
    rows = [_row(kind, one) for kind, group in _groups(facts) for one in group]
    if name == _TARNISHES:
        rows += [_row("its film", one) for one in TARNISH_FACTS]
    header = ("", "about", "what", "from", "standing")
    note = "Platings differ by maker and bath; what the maker of the connector says prevails."
    return (table(f"{name.capitalize()} on contacts", header, tuple(rows), note=note),)


def _groups(facts: PlatingFacts) -> tuple[tuple[str, tuple[Statement, ...]], ...]:
    return (("good", facts.good), ("bad", facts.bad), ("to know", facts.notes))


def _row(kind: str, statement: Statement) -> tuple[str, ...]:
    standing = source(statement.source).standing
    return (kind, statement.topic, statement.words, statement.source, standing)
