"""What is said of one entry before it is accepted."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.errors import Fault
from ohmsworth.inference.so_far import COUNTS, EMF, OneResistance, SoFar
from ohmsworth.readings.at_rest import Movement
from ohmsworth.readings.doubt import Doubt
from ohmsworth.report.words import capital, count
from ohmsworth.resistance import DIRECT, REVERSAL, SINGLE, THREE, ZERO
from ohmsworth.units import show, show_percent, show_pm, show_stated


@dataclass(frozen=True, slots=True)
class Judgement:
    """What an entry says, and what is to be answered before it is accepted.

    Parameters
    ----------
    reading
        The resistance that the entry completes: of its pair where it has a partner, else of this reading alone; None for a
        reading with the current off and for one that has faults.
    mating
        Resistance of the mating so far, as the study's answer will take it (ohm).
    contact
        The contact so far, judged against the limit.
    mostly
        What most of the uncertainty of `reading` comes from, in words; "" where there is none.
    movement
        "settled" or "still moving"; None while there are too few readings to tell.
    verdict, probability
        "within", "over" or "too close to call", and the probability that the contact is within; None without a limit.
    faults
        What has to be mended: with it the entry cannot be kept at all.
    doubts
        What has to be answered: mended, or kept with a reason.
    notes
        What need not be answered, such as what to do next.
    headline, lines
        The reading in words, and an explanation line by line.
    alone
        What the figures just typed give by themselves, ohm, where the headline is of several readings; else None.
    """

    reading: OneResistance | None
    mating: float | None
    contact: SoFar | None
    mostly: str
    movement: Movement | None
    verdict: str | None
    probability: float | None
    faults: tuple[Fault, ...]
    doubts: tuple[Doubt, ...]
    notes: tuple[str, ...]
    headline: str
    lines: tuple[str, ...]
    alone: float | None = None

    @property
    def accepted(self) -> bool:
        """Whether the entry can be accepted as it stands."""
        return not self.faults and not self.doubts


_FORMS = {
    SINGLE: "from this reading alone; a thermal EMF is still in it, and allowed for",
    ZERO: "with the reading at no current taken off",
    REVERSAL: "from the current forward and reversed: the thermal EMF is cancelled",
    THREE: "from three readings with the current to and fro: the thermal EMF and its drift are cancelled",
    DIRECT: "as the meter reads it",
}
#: A part that holds more than this share of the variance is what the uncertainty mostly is.
_MOSTLY = 0.5


def headline(reading: OneResistance) -> str:
    """``2.615 ± 0.013 mΩ``; without an uncertainty the value alone."""
    if reading.expanded > 0:
        return show_pm(reading.value, reading.expanded, "Ω")
    return show(reading.value, "Ω", 4)


def mostly(reading: OneResistance) -> str:
    """What most of the uncertainty comes from: ``mostly the voltmeter's gain``."""
    if not reading.parts:
        return ""
    total = sum(size**2 for size in reading.parts.values())
    first, *rest = sorted(reading.parts, key=lambda name: -reading.parts[name])
    if reading.parts[first] ** 2 > _MOSTLY * total or not rest:
        return f"mostly {_source(first)}"
    return f"{_source(first)} and {_source(rest[0])}"


def _source(name: str) -> str:
    if name == EMF:
        return "the thermal EMF"
    if name == COUNTS:
        return "the meters' counts"
    meter, _, part = name.partition(" ")
    return f"the {meter}'s {part}"


def reading_lines(reading: OneResistance, said: str, coverage: float) -> list[str]:
    """How the resistance came about, and what its uncertainty is."""
    lines = [f"{capital(_FORMS[reading.form])}."]
    if reading.expanded > 0:
        lines.append(f"± holds with {show_percent(coverage)} by the meters; {said}.")
    return lines


def contact_line(contact: SoFar, limit: float | None, moving: bool) -> str:
    """The contact so far, and where it stands."""
    matings = f"{count(contact.matings, 'mating')}, {count(contact.readings, 'resistance')}"
    size = show_pm(contact.value, contact.expanded, "Ω") if contact.expanded > 0 else show(contact.value, "Ω")
    line = f"This contact so far ({matings}): {size}."
    if limit is None or contact.probability is None:
        return line
    bound = f"the limit of {show_stated(limit, 'Ω')}"
    if moving:
        return f"{line} It still moves, so that nothing is said against {bound}."
    chance = f"within with a probability of {show_percent(contact.probability)}"
    said = (
        f"{capital(str(contact.verdict))} {bound}"
        if contact.verdict in ("within", "over")
        else f"Too close to {bound} to call"
    )
    known = "" if contact.scatter_known else "; how far re-mating changes it is not known yet"
    return f"{line} {said} ({chance}{known})."


def refused(faults: tuple[Fault, ...]) -> Judgement:
    """The judgement of an entry that cannot be kept."""
    return Judgement(
        None, None, None, "", None, None, None, faults, (), (), "Not yet a reading",
        tuple(str(fault) for fault in faults),
    )  # fmt: skip
