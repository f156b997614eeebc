"""A whole study from arrays: three new and three worn contacts, two matings each, and the answer."""

import numpy as np

import ohmsworth as ow

rng = np.random.default_rng(7)
specimen, condition, mating, resistance = [], [], [], []
for kind, middle in (("new", 2.4e-3), ("worn", 3.6e-3)):
    for number in range(1, 4):
        own = middle * np.exp(0.08 * rng.standard_normal())
        for again in ("1", "2"):
            specimen.append(f"{kind} {number}")
            condition.append(kind)
            mating.append(again)
            resistance.append(own * np.exp(0.05 * rng.standard_normal()))

study = ow.Study(
    "Are the worn contacts still good enough?",
    reference="new",
    limit=ow.Limit(4e-3, "the datasheet"),
    bench=ow.Bench(ohmmeter=ow.Accuracy(gain=0.005, counts=3, resolution=10e-6)),
    uses=(ow.UseRequest("balanced line", "stage to console", {"length": 60.0}),),
)
readings = ow.from_arrays(study, specimen=specimen, condition=condition, mating=mating, resistance=resistance)
answer = ow.answer(readings)

print(answer.sentence)
for comparison in answer.comparisons:
    print(f"{comparison.of} against {comparison.against}: {comparison.verdict}")
for warning in answer.warnings:
    print(f"{warning.code}: {warning.words}")
