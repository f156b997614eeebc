"""What the use cases need from outside; adapters implement it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault
from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.report.document import Document
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.tone_form import ToneForm

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

    from ohmsworth.cables.request import CableRequest, CableRow
    from ohmsworth.consequence.twoport import OnePort, TwoPort
    from ohmsworth.readings.paper_request import PaperRequest
    from ohmsworth.resistance.impedance.curve import Curve
    from ohmsworth.resistance.impedance.known import Known
    from ohmsworth.resistance.impedance.of_contacts import Impedances
    from ohmsworth.resistance.impedance.tone_plan import TonePlan
    from ohmsworth.resistance.impedance.wishes import Wishes
    from ohmsworth.work.loaded_takes import LoadedTakes
    from ohmsworth.work.take_state import TakeState
    from ohmsworth.work.takes_setup import TakesSetup
    from ohmsworth.work.tone_files import Series


@dataclass(frozen=True, slots=True, eq=False)
class LoadedImpedances:
    """Impedances of a study's contacts, and what the recordings of each said beside.

    `asked` are the frequencies in hertz that the study asks about, as it says them. `outdated` are the lines of takes that were
    analysed otherwise than the others would be now, by the standards that are still in them (none where it was something else),
    and `short` is what the short told. `setup` is how they were made; None for a single take.
    """

    found: Impedances
    states: tuple[TakeState, ...]
    asked: tuple[float, ...] = ()
    outdated: Mapping[tuple[Series, ...], tuple[int, ...]] = field(default_factory=dict)
    short: Curve | None = None
    setup: TakesSetup | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LoadedStudy:
    """A study as read: its question, its readings, and the headings of columns that were not used.

    `checks` are the readings of the check standard, a table a file. `history` holds past studies that it
    names, each with the folder as written. `impedances` are those of its contacts where takes were made; `tone` is the number
    of the tone at which `table` holds their resistances, None where it holds readings of direct current.
    """

    study: Study
    table: ReadingTable
    unused: tuple[str, ...]
    checks: tuple[CheckTable, ...] = ()
    history: tuple[tuple[str, LoadedStudy], ...] = ()
    impedances: LoadedImpedances | None = None
    tone: int | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LoadedBench:
    """What a folder holds of the bench: a repeatability study, readings of the check standard (a table a file), or both."""

    study: Study
    table: ReadingTable | None
    checks: tuple[CheckTable, ...]
    unused: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class LoadedLot:
    """A question about a lot, and the study with its sample's readings; None before there are any."""

    study: Study
    sample: LoadedStudy | None


@dataclass(frozen=True, slots=True, eq=False)
class LoadedCable:
    """A cable as described, and what was measured at it: None before there is anything, with headings that are not used.

    `paper` is what is stated for its certificate, None where nothing is.
    """

    request: CableRequest
    rows: tuple[CableRow, ...] | None
    unused: tuple[str, ...]
    paper: PaperRequest | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LoadedNetwork:
    """A one-port or two-port as read from a file.

    `reference_resistance` is what the file states S for, in ohm, port by port; `notes` say what was taken for granted or
    left aside.
    """

    network: OnePort | TwoPort
    reference_resistance: tuple[float, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class LoadedTones:
    """What the folder of a measurement over frequency holds before it is analysed.

    `begin` is the text of the tones.toml to begin with where there was none, `plan` the plan that drive.wav was made of (None
    where there is none or it cannot be read), `recordings` the names of those that are there, `known` what tones.toml says
    for the analysis (None is nothing), and `contacts` the names of the recordings of a study of many contacts.
    """

    wishes: Wishes
    begin: bytes | None
    plan: TonePlan | None
    recordings: tuple[str, ...]
    known: Known | None = None
    contacts: tuple[str, ...] = ()


#: Reads a study folder; raises InputRefused with every fault.
LoadStudy = Callable[[Path], LoadedStudy]
#: The same for the bench.
LoadBench = Callable[[Path], LoadedBench]
#: Reads the question alone, before anything is read at the bench.
LoadQuestion = Callable[[Path], Study]
#: Reads a question about a lot, and its readings where there are any.
LoadLot = Callable[[Path], LoadedLot]
#: The same of a folder that is on no disk, from its files by name, and of past studies by their number in the records.
ReadLotFolder = Callable[[Mapping[str, bytes], "PastFolder | None"], LoadedLot]
#: Reads a folder that describes a cable, and what was measured at it where there is anything.
LoadCable = Callable[[Path], LoadedCable]
#: Reads what is wished for in such a folder, which may be new.
LoadTones = Callable[[Path], LoadedTones]
#: Reads it with its recordings.
LoadTakes = Callable[[Path], "LoadedTakes"]
#: Writes the drive of a plan with as many channels beside the path; it takes its place once all else has gone well.
StageDrive = Callable[[Path, "TonePlan", int], "AbstractContextManager[None]"]
#: The bytes of a file of a study in the records, by the number of its line.
FileContent = Callable[[int], bytes]
#: The files of another study of the records by its number; None where there is none.
PastFolder = Callable[[int], Mapping[str, bytes] | None]
#: The folder as which a study of the records is answered and exported.
FolderOf = Callable[[StudyState, FileContent | None], dict[str, bytes]]
#: Reads such a folder from its files; raises InputRefused with every fault.
ReadFolder = Callable[[Mapping[str, bytes], PastFolder | None], LoadedStudy]
#: Reads what such a folder says of the bench; raises InputRefused with every fault.
ReadBenchFolder = Callable[[Mapping[str, bytes]], LoadedBench]
#: Reads a study.toml from its text, with the files that stand beside it.
ReadQuestionText = Callable[[str, Mapping[str, bytes]], Study]
#: A filled-in form to the text of study.toml and back; and a text with what the form says otherwise changed.
WriteQuestion = Callable[[StudyForm], str]
FormOf = Callable[[str], StudyForm]
ReviseQuestion = Callable[[str, StudyForm], str]
#: The field of the form that a fault of study.toml is about.
FieldOf = Callable[[Fault], str | None]
#: A filled-in form to the text of tones.toml, with what another text says beside; and back.
TonesText = Callable[[ToneForm, str], str]
ToneFormOf = Callable[[str], ToneForm]
#: Reads a tones.toml from its text, with the plan.json beside it; raises InputRefused with every fault.
ReadTones = Callable[[str, bytes | None], "tuple[Wishes, Known, TonePlan | None]"]
#: Draws a document.
RenderText = Callable[[Document], str]
RenderPage = Callable[[Document], str]
RenderPdf = Callable[[Document, datetime], bytes]
