"""What a quantity is for many draws of contact resistances at many frequencies, in blocks that bound the memory."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.forms import LEAST_OHM, MOST_CONTACTS, Forms, forms_of, monomials
from ohmsworth.consequence.circuit.solve import Transfer
from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Values computed at a time, so that a block stays in the processor's cache.
_BLOCK = 2**15


def respond(transfer: Transfer, ohm: npt.ArrayLike) -> Complex:
    """The quantity for n draws of the contacts' resistances, shape (n, m).

    Parameters
    ----------
    transfer
        Of a circuit with K contacts, at m frequencies.
    ohm
        Shape (n, K), 0 or more, contacts in the order of `transfer.contacts`. Of one that stands for several the sum of all:
        its `count` is not reckoned in, for several contacts are drawn one by one.

    Notes
    -----
    N(r)/D(r), see `Forms`; with more than six contacts they are put in one after the other. For more than memory holds
    go through `magnitudes` or `magnitude_bands`.
    """
    drawn = checked_draws(transfer, ohm)
    if len(transfer.contacts) > MOST_CONTACTS:
        result = np.empty((len(drawn), len(transfer.ideal)), dtype=np.complex128)
        for place in blocks_of(slice(0, len(transfer.ideal)), len(drawn)):
            result[:, place] = _one_by_one(transfer, drawn, place).T
        return result
    forms, terms = forms_of(transfer), monomials(drawn)
    result = np.empty((len(drawn), len(transfer.ideal)), dtype=np.complex128)
    top, bottom = (_pairs(form) for form in (forms.numerator, forms.denominator))
    rows = max(1, _BLOCK // max(1, len(transfer.ideal)))
    for start in range(0, len(drawn), rows):
        part = terms[start : start + rows]
        np.divide(
            (part @ top).view(np.complex128),
            (part @ bottom).view(np.complex128),
            out=result[start : start + rows],
        )
    return result


def magnitudes(transfer: Transfer, ohm: npt.ArrayLike) -> Iterator[tuple[slice, Array]]:
    """Squared magnitudes, a block of frequencies at a time: their places and an array of shape (frequencies, n).

    Parameters
    ----------
    transfer, ohm
        As for `respond`.
    """
    drawn = checked_draws(transfer, ohm)
    squares = _squares(transfer, drawn)
    for place in blocks_of(slice(0, len(transfer.ideal)), len(drawn)):
        yield place, squares(place)


def _squares(transfer: Transfer, drawn: Array) -> Callable[[slice], Array]:
    """Squared magnitudes at a slice of the frequencies, shape (frequencies, n)."""
    if len(transfer.contacts) > MOST_CONTACTS:

        def plainly(place: slice) -> Array:
            found = _one_by_one(transfer, drawn, place)
            return np.asarray(found.real**2 + found.imag**2)

        return plainly
    squares, terms = squares_of(forms_of(transfer)), np.ascontiguousarray(monomials(drawn).T)
    return lambda place: squares(place, terms)


def squares_of(forms: Forms) -> Callable[[slice, Array], Array]:
    """Squared magnitudes at a slice of the frequencies for `monomials` of n draws, shape (2^K, n), as (frequencies, n)."""
    top, bottom = _square(forms.numerator), _square(forms.denominator)

    def squares(place: slice, terms: Array) -> Array:
        found = np.asarray(top(place, terms) / bottom(place, terms))
        return found if found.shape[1] == terms.shape[1] else np.repeat(found, terms.shape[1], axis=1)

    return squares


def _square(form: Complex) -> Callable[[slice, Array], Array]:
    """Squared magnitude of a form, as above, but of one column where it is the same for all draws."""
    # Contacts in series with all else do not show in the numerator.
    if not np.any(form[:, 1:]):
        constant = form[:, :1].real ** 2 + form[:, :1].imag ** 2
        return lambda place, _terms: constant[place]
    real, imaginary = np.ascontiguousarray(form.real), np.ascontiguousarray(form.imag)

    def squared(place: slice, terms: Array) -> Array:
        a, b = real[place] @ terms, imaginary[place] @ terms
        a *= a
        b *= b
        a += b
        return np.asarray(a)

    return squared


def _pairs(form: Complex) -> Array:
    """Coefficients as columns of real and imaginary parts in turn: a real product then gives complex numbers."""
    return np.ascontiguousarray(form.T).view(np.float64)


def blocks_of(places: slice, count: int) -> Iterator[slice]:
    """The frequencies of `places` in blocks, as `count` draws are computed at each."""
    step = max(1, _BLOCK // max(1, count))
    return (slice(start, min(start + step, places.stop)) for start in range(places.start, places.stop, step))


def checked_draws(transfer: Transfer, ohm: npt.ArrayLike) -> Array:
    """`ohm` as an array, or ArgumentFault where its shape or a value cannot be."""
    drawn = np.asarray(ohm, dtype=float)
    wanted = f"shape (n, {len(transfer.contacts)}), 0 or more ohm for each of {', '.join(transfer.contacts) or 'no contacts'}"
    if drawn.ndim != 2 or drawn.shape[1] != len(transfer.contacts):
        raise ArgumentFault("ohm", f"shape {drawn.shape}", wanted)
    if not (np.all(np.isfinite(drawn)) and np.all(drawn >= 0)):
        raise ArgumentFault("ohm", "values below 0 or not finite", wanted)
    return drawn


def _one_by_one(transfer: Transfer, drawn: Array, place: slice) -> Complex:
    """Put the contacts in, y = y0 − T r (1 + G r)⁻¹ i0 by elimination of one contact after the other, shape (frequencies, n).

    No pivot is below 1 in size where the circuit is passive: it is 1 + r times the admittance that the contact sees.
    """
    size = len(transfer.contacts)
    alone: Complex = np.eye(size, dtype=np.complex128)[None]
    lost: Complex = np.zeros((1, size), dtype=np.complex128)
    if transfer.loops is not None:
        alone, lost = transfer.loops.alone[place], transfer.loops.lost[place]
        drawn = drawn + LEAST_OHM * transfer.loops.closing
    r = [drawn[None, :, k] for k in range(size)]
    terms = [transfer.carried[place, k, None] * r[k] + lost[:, k, None] for k in range(size)]
    rows: list[list[Complex]] = [[transfer.ideal[place, None], *terms]]
    for i in range(size):
        row = [transfer.seen[place, i, k, None] * r[k] + alone[:, i, k, None] for k in range(size)]
        rows.append([transfer.through[place, i, None], *row])
    for k in range(size, 0, -1):
        for i in range(k):
            factor = rows[i][k] / rows[k][k]
            for j in range(k):
                rows[i][j] = rows[i][j] - factor * rows[k][j]
    return np.asarray(np.broadcast_to(rows[0][0], (len(transfer.ideal[place]), len(drawn))))
