"""A wave summed at some frequencies, whatever they are."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Samples of a block.
_BLOCK = 256


def summed_at(waves: Array, turns: Array) -> Complex:
    """``Σ x_n exp(−2πj t n)``, `waves` of shape (samples,) or (samples, inputs), at `turns` in cycles a sample.

    With n = B a + b the exponential is that of B a times that of b: they are reckoned for A + B values of n in place of A B.
    Shape (turns,) or (turns, inputs).
    """
    inputs = waves.reshape(len(waves), -1).T
    blocks = -(-inputs.shape[1] // _BLOCK)
    padded = np.zeros((len(inputs), blocks * _BLOCK))
    padded[:, : inputs.shape[1]] = inputs
    within = np.exp(-2j * np.pi * np.outer(np.arange(_BLOCK), turns))
    across = np.exp(-2j * np.pi * np.outer(_BLOCK * np.arange(blocks), turns))
    parts = padded.reshape(len(inputs), blocks, _BLOCK) @ within
    found = (parts * across).sum(axis=1).T
    return np.asarray(found[:, 0] if waves.ndim == 1 else found)
