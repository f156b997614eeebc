"""Is a contact within the limit? A probability, and a verdict only where it is high or low enough."""

import ohmsworth as ow
from ohmsworth.inference.conformity import guard_factor, verdict

limit, uncertainty, freedom = 3e-3, 0.1e-3, 8

for resistance in (2.7e-3, 2.9e-3, 3.0e-3, 3.3e-3):
    chance = float(ow.probability_within(resistance, uncertainty, freedom, limit))
    print(f"{ow.show(resistance, 'Ω', 2)}: within with {100 * chance:.1f} %: {verdict(chance, 0.95)}")

band = guard_factor(0.95, freedom) * uncertainty
print(f"guard band: {ow.show(band, 'Ω', 2)}, so 'within' is said up to {ow.show(limit - band, 'Ω')}")
