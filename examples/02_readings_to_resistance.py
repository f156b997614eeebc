"""Readings of one mating become resistances: the thermal EMF cancels, the meters' uncertainty stays."""

import numpy as np

import ohmsworth as ow

bench = ow.Bench(
    voltmeter=ow.Accuracy(
        gain=0.0005, counts=5, resolution=0.1e-6
    ),  # ± (0.05 % of reading + 5 counts of 0.1 µV)
    ammeter=ow.Accuracy(gain=0.002, counts=3, resolution=10e-6),
)
emf = 4e-6
current = np.array([0.1, -0.1, 0.1, -0.1])
voltage = 2.5e-3 * current + emf

study = ow.from_arrays(
    ow.Study("What is it?", bench=bench), specimen=["S1"] * 4, voltage=voltage, current=current
)
found = ow.reduce_readings(study.table, bench, np.arange(4))

print("V/I of each reading:", ", ".join(ow.show(r, "Ω") for r in voltage / current))
for i in range(len(found)):
    lines = [int(study.table.line[row]) for row in found.rows[i] if row >= 0]
    print(f"lines {lines}: {ow.show(found.value[i], 'Ω', 4)}")
    print(f"  new in every resistance:  {ow.show(found.independent[i], 'Ω', 2)}")
    for meter, shared in found.shared.items():
        print(f"  shared, {meter}: {ow.show(shared[i], 'Ω', 2)}")
