"""Uses and resistances in, what they mean out: no study needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from ohmsworth.consequence import USE_KINDS, Use, settings_of
from ohmsworth.consequence.effects import LARGEST_RESISTANCE
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.draws import stated_draws
from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.meaning import FORMAT, AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.meaning_sentences import meaning_findings, meaning_sentence
from ohmsworth.report.use_answers import EffectAnswer, UseAnswer
from ohmsworth.report.use_words import unmet
from ohmsworth.sources import source
from ohmsworth.units import show_stated
from ohmsworth.work.use_answers import Case, use_answer
from ohmsworth.work.uses import AskedUse, made_uses

#: The kind that says little without a measured lead.
NEEDS_A_FILE = "measured lead"
#: More resistances than this nobody reads beside each other.
MOST_ASKED = 6
#: A contact is not believed to scatter further: tenfold up or down at one standard deviation.
LARGEST_SPREAD = 2.3


def explain(
    uses: Sequence[AskedUse] = (), resistances: Sequence[float] = (), spread: float | None = None
) -> MeaningAnswer:
    """Say what contacts of each of `resistances` do in `uses`.

    Parameters
    ----------
    uses
        Circuits; when there are none every kind with its defaults, but the one that needs a measured lead.
    resistances
        Ohm of each contact, above 0 and at most 1 GΩ; none asks for the thresholds alone.
    spread
        Standard deviation of the logarithm by which contacts scatter about each resistance; None for contacts all alike.

    Raises
    ------
    ArgumentFault
        For a resistance or a spread that no contact has, more than six resistances, or a spread about none.
    """
    ohms = _checked(resistances, spread)
    circuits = made_uses(uses or [kind for kind in USE_KINDS if kind != NEEDS_A_FILE])
    # What is called alike is the same: nobody means the seventh digit.
    cases = {case.name: case for case in (_case(ohm, spread) for ohm in ohms)}
    found = tuple(use_answer(use, tuple(cases.values())) for use in circuits)
    reached = tuple(AskedAnswer(case.name, case.value, _reached(found, case.name)) for case in cases.values())
    answer = MeaningAnswer(FORMAT, "", (), reached, spread, found, _sources(circuits, found))
    return replace(answer, sentence=meaning_sentence(answer), findings=meaning_findings(answer))


def _checked(resistances: Sequence[float], spread: float | None) -> list[float]:
    wanted = f"ohm, each above 0 and at most {LARGEST_RESISTANCE:g}"
    try:
        ohms = [float(ohm) for ohm in resistances]
    except (TypeError, ValueError):
        raise ArgumentFault("resistances", resistances, f"a list of {wanted}") from None
    for ohm in ohms:
        if not 0 < ohm <= LARGEST_RESISTANCE:
            raise ArgumentFault("resistances", ohm, wanted)
    if len(set(ohms)) > MOST_ASKED:
        raise ArgumentFault("resistances", len(set(ohms)), f"at most {MOST_ASKED} at a time")
    if spread is not None and not 0 < spread <= LARGEST_SPREAD:
        raise ArgumentFault("spread", spread, f"above 0 and at most {LARGEST_SPREAD:g}")
    if spread is not None and not ohms:
        raise ArgumentFault("spread", spread, "resistances to scatter about")
    return ohms


def _case(ohm: float, spread: float | None) -> Case:
    drawn = None if spread is None else partial(stated_draws, ohm, spread)
    return Case(show_stated(ohm, "Ω"), ohm, drawn=drawn)


def _reached(uses: Sequence[UseAnswer], name: str) -> tuple[ReachedAnswer, ...]:
    """The thresholds that contacts of the resistance called `name` are past."""
    found = []
    for use in uses:
        judged = [e for e in use.effects if e.condition == name and e.threshold is not None]
        without = unmet(use)
        for effect, t in zip(judged, use.thresholds, strict=True):
            if t in without or _past(effect):
                found.append(
                    ReachedAnswer(use.name, t.effect, t.words, t.position, t.resistance, t in without)
                )
    return tuple(sorted(found, key=lambda one: one.resistance or 0.0))


def _past(effect: EffectAnswer) -> bool:
    """Whether the value is at the threshold or on the far side of it from ideal contacts.

    The effect itself is asked, not the first resistance that reaches it: some get less again where a contact is all but open.
    """
    assert effect.threshold is not None
    return (effect.value - effect.threshold) * (effect.threshold - effect.ideal) >= 0


def _sources(circuits: Sequence[Use], found: Sequence[UseAnswer]) -> tuple[SourceAnswer, ...]:
    keys = ["chain-matrix", "nodal-analysis", "skin-effect"]
    keys += [t.source for use in found for t in use.thresholds]
    keys += [setting.source for use in circuits for setting in settings_of(use.kind)]
    listed = [source(key) for key in dict.fromkeys(keys)]
    return tuple(SourceAnswer(one.key, one.citation, one.standing) for one in listed)
