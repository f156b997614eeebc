"""Whether a contact's resistance rests while it is measured, or drifts, or fluctuates.

Each group of periods gives one ratio of the two inputs at each tone. What changes relative to its mean,

    (ρg − ρ)/Re ρ = y + jq,

has the fluctuation of R in y; circular noise is in y and q alike. So q is the floor that y is held against, measured in the same
take and at the same frequencies; the drive's own swings cancel in ρ. Tones that sound together are averaged with weights by
their noise, and so are the spectra of tones in turn, which were heard at different times.

With G groups of T seconds, the one-sided spectrum (1/Hz) of relative changes at m/(G T), m = 1 … M = ⌊(G − 1)/2⌋, is

    P(m) = (2T/G) |Σg yg exp(−2πj m g/G)|²

1. Drift: a straight line through y, with the floor as its noise (two-sided t).
2. Fluctuation, what the line leaves of y against what a line leaves of q: Σ P(m)/m over Σ 1/m for y, the mean of P for q;
   one-sided F. Weights 1/m favour slow changes, as contacts have them. Degrees of freedom by Satterthwaite.

Each is told at 2.5 %, 5 % for both. A fluctuation's law S = A/f^α is fitted by Whittle's likelihood of both spectra, the floor
with it, to y without its mean (a line taken off would take slow changes as well): a drift then looks like α = 2, and beyond 2
nothing can be told apart. Few groups leave α wide open, which its interval says. Sources: "Whittle", Satterthwaite.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy import optimize, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.curve import Array
from ohmsworth.resistance.impedance.phasors import Lines
from ohmsworth.resistance.impedance.ratio import ratio
from ohmsworth.resistance.impedance.tone_plan import Way

#: Groups without which nothing is told, and without which no law is fitted.
FEWEST_GROUPS, FEWEST_FOR_LAW = 6, 12
#: Chance with which each of drift and fluctuation is told without being there.
LEVEL = 0.025
#: Exponents that are tried.
EXPONENTS = np.linspace(0.0, 2.5, 51)

Verdict = Literal["at rest", "drifts", "fluctuates"]


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """S(f) = A/f^α.

    Parameters
    ----------
    exponent, low, high
        α and its 95 % interval; an end at 0 or 2.5 is where the search ended.
    at_one_hertz
        A, the relative spectrum at 1 Hz by this law, 1/Hz.
    """

    exponent: float
    low: float
    high: float
    at_one_hertz: float


@dataclass(frozen=True, slots=True, eq=False)
class Fluctuation:
    """How a resistance changed during a take, all relative to its mean.

    Parameters
    ----------
    time
        Middle of each group in seconds from the first, shape (groups,).
    change
        y, shape (groups,); of tones in turn the weighted mean, each in its own time.
    frequency, spectrum, floor
        Hertz; P of y and of q in 1/Hz, shape (M,).
    expected
        Floor that the noise of the lines leads one to expect, 1/Hz: an ill agreement with `floor` says that a
        group is not long enough, or that the noise is not the same all the time.
    drift, drift_uncertainty, drift_p
        Change in one second, its standard uncertainty, and two-sided chance without drift.
    p_value
        Chance of as much fluctuation by noise.
    rms, rms_low, rms_high
        Root mean square of the fluctuation from group to group, the floor taken off, and its 90 % interval as if
        it were alike at all frequencies: `rms_high` is what may hide at 95 %.
    law
        None where nothing fluctuates, or groups are too few.
    verdict
        What is told.
    """

    time: Array
    change: Array
    frequency: Array
    spectrum: Array
    floor: Array
    expected: float
    drift: float
    drift_uncertainty: float
    drift_p: float
    p_value: float
    rms: float
    rms_low: float
    rms_high: float
    law: PowerLaw | None
    verdict: Verdict


def fluctuation(tones: Lines, duration: float, way: Way = "together", contact_input: int = 0) -> Fluctuation:
    """Look for changes of a resistance from group to group.

    Parameters
    ----------
    duration
        Seconds of one group.
    contact_input
        Input, 0 or 1, that hears the contact; the other hears the shunt.

    Raises
    ------
    ArgumentFault
        With fewer than six groups, or a duration that is not above zero.
    """
    if not 0 < duration < np.inf:
        raise ArgumentFault("duration", duration, "more than zero seconds")
    if len(tones.groups) < FEWEST_GROUPS:
        raise ArgumentFault("tones", len(tones.groups), f"{FEWEST_GROUPS} groups or more: record longer")
    y, q, share, noise = _changes(tones, contact_input)
    if way == "together":
        y, q, share, noise = (y @ share)[:, None], (q @ share)[:, None], np.ones(1), share**2 @ noise
    else:
        noise = share @ noise
    groups = len(y)
    series = 1 / float((share**2).sum())  # as many spectra alike
    time = np.asarray(duration * np.arange(groups), float)
    bins = (groups - 1) // 2
    spectrum, floor = (_periodogram(x, duration, share) for x in (y, q))
    rest, rest_floor = (_periodogram(_without_line(x), duration, share) for x in (y, q))
    freedom = 2 * series * bins
    weights = 1 / np.arange(1.0, bins + 1)
    statistic = float((weights @ rest) / weights.sum() / rest_floor.mean())
    p_value = float(stats.f.sf(statistic, 2 * series * weights.sum() ** 2 / (weights**2).sum(), freedom))
    drift, uncertainty = _drift(time, y, share, float(floor.mean()) / (2 * duration) / series)
    drift_p = float(2 * stats.t.sf(abs(drift) / uncertainty, freedom))
    verdict: Verdict = "fluctuates" if p_value < LEVEL else "drifts" if drift_p < LEVEL else "at rest"
    frequency = np.asarray(np.arange(1, bins + 1) / (groups * duration), float)
    law = None
    if verdict == "fluctuates" and groups >= FEWEST_FOR_LAW:
        law = _power_law(frequency, spectrum, floor, series)
    return Fluctuation(
        time,
        y @ share,
        frequency,
        spectrum,
        floor,
        2 * duration * float(noise),
        drift,
        uncertainty,
        drift_p,
        p_value,
        *_sizes(float(rest.mean()), float(rest_floor.mean()), freedom, duration),
        law,
        verdict,
    )


def _changes(tones: Lines, contact_input: int) -> tuple[Array, Array, Array, Array]:
    """Y and q, shape (groups, tones); share of each tone; variance of y of a group by the noise told."""
    order = [contact_input, 1 - contact_input]
    across, beside = tones.mean[order]
    told = ratio(across, beside, tones.noise[:, order][:, :, order])
    each = tones.groups[:, order[0]] / tones.groups[:, order[1]]
    change = (each - each.mean(axis=0)) / told.value.real
    noise = len(tones.groups) * told.covariance[:, 0, 0] / told.value.real**2
    return change.real, change.imag, 1 / noise / (1 / noise).sum(), noise


def _periodogram(series: Array, duration: float, share: Array) -> Array:
    """Mean spectrum of columns, without mean and highest bin; shape (M,)."""
    groups = len(series)
    spectrum = np.abs(np.fft.rfft(series, axis=0)[1 : (groups - 1) // 2 + 1]) ** 2
    return np.asarray(2 * duration / groups * spectrum @ share)


def _without_line(series: Array) -> Array:
    t = np.arange(len(series)) - (len(series) - 1) / 2
    return np.asarray(series - series.mean(axis=0) - np.outer(t, t @ series) / (t @ t))


def _drift(time: Array, series: Array, share: Array, variance: float) -> tuple[float, float]:
    """Slope of the mean of columns, and its standard uncertainty with the `variance` of that mean."""
    t = time - time.mean()
    return float(t @ series @ share / (t @ t)), float(np.sqrt(variance / (t @ t)))


def _sizes(both: float, floor: float, freedom: float, duration: float) -> tuple[float, float, float]:
    """Root mean square above the floor, and its interval by the ratio of two variances."""
    seen = both / floor
    ends = (1.0, stats.f.isf(0.05, freedom, freedom), stats.f.isf(0.95, freedom, freedom))
    middle, low, high = (
        float(np.sqrt(max(0.0, seen / float(end) - 1) * floor / (2 * duration))) for end in ends
    )
    return middle, low, high


def _power_law(frequency: Array, spectrum: Array, floor: Array, series: float) -> PowerLaw:
    """Whittle's likelihood with the exponent on a grid, amplitude and floor at their best for each."""
    middle = float(np.exp(np.log(frequency).mean()))
    relative, start_floor = frequency / middle, float(floor.mean())
    start = np.log([max(float(spectrum.mean()) - start_floor, 0.1 * start_floor), start_floor])

    def cost(logs: Array, exponent: float) -> float:
        level, own = np.exp(logs)
        s = level * relative**-exponent + own
        return float(
            series * (np.log(s).sum() + (spectrum / s).sum() + len(floor) * logs[1] + floor.sum() / own)
        )

    fits = [optimize.minimize(cost, start, args=(alpha,), method="Nelder-Mead") for alpha in EXPONENTS]
    costs = np.array([fit.fun for fit in fits])
    best = int(costs.argmin())
    inside = EXPONENTS[2 * (costs - costs[best]) <= float(stats.chi2.isf(0.05, 1))]
    alpha = float(EXPONENTS[best])
    return PowerLaw(
        alpha, float(inside[0]), float(inside[-1]), float(np.exp(fits[best].x[0]) * middle**alpha)
    )
