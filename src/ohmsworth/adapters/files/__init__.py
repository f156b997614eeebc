"""Study folders on disk: TOML and CSV read strictly, new ones and reports written; Touchstone files read and written."""

from ohmsworth.adapters.files.bench_folder import load_bench
from ohmsworth.adapters.files.bench_sheet import sheet_bytes
from ohmsworth.adapters.files.circuits import filled_use, load_uses, typed_uses
from ohmsworth.adapters.files.folder import load_question, load_study
from ohmsworth.adapters.files.lot_folder import load_lot
from ohmsworth.adapters.files.template import write_new_study
from ohmsworth.adapters.files.touchstone import read_touchstone, write_touchstone
from ohmsworth.adapters.files.writing import write_file, write_files

__all__ = [
    "filled_use",
    "load_bench",
    "load_lot",
    "load_question",
    "load_study",
    "load_uses",
    "read_touchstone",
    "sheet_bytes",
    "typed_uses",
    "write_file",
    "write_files",
    "write_new_study",
    "write_touchstone",
]
