"""A built cable: what to measure, what is wrong with it, and how far away the fault lies."""

import tempfile
from pathlib import Path

import ohmsworth as ow
from ohmsworth import wiring

with tempfile.TemporaryDirectory() as name:
    folder = Path(name) / "cable"
    wiring.write_demo_cable(folder)  # in its place: your cable.toml and test.csv
    found = ow.cable(folder)
    (folder / "test.csv").unlink()
    sheet = ow.cable(folder)

print(sheet.sentence)
print(found.sentence)
for one in found.stands_out:
    low, high = ow.show(one.low, "Ω"), ow.show(one.high, "Ω")
    print(f"{one.wire}: {ow.show(one.excess, 'Ω')} more than its fellows ({low} to {high})")
for place in found.places:
    print(f"{place.metres:.1f} m from {place.near} ({place.low:.1f} to {place.high:.1f} m)")
for wire in found.wires[:2]:
    print(f"{wire.name}: {ow.show(wire.resistance or 0.0, 'Ω')}, {wire.verdict}")
