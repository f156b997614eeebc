"""The cards of the meters that are connected: what their makers state goes into new studies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import cast

from ohmsworth.materials import DRY_VOLTAGE
from ohmsworth.readings.dry_circuit import DRY_CURRENT
from ohmsworth.units import show_typed
from ohmsworth.work.cards.said import MeterCard, StatedRange
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.connections import Connection, Role
from ohmsworth.work.records import NoSuchCard, Records
from ohmsworth.work.study_form import MeterForm, StudyForm

#: What the card of each says that it measures.
MEASURED: dict[Role, str] = {
    "voltmeter": "voltage",
    "ammeter": "current",
    "ohmmeter": "four-wire resistance",
}
_DIMENSIONS: dict[Role, str] = {"voltmeter": "voltage", "ammeter": "current", "ohmmeter": "resistance"}
#: The readings that a range has to hold: those of a dry circuit.
_USUAL: dict[Role, float] = {"voltmeter": DRY_VOLTAGE, "ammeter": DRY_CURRENT, "ohmmeter": 0.0}
_MOST = 200


def meter_cards(records: Records, role: Role) -> tuple[tuple[int, str], ...]:
    """Number and title of the cards of such meters; none for a source."""
    if role not in MEASURED:
        return ()
    found = []
    for card in records.cards("meter", state="open", most=_MOST):
        said = read_card(records, card.number).said
        if isinstance(said, MeterCard) and said.measures == MEASURED[role]:
            found.append((card.number, card.face.title))
    return tuple(found)


def with_meters(form: StudyForm, records: Records, connections: Mapping[Role, Connection]) -> StudyForm:
    """The form with what is stated about the meters that are connected, and the voltage of the source."""
    filled = {}
    for role in MEASURED:
        connection = connections.get(role)
        stated = _stated(records, role, connection) if connection is not None else None
        if stated is not None:
            filled[cast(str, role)] = stated
    source = connections.get("source")
    if source is not None:
        form = replace(form, open_circuit_voltage=source.most_voltage)
    return replace(
        form,
        voltmeter=filled.get("voltmeter", form.voltmeter),
        ammeter=filled.get("ammeter", form.ammeter),
        ohmmeter=filled.get("ohmmeter", form.ohmmeter),
    )


def _stated(records: Records, role: Role, connection: Connection) -> MeterForm | None:
    if connection.card is None:
        return None
    try:
        said = read_card(records, connection.card).said
    except NoSuchCard:
        return None
    if not isinstance(said, MeterCard) or not said.ranges:
        return None
    one = next((each for each in said.ranges if each.up_to >= _USUAL[role]), said.ranges[-1])
    return _as_form(one, _DIMENSIONS[role])


def _as_form(stated: StatedRange, dimension: str) -> MeterForm:
    accuracy = stated.accuracy
    if accuracy.standard is not None:
        return MeterForm()
    return MeterForm(
        f"{accuracy.gain * 100:.6g} % + {accuracy.counts:g} counts",
        show_typed(accuracy.resolution, dimension) if accuracy.resolution else "",
    )
