"""Looking early: how sure a verdict has to be while readings still come in, so that looking costs no promise.

Who looks after every reading and stops as soon as it looks decided is wrong more often than a verdict's level says. Three
rules keep all looks together within it, each side for itself.

While the sheet is being read, a share t of it done, a verdict needs

    Z ≥ (z(1 − γα′) + z(γ)√(1 − t)) / √t        α′ = 0.9 α, γ = 0.8

that is: were the contacts just at the bound, what is left of the sheet would have to leave the verdict standing with a
chance of at least γ. That chance is a martingale, so it reaches γ with a chance of at most γα′/γ = α′, however often and
whenever one looks (Ville's inequality; stochastic curtailment: Lan, Simon & Halperin 1982). No look has to be counted.

When the sheet is finished a verdict needs γα′: 3.6 % in place of 5 %. A sheet of a single look has nothing to look at early and
needs α′.

Beyond the sheet the last tenth of α is spent, 1 − 1/t of it when t times the sheet is read, one look at each further
mating (Lan & DeMets' spending, with the recursion of `boundaries`).

Z stands for Student's t by its p-value (Jennison & Turnbull's significance levels). What that does with few specimens is in
``docs/method.md``, from simulation.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy import special

from ohmsworth.inference.boundaries import go_on, spent_bounds, start

#: Share of the level that the sheet may spend; the rest is for what is measured beyond it.
SHEET_SHARE = 0.9
#: Chance with which the rest of the sheet has to leave an early verdict standing.
STANDING = 0.8
#: Looks beyond the sheet that are followed path by path; later ones count as if each stood alone.
_FOLLOWED = 48


def level_at(done: int, planned: int, alpha: float) -> float:
    """Level of a one-sided test when `done` of `planned` matings are read; 0.0 where no verdict can be given.

    Parameters
    ----------
    done
        Matings that are complete, of what the verdict is about (the condition with the smaller share of its own).
    planned
        Matings that its sheet has; at least one.
    alpha
        Level of all looks together.

    Examples
    --------
    >>> [round(level_at(done, 6, 0.05), 4) for done in (2, 3, 4, 5, 6, 7, 8)]
    [0.0, 0.0004, 0.0026, 0.0095, 0.036, 0.0101, 0.0061]
    """
    if done > planned:
        return _level_beyond(done - planned, planned, alpha)
    return level_within(done / planned, planned > 1, alpha)


def level_within(progress: float, several: bool, alpha: float) -> float:
    """Level of a one-sided test when a share `progress` of the sheet is read, at most 1; 0.0 where no verdict can be given.

    `several` says whether the sheet has more than one look, `alpha` is the level of all looks together.
    """
    final = SHEET_SHARE * alpha * (STANDING if several else 1.0)
    if progress >= 1:
        return final
    if progress <= 0:
        return 0.0
    bound = (special.ndtri(1 - final) + special.ndtri(STANDING) * np.sqrt(1 - progress)) / np.sqrt(progress)
    return float(special.ndtr(-bound))


def final_level(planned: int, alpha: float) -> float:
    """Level when the whole sheet is read."""
    return level_within(1.0, planned > 1, alpha)


def share_of_contact(progress: float, freedom: float, freedom_at_end: float) -> float:
    """Share of the sheet that counts for a verdict on one contact.

    Its own matings may be complete long before the scatter of matings is known, to which every contact adds; each further
    contact is then a further look at the same one. So that `progress` counts times (1 + 2/ν at the end)/(1 + 2/ν): 2/ν is the
    relative variance of a mean square.

    Parameters
    ----------
    progress
        Of its own matings, those that are complete.
    freedom, freedom_at_end
        Degrees of freedom of the scatter below specimens, now and with the whole sheet read.
    """
    if freedom_at_end <= 0:
        return progress
    if freedom <= 0:
        return 0.0
    return progress * min((1 + 2 / freedom_at_end) / (1 + 2 / freedom), 1.0)


def _level_beyond(more: int, planned: int, alpha: float) -> float:
    """Level at the `more`-th mating beyond the sheet."""
    kept = (1 - SHEET_SHARE) * alpha
    if more > _FOLLOWED:
        return kept * (planned / (planned + more - 1) - planned / (planned + more))
    # Few are quick to work out, and are the same for whoever looks again.
    looks = min(1 << (more - 1).bit_length(), _FOLLOWED)
    return _levels_beyond(looks, planned, alpha)[more - 1]


@lru_cache(maxsize=256)
def _levels_beyond(looks: int, planned: int, alpha: float) -> tuple[float, ...]:
    """Levels of the first `looks` beyond the sheet, for those who were not decided at its end."""
    kept = (1 - SHEET_SHARE) * alpha
    fractions = [1 + m / planned for m in range(1, looks + 1)]
    amounts = [
        kept * (1 / before - 1 / now) for before, now in zip([1.0, *fractions], fractions, strict=False)
    ]
    at_end = float(special.ndtri(1 - final_level(planned, alpha)))
    bounds = spent_bounds(fractions, amounts, walk=go_on(start(), 1.0, at_end))
    return tuple(float(special.ndtr(-bound)) for bound in bounds)
