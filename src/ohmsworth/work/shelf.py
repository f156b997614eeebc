"""The studies that are being worked on, read once and then only as far as their logs have grown."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from threading import Lock

from ohmsworth.work.records import Line, NoSuchCard, Records
from ohmsworth.work.study_log import StudyState, fold

#: Studies held ready; more than anybody works on at once.
MOST = 50


class Shelf:
    """What each study's log says, kept up to date by reading what was added since; safe between threads."""

    def __init__(self, records: Records) -> None:
        self._records = records
        self._states: OrderedDict[int, StudyState] = OrderedDict()
        self._lock = Lock()

    def state(self, study: int) -> StudyState:
        """The state of a study after every line that is on disk now.

        Raises
        ------
        NoSuchCard
            When there is no such card, or it is no study.
        """
        with self._lock:
            known = self._states.get(study)
        if known is None and (kind := self._records.card(study).kind) != "study":
            raise NoSuchCard(f"Card no. {study} is a {kind}: look at it on its own page.")
        lines = self._records.lines(study, after=known.last if known else 0)
        return self._keep(study, fold(lines, known) if lines or known is None else known)

    def after(self, study: int, before: StudyState, added: Sequence[Line]) -> StudyState:
        """The state after lines that were just `added`, read anew only where others came between."""
        if [line.number for line in added] != list(range(before.last + 1, before.last + 1 + len(added))):
            return self.state(study)
        return self._keep(study, fold(added, before))

    def _keep(self, study: int, state: StudyState) -> StudyState:
        with self._lock:
            kept = self._states.get(study)
            if kept is None or kept.last < state.last:
                self._states[study] = state
            self._states.move_to_end(study)
            while len(self._states) > MOST:
                self._states.popitem(last=False)
        return state
