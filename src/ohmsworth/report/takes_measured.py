"""How the takes of a study were measured, in words: a small table, a line of the method, and what lies over the limits."""

from __future__ import annotations

from ohmsworth.inference.conformity import OVER
from ohmsworth.report.document import Table
from ohmsworth.report.frequencies_answer import DryLimitAnswer, StandardAnswer, TakesMeasuredAnswer
from ohmsworth.report.tables import table
from ohmsworth.report.words import count, listed
from ohmsworth.units import show, show_stated

#: More days than this are told by the first and the last.
_MOST_DAYS = 3


def measured_table(found: TakesMeasuredAnswer) -> Table:
    """The small table: what was played, over which shunt, with which standards, and how dry the circuit was."""
    noise = f"noise leaves R of one take ± {show(2 * found.resolution, 'Ω', 2)} at {show(found.resolution_at, 'Hz')} (about 95 %)"
    rows = [
        ("tones", _tones(found)),
        ("shunt", f"{_resistor(found.shunt, found.shunt_tolerance)}, standard uncertainty {_unsure(found)}"),
        ("connections", connections(found)),
        ("current through the contact", _currents(found)),
        ("resolution", f"{noise}; the shunt's uncertainty is common to all takes"),
        ("standards", standards_words(found)),
        *((f"dry circuit: {one.quantity}", dry_words(one)) for one in found.dry),
    ]
    note = "Volts and amperes are those that the drive should give: the inputs' full scale is not stated."
    return table(
        "How the takes were measured", ("what", "how"), tuple(rows), note=note if found.by_drive else ""
    )


def measured_method(found: TakesMeasuredAnswer | None) -> tuple[str, ...]:
    """The same for the method, in a sentence or two; nothing where it is not known."""
    if found is None:
        return ()
    dry = "; ".join(f"{one.quantity} {dry_words(one)}" for one in found.dry)
    how = f"{_tones(found)} over a shunt of {_resistor(found.shunt, found.shunt_tolerance)}; {connections(found)}"
    return (
        f"Measured with {how}. Standards: {standards_words(found)}.",
        f"Against a dry circuit (peak values): {dry}.",
    )


def wet_sentences(found: TakesMeasuredAnswer | None) -> list[str]:
    """What lies over the limits of a dry circuit, as findings; none where all takes are within them."""
    over = [] if found is None else [one for one in found.dry if one.verdict == OVER]
    if not over:
        return []
    told = "; ".join(f"{one.quantity} {dry_words(one)}" for one in over)
    return [f"Not all takes are those of a dry circuit: {told}. A film may not be what it was before them."]


def dry_words(one: DryLimitAnswer) -> str:
    """``within 20 mV in all 16 takes, 0.31 mV at most``: how the takes stand to one limit."""
    limit = show_stated(one.limit, one.unit)
    most = "" if one.largest is None else show(one.largest, one.unit)
    lacking = one.takes - one.known
    unknown = f"; how much it was is not kept of {lacking} of them" if lacking and most else ""
    if lacking and not most:
        unknown = "; how much it was is not kept"
    if one.over:
        return f"over {limit} in {one.over} of {count(one.takes, 'take')}{f', up to {most}' if most else ''}{unknown}"
    every = "the one take" if one.takes == 1 else f"all {one.takes} takes"
    return f"within {limit} in {every}{f', {most} at most' if most else ''}{unknown}"


def connections(found: TakesMeasuredAnswer) -> str:
    """In how many takes the inputs, and the sense leads, were exchanged too."""
    number = len(found.takes)
    inputs, leads = _of(found.swapped, number), _of(found.turned, number)
    return f"inputs exchanged (swapped) in {inputs}, sense leads exchanged (turned) in {leads}"


def standards_words(found: TakesMeasuredAnswer) -> str:
    """Which standards were taken, with their days."""
    if not found.standards:
        return "no takes of a short, a load, open ends or a check standard"
    told = "; ".join(_standard(one, found) for one in found.standards)
    return told if found.calibrated is None else f"{told}; stated day of calibration: {found.calibrated}"


def _standard(one: StandardAnswer, found: TakesMeasuredAnswer) -> str:
    name = {"open": "open ends", "check": "check standard"}.get(one.standard, one.standard)
    size = ""
    if one.standard == "load" and found.load is not None:
        size = f" of {_resistor(found.load, found.load_tolerance or 0.0)}"
    times = f", {count(one.takes, 'take')}" if one.standard == "check" else ""
    return f"{name}{size}{times} ({_days(one.days)})"


def _days(days: tuple[str, ...]) -> str:
    if not days:
        return "day not kept"
    return listed(list(days)) if len(days) <= _MOST_DAYS else f"{days[0]} to {days[-1]}"


def _tones(found: TakesMeasuredAnswer) -> str:
    if found.tones == 1:
        return f"one tone, {show(found.lowest, 'Hz')}"
    return f"{found.tones} tones from {show(found.lowest, 'Hz')} to {show(found.highest, 'Hz')}, played {found.way}"


def _resistor(ohm: float, tolerance: float) -> str:
    return f"{show_stated(ohm, 'Ω')} ± {100 * tolerance:.3g} %"


def _unsure(found: TakesMeasuredAnswer) -> str:
    return show(found.shunt_uncertainty, "Ω", 2)


def _currents(found: TakesMeasuredAnswer) -> str:
    known = [one.current for one in found.takes if one.current is not None]
    if not known:
        return "not kept"
    low, high = (show(function(known), "A") for function in (min, max))
    told = f"{low} peak" if low == high else f"{low} to {high} peak"
    return f"{told} in {_of(len(known), len(found.takes))}"


def _of(some: int, every: int) -> str:
    if every == 1:
        return "the one take" if some else "none"
    return {0: "none", every: f"all {every} takes"}.get(some, f"{some} of {every} takes")
