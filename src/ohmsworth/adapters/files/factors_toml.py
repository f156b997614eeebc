"""What study.toml says of factors: the columns whose combinations are the conditions, and those that scatter."""

from __future__ import annotations

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.header import QUANTITIES
from ohmsworth.errors import shorten
from ohmsworth.readings.factors import cell_words
from ohmsworth.readings.names import clean_name, column_name

#: Columns that hold no names, or names of the things that are measured.
_NO_FACTORS = ("specimen", "mating", "polarity", "time", "step", "reading", *QUANTITIES)
_SCATTERING = ("operator", "day", "meter")


def read_factors(asked: Asked) -> tuple[str, ...]:
    """The columns of names that the mean depends on, two or more."""
    expected = (
        'columns of readings.csv such as ["plug condition", "socket condition"] or ["condition", "contact"]'
    )
    names = tuple(column_name(name) for name in asked.items("factors", str, expected))
    bad = [name for name in names if name in _NO_FACTORS or not name]
    if bad:
        asked.fault(
            "factors", f"the column {shorten(bad[0])}", expected, "Name columns that hold conditions."
        )
    elif len(names) == 1 or len(set(names)) < len(names):
        found = f"{shorten(names[0])} alone" if len(names) == 1 else "a column twice"
        mend = "Name each column once; a single factor is the column 'condition'."
        asked.fault("factors", found, "two or more columns", mend)
    else:
        return names
    return ()


def read_reference(asked: Asked, factors: tuple[str, ...]) -> str | None:
    """The reference as the condition's name; with factors also as a list of their levels."""
    if not isinstance(asked.table.get("reference"), list):
        return clean_name(asked.text("reference") or "") or None
    expected = "one level of each factor, in their order" if factors else "the name of a condition"
    levels = asked.items("reference", str, expected)
    if len(levels) < len(asked.table["reference"]):
        return None  # some are no texts, and told of
    if len(levels) != len(factors):
        mend = "Write the levels as in readings.csv."
        if not factors:
            mend = (
                'Name the columns that they stand in too, such as factors = ["plug condition", "socket condition"]; '
                "or write one condition in quotation marks, without brackets."
            )
        asked.fault("reference", f"a list of {len(levels)}", expected, mend)
        return None
    return cell_words({name: clean_name(level) for name, level in zip(factors, levels, strict=True)})


def read_scatter_by(asked: Asked, factors: tuple[str, ...]) -> tuple[str, ...]:
    """The further columns that scatter; what is a factor is compared instead."""
    expected = "some of " + ", ".join(_SCATTERING)
    names = tuple(column_name(name) for name in asked.items("scatter_by", str, expected))
    bad = [name for name in names if name not in _SCATTERING]
    if bad:
        mend = "Leave it out: specimens, contacts, matings, plugs and sockets are known to scatter."
        asked.fault("scatter_by", shorten(bad[0]), expected, mend)
        return ()
    if both := [name for name in names if name in factors]:
        mend = "Leave it out of one of the two: a factor is compared, what scatters is averaged over."
        asked.fault("scatter_by", f"{shorten(both[0])}, which is one of the factors", expected, mend)
        return ()
    return tuple(dict.fromkeys(names))
