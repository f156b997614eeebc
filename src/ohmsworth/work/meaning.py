"""Uses and resistances in, what they mean out: no study needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from ohmsworth.consequence import USE_KINDS, Use, make_use, settings_of
from ohmsworth.consequence.effects import LARGEST_RESISTANCE
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.draws import stated_draws
from ohmsworth.readings.study import UseRequest
from ohmsworth.report.answer import SourceAnswer
from ohmsworth.report.meaning import FORMAT, AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.meaning_sentences import meaning_findings, meaning_sentence
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.sources import source
from ohmsworth.units import show_stated
from ohmsworth.work.use_answers import Case, use_answer

#: The kind that says little without a measured lead.
NEEDS_A_FILE = "measured lead"
#: More resistances than this do not fit beside each other.
MOST_ASKED = 6
#: A contact is not believed to scatter further: tenfold up or down at one standard deviation.
LARGEST_SPREAD = 2.3


def explain(
    uses: Sequence[UseRequest] = (), resistances: Sequence[float] = (), spread: float | None = None
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
        For a resistance or a spread that no contact has, or more than six resistances.
    """
    _check(resistances, spread)
    asked = uses or [UseRequest(kind) for kind in USE_KINDS if kind != NEEDS_A_FILE]
    circuits = [make_use(use.kind, use.name, use.values, use.cables, use.lead) for use in asked]
    cases = [_case(ohm, spread) for ohm in dict.fromkeys(resistances)]
    found = tuple(use_answer(use, cases) for use in circuits)
    reached = tuple(AskedAnswer(case.name, case.value, _reached(found, case.value)) for case in cases)
    answer = MeaningAnswer(FORMAT, "", (), reached, spread, found, _sources(circuits, found))
    return replace(answer, sentence=meaning_sentence(answer), findings=meaning_findings(answer))


def _check(resistances: Sequence[float], spread: float | None) -> None:
    for ohm in resistances:
        if not 0 < ohm <= LARGEST_RESISTANCE:
            raise ArgumentFault("resistances", ohm, f"above 0 and at most {LARGEST_RESISTANCE:g} ohm")
    if len(set(resistances)) > MOST_ASKED:
        raise ArgumentFault("resistances", len(set(resistances)), f"at most {MOST_ASKED} at a time")
    if spread is not None and not 0 < spread <= LARGEST_SPREAD:
        raise ArgumentFault("spread", spread, f"above 0 and at most {LARGEST_SPREAD:g}")


def _case(ohm: float, spread: float | None) -> Case:
    drawn = None if spread is None else partial(stated_draws, ohm, spread)
    return Case(show_stated(ohm, "Ω"), ohm, drawn=drawn)


def _reached(uses: Sequence[UseAnswer], ohm: float) -> tuple[ReachedAnswer, ...]:
    """The thresholds that `ohm` is past."""
    found = [
        ReachedAnswer(use.name, t.effect, t.words, t.position, t.resistance)
        for use in uses
        for t in use.thresholds
        if (t.resistance is not None and t.resistance <= ohm) or _by_itself(t)
    ]
    return tuple(sorted(found, key=lambda one: one.resistance or 0.0))


def _by_itself(threshold: ThresholdAnswer) -> bool:
    """Whether the circuit does not meet it even with ideal contacts."""
    return threshold.resistance is None and "already" in threshold.note


def _sources(circuits: Sequence[Use], found: Sequence[UseAnswer]) -> tuple[SourceAnswer, ...]:
    keys = ["chain-matrix", "nodal-analysis", "skin-effect"]
    keys += [t.source for use in found for t in use.thresholds]
    keys += [setting.source for use in circuits for setting in settings_of(use.kind)]
    listed = [source(key) for key in dict.fromkeys(keys)]
    return tuple(SourceAnswer(one.key, one.citation, one.standing) for one in listed)
