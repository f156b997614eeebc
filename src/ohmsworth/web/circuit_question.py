"""A question about circuits as its address holds it: what was chosen and typed, no more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from urllib.parse import quote, urlencode

from ohmsworth.consequence import USE_KINDS, settings_of
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.study import UseRequest
from ohmsworth.report.meaning import MeaningAnswer
from ohmsworth.units import show_stated
from ohmsworth.work.asked import asked_ohms, asked_spread
from ohmsworth.work.drawing import FillUse
from ohmsworth.work.meaning import NEEDS_A_FILE, explain

#: The kinds that can be asked about on a page, by the word for each in an address.
KINDS = {kind.replace(" ", "-"): kind for kind in USE_KINDS if kind != NEEDS_A_FILE}
SLUGS = {kind: slug for slug, kind in KINDS.items()}
#: What a fresh contact has, by and large: where nobody has typed anything yet.
AT_FIRST = "3 mΩ"
#: What a fault calls the second field.
SCATTER = "how contacts scatter about it"
#: Of so many circuits everything is shown, and their values can be changed on the same page.
FEW = 3
#: A field holds no more than this.
LONGEST, MOST_VALUES, KEPT = 200, 400, 32


@dataclass(frozen=True, slots=True)
class CircuitQuestion:
    """What was chosen and typed.

    Parameters
    ----------
    kinds
        The circuits, none for all of them as they are by default.
    ohms, spread
        Resistances, and how contacts scatter about each, as typed.
    values
        What was filled in: kind, key of the setting, text.
    """

    kinds: tuple[str, ...] = ()
    ohms: str = AT_FIRST
    spread: str = ""
    values: tuple[tuple[str, str, str], ...] = ()

    def query(self) -> str:
        """The shortest query that asks the same."""
        return self._query([("use", SLUGS[kind]) for kind in self.kinds])

    def plain_query(self) -> str:
        """The same for the page of one circuit, whose address names it."""
        return self._query([])

    def _query(self, pairs: list[tuple[str, str]]) -> str:
        pairs += [("ohms", self.ohms)] if self.ohms != AT_FIRST else []
        pairs += [("spread", self.spread)] if self.spread else []
        pairs += [(f"{SLUGS[kind]}.{key}", text) for kind, key, text in self.values]
        return urlencode(pairs, quote_via=quote)

    def values_of(self, kind: str) -> dict[str, str]:
        """What was filled in for one circuit, by key."""
        return {key: text for of, key, text in self.values if of == kind}

    def only(self, kind: str) -> CircuitQuestion:
        """The same about one circuit alone."""
        return replace(self, kinds=(kind,), values=tuple(each for each in self.values if each[0] == kind))


def read_question(pairs: Iterable[tuple[str, str]]) -> CircuitQuestion:
    """What a query asks; what it cannot mean is left out."""
    kinds: list[str] = []
    plain: dict[str, str] = {}
    values: dict[tuple[str, str], str] = {}
    for name, given in pairs:
        text = " ".join(given[:LONGEST].split())
        slug, dot, key = name.partition(".")
        if name == "use" and text in KINDS:
            kinds.append(KINDS[text])
        elif dot and slug in KINDS and key and text and len(values) < MOST_VALUES:
            values[KINDS[slug], key[:LONGEST]] = text
        elif not dot:
            plain[name] = text
    return CircuitQuestion(
        tuple(kind for kind in SLUGS if kind in kinds),
        plain.get("ohms", AT_FIRST),
        plain.get("spread", ""),
        tuple((kind, key, text) for (kind, key), text in values.items() if kind in kinds),
    )


@dataclass(frozen=True, slots=True)
class Understood:
    """A question in numbers and circuits; `faults` by the name of the field that they are about."""

    ohms: tuple[float, ...]
    spread: float | None
    uses: tuple[UseRequest, ...]
    faults: tuple[tuple[str, Fault], ...]


def understood(question: CircuitQuestion, use_of: FillUse) -> Understood:
    """What `question` means; where nothing is at fault it can be answered."""
    of_ohms: list[Fault] = []
    of_spread: list[Fault] = []
    ohms = asked_ohms(question.ohms, "resistance of each contact", of_ohms)
    spread = asked_spread(question.spread, SCATTER, of_spread)
    if spread is not None and not ohms and not of_ohms:
        mend = "Type one, or leave the scatter out."
        of_spread.append(Fault(SCATTER, "no resistance beside it", "resistances to scatter about", mend))
    named = [*(("ohms", fault) for fault in of_ohms), *(("spread", fault) for fault in of_spread)]
    uses: list[UseRequest] = []
    for kind in question.kinds:
        try:
            uses.append(use_of(kind, question.values_of(kind)))
        except InputRefused as refused:
            named += [_field(kind, fault) for fault in refused.faults]
    return Understood(ohms, spread, tuple(uses), tuple(named))


def _field(kind: str, fault: Fault) -> tuple[str, Fault]:
    """The name of the field that a fault of a circuit is about, and the fault with the field's words."""
    key = fault.where.partition("key '")[2].rstrip("'")
    words = next((setting.words for setting in settings_of(kind) if setting.key == key), fault.where)
    return f"{SLUGS[kind]}.{key}", replace(fault, where=f"{kind}, {words}")


@lru_cache(maxsize=KEPT)
def answered(question: CircuitQuestion, use_of: FillUse) -> MeaningAnswer:
    """What `question` is answered with; raises InputRefused with its faults."""
    meant = understood(question, use_of)
    if meant.faults:
        raise InputRefused(tuple(fault for _, fault in meant.faults))
    return explain(meant.uses, meant.ohms, meant.spread)


def moved(question: CircuitQuestion, ohms: Sequence[float], factor: float) -> CircuitQuestion:
    """The same about contacts `factor` times as large."""
    return replace(question, ohms="; ".join(show_stated(float(f"{ohm * factor:.6g}"), "Ω") for ohm in ohms))
