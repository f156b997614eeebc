"""Quantiles of a magnitude over many draws: over neighbouring frequencies, only a few draws can be them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.draws import blocks_of, checked_draws, magnitudes, squares_of
from ohmsworth.consequence.circuit.forms import MOST_CONTACTS, Forms, forms_of, monomials
from ohmsworth.consequence.circuit.solve import Transfer
from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]
Places = npt.NDArray[np.intp]
#: The least and the largest magnitude of each draw, shape (n,) each.
Reach = tuple[Array, Array]

#: With fewer draws than this, bounds cost more than they save.
_FEW = 250
#: Frequencies that are bounded together, at most and at least; from one to the other by steps of four.
_MOST, _LEAST, _STEP = 1024, 64, 4
#: Part of the draws that may be left to be ranked before a narrower block is tried.
_LEFT = 1 / 8
#: Frequencies at which all draws are ranked where even the narrowest block leaves too many.
_GIVEN_UP = 512
#: Part of its terms that the rounding of a form stays below.
_ROUNDING = 1e-13


def magnitude_bands(transfer: Transfer, ohm: npt.ArrayLike, probabilities: npt.ArrayLike) -> Array:
    """Quantiles of the magnitude over the draws, linear between neighbours, shape (probabilities, m).

    Parameters
    ----------
    transfer, ohm
        As for `respond`.
    probabilities
        Between 0 and 1, shape (p,).

    Notes
    -----
    Those of all draws; draws that are below or above a quantile for sure are counted and not put in order. From the middle
    of a block of frequencies to any other of them, the |N| of a draw moves by at most Σ |Δn_S| Π r, and |D| alike: this
    bounds the draws, so the quantile, and so the draws that can be it.
    """
    wanted = np.atleast_1d(np.asarray(probabilities, dtype=float))
    if wanted.ndim != 1 or not np.all((wanted >= 0) & (wanted <= 1)):
        raise ArgumentFault("probabilities", probabilities, "one dimension of values between 0 and 1")
    drawn = checked_draws(transfer, ohm)
    if not len(drawn):
        raise ArgumentFault("ohm", "no draws", "at least one draw")
    ranks = [_Rank.of(float(one), len(drawn)) for one in wanted]
    blocks: Iterator[tuple[slice, Array]]
    if not ranks:
        blocks = iter(())
    elif len(transfer.contacts) > MOST_CONTACTS or len(drawn) < _FEW:
        blocks = ((place, _ranked(squares, ranks)) for place, squares in magnitudes(transfer, drawn))
    else:
        blocks = _by_bounds(forms_of(transfer), np.ascontiguousarray(monomials(drawn).T), ranks)
    result = np.empty((len(ranks), len(transfer.ideal)))
    for place, found in blocks:
        result[:, place] = found
    return result


@dataclass(frozen=True, slots=True)
class _Rank:
    """Where a quantile stands among values in order: `part` of the way from place `below` to place `above`."""

    below: int
    above: int
    part: float

    @staticmethod
    def of(probability: float, count: int) -> _Rank:
        position = probability * (count - 1)
        below = int(position)
        return _Rank(below, min(below + 1, count - 1), position - below)

    def within(self, squares: Array) -> Array:
        """The quantile of the roots, of squares in order along the last axis."""
        low, high = np.sqrt(squares[:, self.below]), np.sqrt(squares[:, self.above])
        return np.asarray(low + (high - low) * self.part)


def _ranked(squares: Array, ranks: list[_Rank]) -> Array:
    """Quantiles of all draws, shape (p, frequencies); `squares` is put in another order."""
    squares.partition(_places(ranks), axis=1)
    return np.array([rank.within(squares) for rank in ranks])


def _places(ranks: list[_Rank]) -> list[int]:
    return sorted({place for rank in ranks for place in (rank.below, rank.above)})


def _by_bounds(forms: Forms, terms: Array, ranks: list[_Rank]) -> Iterator[tuple[slice, Array]]:
    """The quantiles block by block, each as wide as leaves few draws to be ranked."""
    squares, usual = squares_of(forms), np.median(terms, axis=1)
    numerator, denominator = _scaled(forms.numerator, usual), _scaled(forms.denominator, usual)
    start, width, count = 0, _MOST, len(numerator)
    while start < count:
        block = slice(start, min(start + width, count))
        chosen = _candidates(_reach(numerator[block], terms), _reach(denominator[block], terms), ranks)
        left = sum(len(places) for places, _ in chosen) / terms.shape[1]
        if left <= _LEFT:
            yield from _ranked_among(squares, block, terms, chosen)
        elif width > _LEAST:
            width //= _STEP
            continue
        else:
            block = slice(start, min(start + _GIVEN_UP, count))
            for place in blocks_of(block, terms.shape[1]):
                yield place, _ranked(squares(place, terms), ranks)
        start = block.stop
        if left < _LEFT / _STEP:
            width = min(width * _STEP, _MOST)


def _scaled(form: Complex, usual: Array) -> Complex:
    """A form in units of its term that is largest as draws usually are: what frequency does to all draws alike drops out."""
    unit = form[:, np.argmax(np.abs(form).mean(0) * usual)]
    return np.asarray(form / np.where(unit == 0, 1, unit)[:, None])


def _reach(form: Complex, terms: Array) -> Reach:
    """The least and the largest magnitude that a form of each draw can have at any of some frequencies."""
    middle = form[len(form) // 2]
    real, imaginary = np.abs(middle.real @ terms), np.abs(middle.imag @ terms)
    # Apart, for beside a large real part a small imaginary one hardly counts, however it moves.
    rounding = _ROUNDING * np.abs(middle)
    real_moves = (np.abs(form.real - middle.real).max(0) + rounding) @ terms
    imaginary_moves = (np.abs(form.imag - middle.imag).max(0) + rounding) @ terms
    least = np.sqrt(np.maximum(real - real_moves, 0) ** 2 + np.maximum(imaginary - imaginary_moves, 0) ** 2)
    return least, np.sqrt((real + real_moves) ** 2 + (imaginary + imaginary_moves) ** 2)


def _candidates(top: Reach, bottom: Reach, ranks: list[_Rank]) -> list[tuple[Places, _Rank]]:
    """For each quantile the draws that can be it, and its rank among them."""
    least, most = top[0] / bottom[1], np.full(len(top[1]), np.inf)
    np.divide(top[1], bottom[0], out=most, where=bottom[0] > 0)
    lowest, highest = np.partition(least, _places(ranks)), np.partition(most, _places(ranks))
    found = []
    for rank in ranks:
        low, high = lowest[rank.below], highest[rank.above]
        passed = int(np.count_nonzero(most < low))
        places = np.flatnonzero((most >= low) & (least <= high))
        found.append((places, _Rank(rank.below - passed, rank.above - passed, rank.part)))
    return found


def _ranked_among(
    squares: Callable[[slice, Array], Array], block: slice, terms: Array, chosen: list[tuple[Places, _Rank]]
) -> Iterator[tuple[slice, Array]]:
    """Quantiles at a block of frequencies, each among its own candidates."""
    few = terms[:, np.concatenate([places for places, _ in chosen])]
    ends = np.cumsum([len(places) for places, _ in chosen])[:-1]
    for place in blocks_of(block, few.shape[1]):
        parts = np.split(squares(place, few), ends, axis=1)
        for part in parts:
            part.sort(axis=1)
        yield place, np.array([rank.within(part) for part, (_, rank) in zip(parts, chosen, strict=True)])
