"""Two factors at once, the plug's condition and the socket's: what each does, and whether one depends on the other."""

import numpy as np

import ohmsworth as ow

rng = np.random.default_rng(4)
states = ["new", "new", "new", "worn", "worn", "worn"]
own_plug, own_socket = 0.04 * rng.standard_normal(6), 0.04 * rng.standard_normal(6)
plug, socket, plug_state, socket_state, log_ohm = [], [], [], [], []
for p, kind in enumerate(states):
    for s, other in enumerate(states):
        joint = np.log(2.4e-3) + own_plug[p] + own_socket[s] + 0.04 * rng.standard_normal()
        joint += 0.7 * (kind == "worn") + 0.3 * (other == "worn")  # the truth: neither depends on the other
        for _ in range(2):
            plug.append(f"P{p + 1}")
            socket.append(f"S{s + 1}")
            plug_state.append(kind)
            socket_state.append(other)
            log_ohm.append(joint + 0.03 * rng.standard_normal())

# A whole answer, with limits, margins and words.
study = ow.Study("Is it the plug or the socket?", reference="new plug, new socket", margin=1e-3)
readings = ow.from_arrays(
    study,
    specimen=[f"{p} × {s}" for p, s in zip(plug, socket, strict=True)],
    plug=plug,
    socket=socket,
    resistance=np.exp(log_ohm),
    further={"plug condition": plug_state, "socket condition": socket_state},
)
answer = ow.answer(readings)
print(answer.sentence)
for factor in answer.factors:
    for c in factor.comparisons:
        print(f"{factor.factor}, {c.of} against {c.against}: {c.ratio.value:.2f} times, {c.verdict}")
print(f"One depends on the other: p = {answer.interactions[0].test.p_value:.2f}")

# The model alone, for anything that scatters in groups: here the logarithms of the same readings.
model = ow.fit_model(
    log_ohm,
    factors={"plug condition": plug_state, "socket condition": socket_state},
    groups={"plug": plug, "socket": socket, "pair": (plug, socket)},
)
effect = model.difference("plug condition", "worn", "new")
low, high = effect.interval(0.95)
print(
    f"Worn plugs, by the model alone: {np.exp(effect.value):.2f} times ({np.exp(low):.2f} to {np.exp(high):.2f})"
)
print(f"Judged by {effect.freedom:.1f} degrees of freedom: there are six plugs, however many readings.")
