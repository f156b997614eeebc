"""What the shop's records know: how contacts age, and the service cards of a contact and of a cable."""

import tempfile
from datetime import date
from pathlib import Path

import ohmsworth as ow
from ohmsworth import wiring

with tempfile.TemporaryDirectory() as name:
    records, key = Path(name) / "shop.records", Path(name) / "shop.key"
    wiring.fill_demo_season(str(records), key, (), date(2026, 3, 2))  # in its place: your shop's records

    aged = ow.ageing(records, by="treatment", only={"plating": "silver"})
    contact = ow.service_card("club 3", records)
    cable = ow.service_card("S02", records)

print(aged.sentence)
for level in aged.levels:
    rate = level.per_year
    told = level.why if rate is None else f"{rate.value:.2f} ({rate.low:.2f} to {rate.high:.2f}) times a year"
    print(f"{level.name}: {told}")

assert isinstance(contact, ow.SpecimenService)
for said in (contact.service.found, contact.now):
    if said is not None:
        print(f"{contact.serial} on {said.day}: {ow.show(said.resistance, 'Ω', 2)}, {said.verdict}")
for step in contact.service.steps:
    print(f"    {step.what} on {step.on}: {step.note}")

assert isinstance(cable, ow.CableService)
for test in cable.tests:
    print(f"{cable.name} {cable.serial} on {test.last}: {test.verdict}; {'; '.join(test.wrong)}")
if cable.paper is not None:
    print(f"{cable.name} {cable.serial} now: {cable.verdict}, {cable.paper.kind} {cable.paper.number}")
