"""The current source on a page: its limits, its cautions, on, and off."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import Fault
from ohmsworth.units import show_stated
from ohmsworth.work.bench_meters import BenchMeters
from ohmsworth.work.bench_source import limits_of
from ohmsworth.work.source_limits import CAUTIONS


@dataclass(frozen=True, slots=True)
class SourcePart:
    """What stands there.

    Parameters
    ----------
    connected
        The name of its profile; "" for no source.
    limits
        The limits in words.
    words
        What must not be overlooked: that the current is on, or may be; else "".
    on
        Whether it is known to be on.
    why
        Why it is off.
    level
        The current that is offered.
    holder
        By what this page renews it; "" where another page has switched it on.
    back
        The page where it stands.
    key
        The holder, should this page switch it on.
    faults
        What went wrong.
    """

    connected: str
    limits: str
    words: str
    on: bool
    why: str
    level: str
    holder: str
    back: str
    key: str
    faults: tuple[str, ...] = ()
    cautions: tuple[str, ...] = CAUTIONS


def source_part(
    meters: BenchMeters, back: str, holder: str, key: str, faults: tuple[Fault, ...] = ()
) -> SourcePart:
    """What stands of the source on the page `back`."""
    connection = meters.connections().get("source")
    state = meters.source.state()
    on = state is not None and state.output == "on"
    limits = limits_of(connection) if connection is not None else None
    return SourcePart(
        connection.profile if connection is not None else "",
        f"at most {show_stated(limits.current, 'A')} and {show_stated(limits.compliance, 'V')}, as stated"
        + (f" ({limits.reason})" if limits.reason else "")
        if limits is not None
        else "",
        meters.source.words(),
        on,
        state.why if state is not None else "",
        connection.level if connection is not None else "",
        holder if on and meters.source.is_held_by(holder) else "",
        back,
        key,
        tuple(str(fault) for fault in faults),
    )
