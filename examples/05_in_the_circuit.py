"""What a contact does to a phantom-powered microphone, and how bad it would have to be."""

import ohmsworth as ow

use = ow.make_use("phantom microphone", "overhead", {"length": 40.0, "contacts_near": 2})

print("with 10 mΩ in each contact:")
for effect in ow.effects(use, 10e-3):
    change = float(effect.value) - effect.ideal
    print(f"  {effect.words} ({effect.position}): {effect.ideal:.3f} {effect.unit}, changed by {change:+.5f}")

print("it would matter from:")
for threshold in ow.thresholds(use):
    at = threshold.note if threshold.resistance is None else ow.show(threshold.resistance, "Ω", 2)
    print(f"  {at}: {threshold.words} ({threshold.position})")
