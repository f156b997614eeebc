"""How many specimens show a share of the lot without any model of its scatter."""

from __future__ import annotations

import math

from scipy import stats

from ohmsworth.errors import ArgumentFault


def specimens_without_model(content: float, confidence: float, two_sided: bool = False) -> int:
    """Fewest specimens whose extremes bound a share of all others, whatever their distribution.

    Parameters
    ----------
    content, confidence
        At least this share lies below the largest one (between the smallest and the largest, if `two_sided`), with
        this confidence.

    Notes
    -----
    One side: contentⁿ ≤ 1 − confidence. Two sides: the chance that fewer than two of n lie outside,
    n contentⁿ⁻¹ − (n − 1) contentⁿ ≤ 1 − confidence (Wilks).

    Examples
    --------
    >>> specimens_without_model(0.95, 0.95), specimens_without_model(0.99, 0.95, two_sided=True)
    (59, 473)
    """
    if not (0 < content < 1 and 0 < confidence < 1):
        raise ArgumentFault("content, confidence", (content, confidence), "between zero and one")
    n = math.ceil(math.log(1 - confidence) / math.log(content) - 1e-9)
    while two_sided and stats.binom.cdf(1, n, 1 - content) > 1 - confidence:
        n += 1
    return max(n, 2 if two_sided else 1)
