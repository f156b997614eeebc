"""A circuit that is not among the uses: a desk over three joints of a patch bay into a 600 ohm load."""

import numpy as np

import ohmsworth as ow

# 20 m of a pair: resistance and capacitance a metre, half of the inductance in each core.
core = ow.plain_resistance(0.08)
pair = ow.cable_of([core, core], own=(0.3e-6, 0.3e-6), capacitance=np.array([[0, 100e-12], [100e-12, 0]]))

bay = ow.Circuit(
    (
        ow.VoltageSource("desk", "drive"),
        ow.Resistor("drive", "out", 50.0),
        ow.Contact("joint 1", "out", "bay"),
        ow.Contact("joint 2", "bay", "field"),
        ow.Line(("field", "0"), ("box", "box return"), pair, 20.0),
        ow.Contact("joint 3", "box", "load"),
        ow.Resistor("load", "box return", 600.0),
    )
)

frequency = np.array([50.0, 1e3, 20e3])
(level,) = ow.transfers(bay, frequency, {"desk": 1.0}, [ow.Volts("load", "box return")])

# Forward: the same resistance in all three joints, in dB against ideal contacts.
for text in ("3 mΩ", "50 mΩ", "2 Ω"):
    ohm = ow.parse_quantity(text, "resistance")
    change = 20 * np.log10(np.abs(ow.respond(level, [[ohm] * 3])[0] / level.ideal))
    told = ", ".join(f"{db:.5f} dB at {f:g} Hz" for db, f in zip(change, frequency, strict=True))
    print(f"{text:>6} in each joint: {told}")

# Inverse: how bad for a tenth of a decibel at 1 kHz? The level falls with every ohm, so halve the range.
low, high = 0.0, 1e3
for _ in range(60):
    middle = (low + high) / 2
    change = 20 * np.log10(np.abs(ow.respond(level, [[middle] * 3])[0, 1] / level.ideal[1]))
    low, high = (low, middle) if change < -0.1 else (middle, high)
print(f"0.1 dB is lost from {ow.show(high, 'Ω', 2)} in each joint")

# Joints as they come: a median of 2 Ω, each another one, 10 000 sets of three.
sets = 2.0 * np.exp(0.5 * np.random.default_rng(1).standard_normal((10_000, 3)))
bands = 20 * np.log10(ow.magnitude_bands(level, sets, [0.025, 0.5, 0.975]) / np.abs(level.ideal))
for f, (worst, half, best) in zip(frequency, bands.T, strict=True):
    print(f"{f:>6g} Hz: {half:.4f} dB, 95 % of sets {worst:.4f} to {best:.4f} dB")
