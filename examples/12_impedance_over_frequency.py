"""A contact over frequency: recordings of an audio interface to resistance, inductance and their uncertainty."""

import tempfile
from pathlib import Path

import ohmsworth as ow
from ohmsworth import wiring

with tempfile.TemporaryDirectory() as name:
    folder = Path(name) / "takes"
    wiring.write_demo_takes(folder)  # in its place: the folder of 'ohmsworth tones' with your own recordings
    takes = ow.load_takes(folder)
    print(f"{len(takes.recordings)} recordings, {len(takes.plan.cycles)} tones")
    found = ow.takes(takes, at=10e3)

print(found.sentence)
for tone in (found.tones[0], found.tones[-1]):
    print(
        f"{tone.frequency:.0f} Hz: R = {ow.show(tone.resistance, 'Ω')}, X = {ow.show(tone.reactance, 'Ω', 2)}"
    )
for budget in found.budgets[1:]:
    first = budget.lines[0]
    print(f"{budget.of}: {first.source}, {ow.show(first.contribution, 'Ω', 1)}, {100 * first.share:.0f} %")
