"""Study folders on disk: TOML and CSV read strictly, new ones and reports written; Touchstone files read and written."""

from ohmsworth.adapters.files.bench_folder import load_bench
from ohmsworth.adapters.files.bench_sheet import sheet_bytes
from ohmsworth.adapters.files.circuits import filled_use, load_uses, typed_uses
from ohmsworth.adapters.files.folder import load_question, load_study
from ohmsworth.adapters.files.form_fields import field_of
from ohmsworth.adapters.files.lot_folder import load_lot
from ohmsworth.adapters.files.memory import read_folder, read_question_text
from ohmsworth.adapters.files.profiles import load_profiles
from ohmsworth.adapters.files.question_text import form_of, revise, write_question
from ohmsworth.adapters.files.study_record import folder_of
from ohmsworth.adapters.files.template import write_new_study
from ohmsworth.adapters.files.touchstone import read_touchstone, write_touchstone
from ohmsworth.adapters.files.writing import write_file, write_files

__all__ = [
    "field_of",
    "filled_use",
    "folder_of",
    "form_of",
    "load_bench",
    "load_lot",
    "load_profiles",
    "load_question",
    "load_study",
    "load_uses",
    "read_folder",
    "read_question_text",
    "read_touchstone",
    "revise",
    "sheet_bytes",
    "typed_uses",
    "write_file",
    "write_files",
    "write_new_study",
    "write_question",
    "write_touchstone",
]
