"""What 3 mΩ, 50 mΩ and 2 Ω do: forward, inverse, and every use's first threshold on one ladder."""

import ohmsworth as ow

asked = [ow.parse_quantity(text, "resistance") for text in ("3 mΩ", "50 mΩ", "2 Ω")]

# Forward and inverse, in one circuit of the customer's.
lead = ow.make_use("unbalanced line", "player to desk", {"length": 3.0})
answer = ow.meaning(asked, [lead])
print(answer.sentence)
for effect in ow.effects(lead, asked)[:3]:
    told = ", ".join(f"{value:.1f} {effect.unit}" for value in effect.value)
    print(f"  {effect.words}: {effect.ideal:.1f} {effect.unit} with ideal contacts, then {told}")
first = ow.smallest_threshold([lead])
assert first is not None
print(f"It begins at {ow.show(first.resistance or 0.0, 'Ω', 2)}: {first.words} ({first.position}).")

# The ladder: where each use begins to suffer. Of a mains feed no number gives leave to anything; it has a proviso.
ladder = []
for use in ow.meaning(asked).uses:
    reached = [t.resistance for t in use.thresholds if t.resistance is not None]
    if reached and not use.proviso:
        ladder.append((min(reached), use.name))
print("Where each use begins to suffer:")
for ohm, name in sorted(ladder):
    past = sum(one >= ohm for one in asked)
    print(f"  {ow.show(ohm, 'Ω', 2):>8}  {name:<20} {past} of {len(asked)} are past it")

# Contacts are never all alike: with a scatter the curves have bands.
curve = ow.meaning([0.05], [lead], spread=0.3).uses[0].curves[1]
(band,) = curve.bands
assert band.low is not None
assert band.high is not None
print(f"50 mΩ that scatter by 30 %, at {curve.frequency[0]:g} Hz, {curve.words}:")
print(f"  {band.value[0]:.1f} dB, 95 % of sets {band.low[0]:.1f} to {band.high[0]:.1f} dB")
