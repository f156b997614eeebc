"""What meters and people write where there is no path at all."""

from __future__ import annotations

from ohmsworth.readings.names import column_name
from ohmsworth.units import tidy

#: An empty cell says nothing: not measured yet.
NO_PATH_WORDS = (
    "open", "ol", "o.l", "o.l.", "0l", "0.l", ".ol", "over", "overload", "inf", "∞", "none", "no path",
)  # fmt: skip


def says_no_path(text: str) -> bool:
    """Whether `text` stands for no path.

    Examples
    --------
    >>> says_no_path(" OL "), says_no_path("0.3"), says_no_path("")
    (True, False, False)
    """
    return column_name(tidy(text)) in NO_PATH_WORDS
