"""What study.toml says of the frequencies at which takes are asked about."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.errors import QuantityFault
from ohmsworth.units import parse_quantity

_EXPECTED = 'frequencies such as ["1 kHz", "20 kHz"], the one that the answer is about first'


def read_frequencies(asked: Asked) -> tuple[float, ...]:
    """Hertz, in the order in which they are asked about; none where the study does not say."""
    table = asked.inside("frequencies")
    if table is None:
        return ()
    found = []
    for text in table.items("at", str, _EXPECTED):
        try:
            hertz = parse_quantity(text, "frequency")
        except QuantityFault as fault:
            table.fault("at", fault.found, fault.expected, fault.mend)
            continue
        if hertz <= 0:
            table.fault("at", text, "more than zero hertz", "Name the frequency of a tone.")
        else:
            found.append(hertz)
    if "at" not in table.table:
        table.fault(
            "at", "no such key", _EXPECTED, "Add it, or remove [frequencies]: then 1 kHz is asked about."
        )
    table.done()
    return tuple(dict.fromkeys(found))
