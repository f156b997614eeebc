"""One value a visit: what was read of a specimen on one day, whatever contacts and matings were read.

    y = c + v,   c of the contact, v of the visit, by least squares

Readings of one day share the bench, the air and the hands, so that a visit is one observation, however many readings it has.
Where the same contacts were read at every visit v is their mean; where they were not, a contact that reads high does not lift the
visits in which it was read. Visits that no contact joins have nothing in common and belong to different courses.
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array, Codes

_ROUNDS, _SETTLED = 500, 1e-12


def by_visit(y: Array, contact: Codes, visit: Codes) -> tuple[Array, Codes]:
    """Bring the readings of each visit together.

    Parameters
    ----------
    y
        On the scale of analysis, one for each contact at each visit, shape (n,).
    contact
        Number of the contact within its specimen and course, from 0 without a gap.
    visit
        Number of the visit, from 0 without a gap.

    Returns
    -------
    Array
        One value a visit; those of one course have a common, free height.
    Codes
        Which course each visit belongs to.

    Raises
    ------
    ArgumentFault
        For arrays that differ in length.
    """
    values = np.asarray(y, float)
    if values.ndim != 1 or np.shape(contact) != values.shape or np.shape(visit) != values.shape:
        raise ArgumentFault("y", values.shape, "rows of one length")
    contacts, visits = int(contact.max()) + 1, int(visit.max()) + 1
    size = contacts + visits
    joined = coo_array((np.ones(len(values)), (contact, contacts + visit)), shape=(size, size))
    course = connected_components(joined, directed=False)[1][contacts:]
    of_contact, of_visit = np.zeros(contacts), np.zeros(visits)
    counts = np.bincount(contact, minlength=contacts), np.bincount(visit, minlength=visits)
    # Each in turn about the other: ends at least squares, at once where every visit has the same contacts.
    for _ in range(_ROUNDS):
        of_contact = np.bincount(contact, values - of_visit[visit], contacts) / counts[0]
        before, of_visit = of_visit, np.bincount(visit, values - of_contact[contact], visits) / counts[1]
        if np.abs(of_visit - before).max() <= _SETTLED * (1 + np.abs(of_visit).max()):
            break
    return of_visit, np.asarray(course, np.int64)
