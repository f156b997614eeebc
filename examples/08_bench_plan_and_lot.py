"""Is the bench fit, how many to measure, may the lot be sold: each from records in memory, a sentence each."""

import numpy as np

import ohmsworth as ow

rng = np.random.default_rng(3)
limit = ow.Limit(3e-3, "the datasheet")

# The bench: 24 checks of a shunt, and two people who read three contacts four times each.
checks = 1e-3 * (1 + 0.002 * rng.standard_normal(24))
specimen = [f"S{i}" for i in range(3) for _ in range(8)]
operator = [name for _ in range(3) for name in ("Ann", "Ben") for _ in range(4)]
trials = np.repeat([2.0e-3, 2.4e-3, 2.9e-3], 8) * (1 + 0.01 * rng.standard_normal(24))
bench = ow.from_arrays(
    ow.Study("Is the bench fit?", reference="all", limit=limit, check=ow.CheckStandard("shunt")),
    specimen=specimen + ["shunt"] * 24,
    condition=["all"] * 24 + ["shunt"] * 24,
    operator=operator + ["Ann"] * 24,
    resistance=np.concatenate([trials, checks]),
)
fitness = ow.fitness(bench)
print(fitness.sentence)
assert fitness.ability is not None
print(f"Test uncertainty ratio: {fitness.ability.test_uncertainty_ratio:.1f}")
print(f"Smallest difference, one trial each: {ow.show(fitness.differences[0].ohm, 'Ω', 2)}")

# The plan: how many contacts show that cleaning helps by a third?
asked = ow.PlanRequest(
    "detect", effect=0.33, conditions=("dark", "cleaned"), specimen=0.12, mating=0.08, reading=0.01
)
print(ow.plan(ow.Study("Does cleaning help?", reference="cleaned", plan=asked)).sentence)

# The lot: what to draw, and the verdict on what was drawn.
lot = ow.Study("Can I sell these?", limit=limit, lot=ow.LotRequest((0.02, 0.20), size=60))
plan = ow.lot(lot).plan
assert plan is not None
print(f"Draw {plan.sample} of 60, accept with at most {plan.accepted} over.")
pieces = [f"P{i}" for i in range(plan.sample) for _ in range(2)]
ohm = np.repeat(2e-3 * np.exp(0.08 * rng.standard_normal(plan.sample)), 2)
drawn = ow.from_arrays(lot, specimen=pieces, resistance=ohm * (1 + 0.01 * rng.standard_normal(len(ohm))))
print(ow.lot(drawn).sentence)
