"""Where the uncertainty of an impedance comes from, in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.report.answer import BudgetAnswer
from ohmsworth.resistance.impedance.estimated import Estimated

#: The noise among the sources.
NOISE = "noise"


@dataclass(frozen=True, slots=True)
class SourceWords:
    """What a source is called, and what would make it less."""

    name: str
    reduce_by: str


#: Each source of a curve's uncertainty; those that are told together have one name.
WORDS = {
    NOISE: SourceWords(NOISE, "four times the time, or twice the current, halves it"),
    "shunt": SourceWords("the shunt's resistance", "a better calibrated shunt, or takes of a known resistor"),
    "shunt's inductance": SourceWords(
        "the shunt's inductance", "a shunt of little or known inductance, or takes of a known resistor"
    ),
    "crosstalk in step": SourceWords("crosstalk", "takes with the contact's sense leads exchanged"),
    "crosstalk a quarter off": SourceWords("crosstalk", "takes with the contact's sense leads exchanged"),
    "inputs' gain": SourceWords("the inputs' difference", "takes with the inputs exchanged"),
    "inputs' phase": SourceWords("the inputs' difference", "takes with the inputs exchanged"),
    "load": SourceWords("the load's resistance", "a better calibrated resistor as load"),
    "load's inductance": SourceWords("the load's inductance", "a load of little or known inductance"),
}


def budget_lines(found: Estimated, called: Mapping[str, SourceWords] = WORDS) -> tuple[BudgetAnswer, ...]:
    """The sources of an uncertainty as they are `called`, the largest first; none where there is no uncertainty."""
    squares: dict[SourceWords, float] = {called[NOISE]: found.random**2}
    for name, effect in found.shared.items():
        squares[called[name]] = squares.get(called[name], 0.0) + effect**2
    total = sum(squares.values())
    ordered = sorted(squares.items(), key=lambda item: -item[1])
    return tuple(
        BudgetAnswer(words.name, square**0.5, square / total, words.reduce_by)
        for words, square in ordered
        if square > 0
    )
