"""care.toml to what is asked about one contact, or everything that is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.known_toml import needed
from ohmsworth.adapters.files.study_toml import BELIEVED, read_bench, read_keep, read_limit
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.adapters.files.uses import own_cables, read_use
from ohmsworth.advice.courses import Prices
from ohmsworth.advice.remedies import USUAL_NAMES
from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.materials import ENVIRONMENTS, PLATINGS
from ohmsworth.materials.span import Span
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.study import Bench
from ohmsworth.units import parse_quantity
from ohmsworth.work.care_ports import CareRequest, MakerSays, PlatingKnown, Storage

FILE = "care.toml"
NEW = "The manual's page on care shows one to start from."
#: More money than this is a slip, as is a longer re-test (second) or a plating thicker than this (metre).
_MOST, _LONGEST, _THICKEST = 1e9, 86400.0, 1e-3
#: What uses up nothing, so that nobody need say so.
_FREE = ("exercise", "wipe")


@dataclass(frozen=True, slots=True)
class ReadCare:
    """What the file says: `request` is None when nothing can be read; which readings are the contact's or kept; the meters."""

    request: CareRequest | None
    bench: Bench
    keep: frozenset[int]
    specimen: str
    condition: str
    faults: list[Fault]


def read_care(path: Path, measured: bool) -> ReadCare:
    """Read the file; `measured` says that readings stand beside it, so that no resistance is to be stated."""
    table, faults = read_toml(path, NEW)
    if table is None:
        return ReadCare(None, Bench(), frozenset(), "", "", faults)
    asked = Asked(table, FILE, faults)
    cables, of_cables = own_cables(path.parent)
    contact = asked.inside("contact") or Asked({}, f"{FILE}, [contact]", faults)
    resistance, uncertainty = _stated(contact, measured)
    prices, materials = _prices(asked)
    request = CareRequest(
        subject=asked.text("subject") or "this contact",
        currency=asked.text("currency") or "",
        limit=read_limit(asked),
        uses=tuple(use for one in asked.several("use") if (use := read_use(one, path.parent, cables))),
        resistance=resistance,
        uncertainty=uncertainty,
        prices=prices,
        materials=materials,
        maker=_maker(asked.inside("maker_says")),
        plating=_plating(asked.inside("plating")),
        storage=_storage(asked.inside("storage")),
        found_on=contact.day("found_on"),
        coverage=asked.number("coverage", 0.6, 0.9999, 0.95, "Write 0.95 for 95 %."),
    )
    specimen, condition = (clean_name(contact.text(key) or "") for key in ("specimen", "condition"))
    bench, keep = read_bench(asked), read_keep(asked)
    contact.done()
    _one_limit(asked)
    asked.done()
    return ReadCare(request, bench, keep, specimen, condition, faults + of_cables)


def _stated(contact: Asked, measured: bool) -> tuple[float | None, float | None]:
    """Resistance and uncertainty, where no readings stand beside the file."""
    keys = ("resistance", "uncertainty")
    if not measured:
        resistance = needed(contact, "resistance", "resistance", BELIEVED, "9.1 mΩ")
        return resistance, needed(contact, "uncertainty", "resistance", BELIEVED, "0.4 mΩ")
    for key in keys:
        contact.allow(key)
        if key in contact.table:
            mend = "Remove the key, or rename readings.csv: one of the two says what was found."
            contact.fault(
                key, f"{found_value(contact.table[key])}, with readings.csv beside it", "readings alone", mend
            )
    return None, None


def _one_limit(asked: Asked) -> None:
    """Where the limit comes from: exactly one of the two ways."""
    stated, used = "limit" in asked.table, bool(asked.table.get("use"))
    if stated == used:
        found = "a limit and uses too" if stated else "neither a limit nor a use"
        mend = 'Write [limit] with resistance = "5 mΩ" and its source, or [[use]] with kind = "balanced line" and the like.'
        asked.fault("limit", found, "[limit], or [[use]] from which the limit follows", mend)


