"""Which of the readings of a day on which something was done to a specimen were taken after it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from ohmsworth.readings.names import twin_key


def after_treatment(read: Mapping[str, Any], read_as: str, earlier: Collection[str]) -> frozenset[str]:
    """The conditions of that day that stand after the treatment.

    Parameters
    ----------
    read
        When each condition of that day was read last; any moments that can be compared.
    read_as
        What the card says that it was read as from then on; "" where it does not say: then the one that was read last stands
        after it. One alone was read before it: that nobody read it again is the safer thing to say.
    earlier
        Conditions of earlier days. Where moments do not tell two apart, one of these was read first.
    """
    if read_as:
        return frozenset(name for name in read if twin_key(name) == twin_key(read_as))
    if len(read) < 2:
        return frozenset()
    return frozenset([max(sorted(read), key=lambda name: (read[name], name not in earlier))])
