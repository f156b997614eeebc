"""A study of the records as the folder that it is answered as, and exported as."""

from __future__ import annotations

from collections.abc import Callable

from ohmsworth.adapters.files.plain_names import is_plain
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.record_marks import parsed, with_marks
from ohmsworth.adapters.files.record_rows import named_columns, readings_bytes
from ohmsworth.adapters.files.record_takes import take_files
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_kept import FILE as KEPT
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.study_lines import kept_lines, lines_set_aside
from ohmsworth.work.study_log import StudyState

#: Files that are made from the log; a file of the study beside them has another name.
MADE = (STUDY, READINGS, TAKES, KEPT, "record.json", "files")


def folder_of(state: StudyState, content: Callable[[int], bytes] | None = None) -> dict[str, bytes]:
    """The files of the study by name: line i + 2 of readings.csv is ``state.counted[i]``.

    Without readings there is no readings.csv, without takes no takes.csv: the folder of a study without either is a question.
    Line i + 2 of takes.csv is ``takes_in_file(state)[i]``; what they told stands in takes.analysed.json. `content` gives the bytes of a file by the number
    of its line; of files of one name the last counts.

    Raises
    ------
    InputRefused
        When readings are of two kinds, or a file beside study.toml has a name that no file of a folder can have.
    """
    table = parsed(state.question) or {}
    toml = with_marks(state.question, kept_lines(state), lines_set_aside(state))
    files = {STUDY: toml.encode("utf-8", "replace")}
    if state.counted:
        files[READINGS] = readings_bytes(state.counted, named_columns(table))
    files |= take_files(state, named_columns(table))
    beside = {one.name: one.number for one in state.files if one.beside}
    faults = tuple(_fault(name) for name in beside if not is_plain(name) or name.lower() in MADE)
    if faults:
        raise InputRefused(faults)
    if content is not None:
        files |= {name: content(number) for name, number in beside.items()}
    return files


def _fault(name: str) -> Fault:
    expected = f"the name of one file, other than {', '.join(MADE)}"
    return Fault("a file of the study", shorten(name), expected, "Add the file again under another name.")
