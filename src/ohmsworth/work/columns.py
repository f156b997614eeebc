"""What has to be said with a reading of a study besides its figures: its names, and the columns that the study goes by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.readings.factors import PART_CONDITIONS
from ohmsworth.readings.names import clean_name, column_name, pair_name
from ohmsworth.readings.study import Study
from ohmsworth.work.study_log import StudyState

#: Columns that have a field of their own on every form, or are filled in by the program.
_OWN = ("specimen", "condition", "contact", "mating", "operator")
_PAIR = ("plug", "socket")


@dataclass(frozen=True, slots=True)
class Columns:
    """What is asked with every reading.

    Parameters
    ----------
    condition
        Whether a condition is asked: not where other columns make it up, or where no reading has one.
    further
        Columns beyond specimen, condition, contact and mating, in the order in which they are asked.
    paired
        Whether the specimen is the pair of a plug and a socket.
    """

    condition: bool = True
    further: tuple[str, ...] = ()
    paired: bool = False

    @property
    def needed(self) -> tuple[str, ...]:
        """Columns that may not be left empty."""
        return ("specimen", *(("condition",) if self.condition else ()), *self.further)

    def completed(self, labels: Mapping[str, str]) -> dict[str, str]:
        """`labels` with the specimen that plug and socket are together."""
        said = {column_name(heading): text for heading, text in labels.items()}
        parts = [clean_name(said.get(name, "")) for name in _PAIR]
        return {**labels, "specimen": pair_name(*parts)} if self.paired and all(parts) else dict(labels)

    def last_said(self, others: Mapping[str, str]) -> dict[str, str]:
        """What an earlier reading said in the further columns, whatever the capitals of its headings."""
        said = {column_name(heading): text for heading, text in others.items()}
        return {name: said.get(name, "") for name in self.further}


def columns_of(study: Study, state: StudyState) -> Columns:
    """The columns that the study names, and those of plug and socket where its readings have them."""
    counted = state.counted
    last = counted[-1].entry if counted else None
    said = {} if last is None else {column_name(heading): text for heading, text in last.others.items()}
    parts = tuple(name for name in (*_PAIR, *PART_CONDITIONS) if said.get(name))
    named = (*study.factors, *study.scatter_by)
    further = tuple(name for name in dict.fromkeys((*named, *parts)) if name not in _OWN)
    factors = study.factors or (PART_CONDITIONS if set(PART_CONDITIONS) <= set(further) else ())
    made_up = bool(factors) and "condition" not in factors
    none_has = last is not None and not any(one.entry.condition for one in counted)
    paired = last is not None and set(_PAIR) <= set(further)
    paired = paired and last is not None and last.specimen == pair_name(said["plug"], said["socket"])
    return Columns(not (made_up or none_has), further, paired)
