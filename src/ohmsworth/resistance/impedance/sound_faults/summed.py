"""A wave summed at some frequencies, whatever they are."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Samples of a block.
_BLOCK = 256


def summed_at(waves: Array, cycles: Array) -> Complex:
    """``Σ x_n exp(−2πj c n)``, `waves` of shape (samples,) or (samples, inputs), at `cycles` a sample.

    With n = B a + b the exponential is that of B a times that of b: they are reckoned for A + B values of n in place of A B.
    Shape (cycles,) or (cycles, inputs).
    """
    inputs = waves.reshape(len(waves), -1).T
    blocks = -(-inputs.shape[1] // _BLOCK)
    padded = np.zeros((len(inputs), blocks * _BLOCK))
    padded[:, : inputs.shape[1]] = inputs
    within = np.exp(-2j * np.pi * np.outer(np.arange(_BLOCK), cycles))
    across = np.exp(-2j * np.pi * np.outer(_BLOCK * np.arange(blocks), cycles))
    parts = padded.reshape(len(inputs), blocks, _BLOCK) @ within
    found = (parts * across).sum(axis=1).T
    return np.asarray(found[:, 0] if waves.ndim == 1 else found)
