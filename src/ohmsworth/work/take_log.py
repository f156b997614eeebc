"""Takes of a study in the records: which recordings each was made of, and what they told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, Literal

from ohmsworth.work.tone_files import KINDS, Kind, Series

if TYPE_CHECKING:
    from ohmsworth.work.records import Line
    from ohmsworth.work.taken_reading import TakenReading


#: Fields of a standard that was taken over: the number of the study that it is of, and the key of that study.
OF, OF_KEY = "of", "of key"


@dataclass(frozen=True, slots=True)
class TakeFile:
    """A recording by the name of its file and the SHA-256 of it; the records keep no sound."""

    name: str
    sha256: str


#: The files of each recording: one, or the two of a pair.
Files = Mapping[Kind, tuple[TakeFile, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class RecordedTake:
    """The takes of one mating of a contact, as they stand now.

    Parameters
    ----------
    reading
        Which contact, under which condition, in which mating; who kept it and when; whether it counts. Its entry's resistance is
        R at the frequency that the study is answered at when it was kept.
    files
        What was recorded.
    digest
        Over the recordings.
    basis
        Over what they were analysed with: the wishes, the plan, the takes of short, load and open, the number of the analysis.
    told
        The impedance at every tone with its uncertainty, and what else the recordings say, as takes.analysed.json has it.
    dated
        Whether they were kept when they were recorded, and not taken in from a folder later.
    """

    reading: TakenReading
    files: Files
    digest: str
    basis: str
    told: Mapping[str, Any]
    dated: bool = True

    @property
    def at(self) -> datetime | None:
        """When they were recorded, or else kept; None where nobody knows. A time without a zone is that of this computer."""
        at = self.reading.entry.time or (self.reading.at if self.dated else None)
        return at if at is None or at.tzinfo else at.astimezone()


@dataclass(frozen=True, slots=True, eq=False)
class StandardTakes:
    """Takes of a short, of a known resistor or of nothing in the contact's place: a calibration, which carries its date.

    The last of each series that is not withdrawn is taken off the contacts that come after it. `at` is when they were kept
    first, in the study `of` where they were taken over from another; None for this study's own, and where that other is not in
    these records. `of_key` is the key of that study, by which it is known wherever it goes. They are `dated` unless they came
    from a folder that does not say when.
    """

    number: int
    key: str
    series: Series
    files: Files
    digest: str
    told: Mapping[str, Any]
    by: str
    at: datetime
    state: Literal["used", "withdrawn"] = "used"
    reason: str = ""
    of: int | None = None
    dated: bool = True
    of_key: str = ""


def take_fields(files: Files, digest: str, basis: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a line that keeps takes of a contact."""
    return {"files": _plain(files), "digest": digest, "basis": basis, "told": dict(told)}


def standard_fields(series: Series, files: Files, digest: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a line that keeps takes of a standard."""
    return {"series": series, "files": _plain(files), "digest": digest, "told": dict(told)}


def taken_over_fields(standard: StandardTakes, study: int, key: str) -> dict[str, Any]:
    """The fields of a line that takes a standard over from another `study` known by `key`, with the date of its own."""
    fields = standard_fields(standard.series, standard.files, standard.digest, standard.told)
    own = standard.of is None and not standard.of_key
    where = {OF: study, OF_KEY: key} if own else {OF: standard.of, OF_KEY: standard.of_key}
    undated = {} if standard.dated else {"dated": False}
    return {
        **fields,
        **{name: value for name, value in where.items() if value},
        "at": standard.at.isoformat(),
        **undated,
    }


def recorded_take(line: Line, reading: TakenReading) -> RecordedTake:
    """The takes that a line keeps."""
    fields = line.fields
    files, dated = _files(fields["files"]), "imported" not in fields
    return RecordedTake(reading, files, fields["digest"], fields["basis"], fields["told"], dated)


def standard_takes(line: Line) -> StandardTakes:
    """The takes of a standard that a line keeps."""
    fields = line.fields
    return StandardTakes(
        line.number,
        line.key,
        fields["series"],
        _files(fields["files"]),
        fields["digest"],
        fields["told"],
        line.by,
        datetime.fromisoformat(fields["at"]) if "at" in fields else line.at,
        of=fields.get(OF),
        of_key=fields.get(OF_KEY, ""),
        dated=fields.get("dated", "at" in fields or "imported" not in fields),
    )


def _plain(files: Files) -> dict[str, list[list[str]]]:
    return {kind: [[one.name, one.sha256] for one in files[kind]] for kind in KINDS if kind in files}


def _files(data: Mapping[str, Sequence[Sequence[str]]]) -> Files:
    return {kind: tuple(TakeFile(*pair) for pair in data[kind]) for kind in KINDS if kind in data}
