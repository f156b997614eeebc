"""Samples that are lost: held or zero, or a block that stands there twice."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.drive import one_period
from ohmsworth.resistance.impedance.sound_faults.heard import Heard
from ohmsworth.resistance.impedance.sound_faults.placed import BLOCK, PlacedTake

Array = NDArray[np.float64]
Unsigned = NDArray[np.uint64]

#: Samples in a row in which neither input moves.
_HELD = 32
#: Samples that are compared at a time, and of a repeat to be one; the farthest that a block is repeated.
_WINDOW, _REPEAT, _FARTHEST = 32, 64, 1 << 14
#: Steps of the converter that the tones need, so that they cannot stand still by themselves.
_STEPS = 64
#: Two numbers that mix bits well.
_MIX, _MORE = np.uint64(0x9E3779B97F4A7C15), np.uint64(0xC2B2AE3D27D4EB4F)


def dropouts(take: PlacedTake, sound: Heard) -> list[Doubt]:
    """Places in the tones where samples stand still, or stand there twice, exactly and at both inputs."""
    step = 2.0 ** (1 - take.recording.bits) if take.recording.bits else 0.0
    if sound.tones.max() <= _STEPS * step:
        return []
    held = _held(take, float(sound.peak.max()))
    repeated = _repeated(take)
    doubts = []
    if held:
        most = max(length for _, length in held)
        words = f"the samples stand still in {_places(len(held))}, for up to {most} samples, first at {take.told(held[0][0])}"
        doubts.append(Doubt("DROPPED_OUT", words, (), MEND))
    if repeated:
        at, length = repeated[0]
        words = f"a block of {length} samples stands there twice in {_places(len(repeated))}, first at {take.told(at)}"
        doubts.append(Doubt("DROPPED_OUT", words, (), MEND))
    return doubts


MEND = (
    "Close other programs, choose a larger buffer in the driver, record to a disk of this computer and not over a network, and "
    "record again."
)


def _places(number: int) -> str:
    return f"{number} places" if number > 1 else "one place"


def _blocks(take: PlacedTake, overlap: int) -> Iterator[tuple[int, Array]]:
    """The tones block by block, each with where it begins; `overlap` samples stand in the next one again."""
    for part in take.plan.main:
        inside = take.stretch(part)
        kept = np.empty((0, 2))
        at = inside.start
        for block in take.recording.read(inside.start, inside.stop, BLOCK):
            joined = np.concatenate([kept, block])
            yield at - len(kept), joined
            at += len(block)
            kept = joined[-overlap:]


def _held(take: PlacedTake, peak: float) -> list[tuple[int, int]]:
    """Begin and length of runs in which both inputs stand still, other than at the top of the wave."""
    found: dict[int, int] = {}
    for at, waves in _blocks(take, _HELD):
        still = (np.diff(waves, axis=0) == 0).all(axis=1) & (np.abs(waves[1:]).max(axis=1) < 0.9 * peak)
        for first, length in runs(still):
            if length >= _HELD:
                found[at + first] = length + 1
    return _joined(found)


def _joined(found: dict[int, int]) -> list[tuple[int, int]]:
    """Runs that overlap or touch, as one."""
    joined: list[tuple[int, int]] = []
    for first, length in sorted(found.items()):
        if joined and first <= sum(joined[-1]):
            begun, _ = joined[-1]
            joined[-1] = (begun, max(sum(joined[-1]), first + length) - begun)
        else:
            joined.append((first, length))
    return joined


def runs(values: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Begin and length of each run of true ones."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], values, [False]]).astype(np.int8)))
    return [(int(first), int(last - first)) for first, last in edges.reshape(-1, 2)]


def _repeated(take: PlacedTake) -> list[tuple[int, int]]:
    """Begin and length of blocks that are exactly what stood there some samples before, and are not meant to be."""
    found: dict[int, int] = {}
    samples = 0
    for at, waves in _blocks(take, 2 * _FARTHEST):
        samples += len(waves)
        for lag in _lags(waves):
            if _meant(take, lag):
                continue
            same = (waves[lag:] == waves[:-lag]).all(axis=1)
            for first, length in runs(same):
                block = waves[lag + first : lag + first + length]
                if length >= max(_REPEAT, lag // 2) and np.ptp(block, axis=0).max() > 0:
                    found[at + lag + first] = max(length, found.get(at + lag + first, 0))
    # A signal that is the same over and over, without any noise, is no fault of the recording.
    if sum(found.values()) > samples / 2:
        return []
    return _joined(found)


def _lags(waves: Array) -> list[int]:
    """Distances at which windows of samples stand there twice, each window's nearest; the commonest ones."""
    sums = _sums(waves)
    if not len(sums):
        return []
    order = np.argsort(sums, kind="stable")
    twice = sums[order][1:] == sums[order][:-1]
    # Windows that stand still are alike everywhere.
    lags = np.diff(order)[twice]
    lags = lags[(lags > 0) & (lags <= _FARTHEST)]
    known, count = np.unique(lags, return_counts=True)
    common = known[count >= _REPEAT - _WINDOW]
    return [int(lag) for lag in common[np.argsort(-count[count >= _REPEAT - _WINDOW])][:8]]


def _sums(waves: Array) -> Unsigned:
    """A number for each window of samples, equal where all samples are; windows that stand still left out as unlike."""
    bits = np.ascontiguousarray(waves + 0.0).view(np.uint64)
    mixed = (bits[:, 0] * _MIX) ^ (bits[:, 1] * _MORE)
    mixed = (mixed ^ (mixed >> np.uint64(29))) * _MORE
    total = np.concatenate([np.zeros(1, np.uint64), np.cumsum(mixed, dtype=np.uint64)])
    sums = total[_WINDOW:] - total[:-_WINDOW]
    moved = np.concatenate([[0], np.cumsum((np.diff(waves, axis=0) != 0).any(axis=1))])
    still = moved[_WINDOW - 1 :] == moved[: len(moved) - _WINDOW + 1]
    sums[still] = np.arange(still.sum(), dtype=np.uint64)
    return np.asarray(sums)


def _meant(take: PlacedTake, lag: int) -> bool:
    """Whether the tones themselves repeat after so many samples."""
    plan = take.plan
    tones: list[int | None] = list(range(plan.turns)) if plan.way == "in turn" else [None]
    shift = round(lag / (1 + take.clock))
    for tone in tones:
        wave = one_period(plan, tone)
        if float(wave @ np.roll(wave, shift)) > 0.99 * float(wave @ wave):
            return True
    return False
