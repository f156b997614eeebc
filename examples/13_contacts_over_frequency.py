"""Many contacts over frequency: a study whose readings are recordings, answered at two frequencies and over all tones."""

import tempfile
from pathlib import Path

import ohmsworth as ow
from ohmsworth import wiring

with tempfile.TemporaryDirectory() as name:
    folder = Path(name) / "study"
    wiring.write_demo_taken(
        folder
    )  # in its place: your study.toml, takes.csv, tones.toml, plan.json and recordings
    found = ow.answer(folder)

print(found.sentence)
assert found.frequencies is not None
for at in found.frequencies.at:
    for condition in at.conditions:
        print(
            f"{at.tone:.0f} Hz, {condition.condition}: {ow.show(condition.resistance, 'Ω')}, {condition.verdict}"
        )
curve = found.frequencies.comparisons[0]
for hertz, ratio, low, high in zip(
    found.frequencies.frequency, curve.value, curve.low_together, curve.high_together, strict=True
):
    print(
        f"{hertz:.0f} Hz: {curve.of} over {curve.against} {ratio:.2f} ({low:.2f} to {high:.2f}, all tones at once)"
    )
with_impedance = found.uses[0].with_impedance
assert with_impedance is not None
for effect in with_impedance.effects:
    if effect.effect == "rejection_mains":
        print(f"{effect.words}, {effect.condition}: {effect.value:.1f} {effect.unit}")