def _prices(asked: Asked) -> tuple[Prices, dict[str, float]]:
    table = asked.inside("prices")
    if table is None:
        if "prices" not in asked.table:
            asked.fault(
                "prices",
                "no such table",
                "[prices] with labour, failure, retest and [prices.materials]",
                "Add it.",
            )
        return Prices(0.0, 0.0, 0.0), {}
    labour, failure = (_money(table, key, example) for key, example in (("labour", "45"), ("failure", "120")))
    retest = needed(table, "retest", "time", (1.0, _LONGEST), "3 min")
    can = _names(table, "can") if "can" in table.table else list(USUAL_NAMES)
    table.allow("can")
    inside = table.inside("materials") or Asked({}, f"{table.where[:-1]}.materials]", table.faults)
    materials = {}
    for name in can:
        if name in _FREE and name not in inside.table:
            inside.allow(name)
            materials[name] = 0.0
        else:
            materials[name] = _money(inside, name, "1.50")
    inside.done()
    table.done()
    return Prices(labour, failure, (retest or 0.0) / 60), materials


def _money(table: Asked, key: str, example: str) -> float:
    if key not in table.table:
        table.fault(
            key,
            "no such key",
            f"an amount of money, such as {key} = {example}",
            "Add it, 0 where it costs nothing.",
        )
    return table.number(key, 0.0, _MOST, 0.0)


def _names(table: Asked, key: str) -> list[str]:
    """Names of remedies; those that are not known are at fault."""
    found = [
        name.strip().lower()
        for name in table.items(key, str, "remedies such as " + ", ".join(USUAL_NAMES[:3]))
    ]
    for name in found:
        if name not in USUAL_NAMES:
            near = nearest_name(name, USUAL_NAMES)
            hint = f"Did you mean '{near}'?" if near else "Write one of these."
            table.fault(key, shorten(name), f"one of {', '.join(USUAL_NAMES)}", hint)
    return [name for name in dict.fromkeys(found) if name in USUAL_NAMES]


def _maker(table: Asked | None) -> MakerSays | None:
    if table is None:
        return None
    words = tuple(table.items("words", str, "sentences of the instructions"))
    said = MakerSays(table.text("who") or "the connector's maker", words, tuple(_names(table, "forbids")))
    table.done()
    return said


def _plating(table: Asked | None) -> PlatingKnown:
    if table is None:
        return PlatingKnown()
    metal = table.choice("metal", PLATINGS, "")
    thickness = _span(table, "thickness")
    taken, done = table.inside("taken_off"), table.inside("done")
    lost = {} if taken is None else {name: span for name in taken.table if (span := _of_remedy(taken, name))}
    times = (
        {} if done is None else {name: times for name in USUAL_NAMES if (times := done.whole(name, 0, 10**6))}
    )
    for one in (taken, done):
        if one is not None:
            _allow_all(one)
            one.done()
    if lost and thickness is None:
        table.fault(
            "thickness", "no such key", 'the plating when new, such as thickness = "2 µm to 4 µm"', "Add it."
        )
    table.done()
    return PlatingKnown(metal, thickness, lost, times)


def _of_remedy(table: Asked, name: str) -> Span | None:
    return _span(table, name) if name in USUAL_NAMES else None


def _allow_all(table: Asked) -> None:
    for name in USUAL_NAMES:
        table.allow(name)


def _span(table: Asked, key: str) -> Span | None:
    """One length, or a range such as ``2 µm to 4 µm``."""
    text = table.table.get(key)
    table.allow(key)
    if text is None:
        return None
    example = '"3 µm" or "2 µm to 4 µm"'
    if not isinstance(text, str):
        table.fault(key, found_value(text), example, "Write it in quotation marks, with the unit.")
        return None
    try:
        ends = [parse_quantity(part, "length") for part in text.split(" to ")]
    except QuantityFault as error:
        table.fault(key, error.found, error.expected, error.mend)
        return None
    if len(ends) > 2 or not 0 < ends[0] <= ends[-1] <= _THICKEST:
        table.fault(
            key, shorten(text), f"{example}, the smaller first, up to 1 mm", "Check numbers and units."
        )
        return None
    return Span(ends[0], ends[-1])


def _storage(table: Asked | None) -> Storage | None:
    if table is None:
        return None
    if "environment" not in table.table:
        expected = " or ".join(f'"{name}" ({one.words})' for name, one in ENVIRONMENTS.items())
        table.fault("environment", "no such key", expected, "Add it.")
    environment = table.choice("environment", tuple(ENVIRONMENTS), "")
    storage = Storage(environment, table.day("clean_since"))
    table.done()
    return storage if environment else None
