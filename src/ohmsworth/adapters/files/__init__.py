"""Study folders on disk: TOML and CSV read strictly, new ones and reports written; Touchstone files read and written."""

from ohmsworth.adapters.files.bench_folder import load_bench
from ohmsworth.adapters.files.bench_sheet import sheet_bytes
from ohmsworth.adapters.files.cable_folder import cable_texts, load_cable, read_built, read_cable_texts
from ohmsworth.adapters.files.cable_text import cable_toml, described, tested, written_sheet, written_test
from ohmsworth.adapters.files.care.care_folder import load_care, read_care_files
from ohmsworth.adapters.files.care.known_folders import load_studies
from ohmsworth.adapters.files.circuits import filled_use, load_uses, typed_uses
from ohmsworth.adapters.files.folder import load_question, load_study
from ohmsworth.adapters.files.form_fields import field_of
from ohmsworth.adapters.files.laid_out import lay_out, read_laid_out
from ohmsworth.adapters.files.line_json import content_name
from ohmsworth.adapters.files.lot_folder import load_lot
from ohmsworth.adapters.files.lot_text import is_lot, lot_texts, read_lot_texts
from ohmsworth.adapters.files.memory import (
    read_bench_folder,
    read_folder,
    read_lot_folder,
    read_question_text,
    read_tones_text,
)
from ohmsworth.adapters.files.packed import write_tree, write_zip
from ohmsworth.adapters.files.paper_text import with_paper
from ohmsworth.adapters.files.plain_names import paper_name, safe_name
from ohmsworth.adapters.files.plan_json import plan_bytes, read_plan_json
from ohmsworth.adapters.files.profiles import load_profiles
from ohmsworth.adapters.files.question_text import form_of, revise, write_question
from ohmsworth.adapters.files.record_folder import read_study_folder
from ohmsworth.adapters.files.record_json import record_files
from ohmsworth.adapters.files.record_marks import with_history
from ohmsworth.adapters.files.shop_json import open_shop, settings_bytes, shop_bytes
from ohmsworth.adapters.files.study_record import folder_of
from ohmsworth.adapters.files.takes_folder import load_takes
from ohmsworth.adapters.files.takes_kept import sha_of
from ohmsworth.adapters.files.template import write_new_study
from ohmsworth.adapters.files.tones_folder import load_tones
from ohmsworth.adapters.files.tones_text import tone_field, tone_form, tones_text
from ohmsworth.adapters.files.touchstone import read_touchstone, write_touchstone
from ohmsworth.adapters.files.writing import write_file, write_files, write_new_files

__all__ = [
    "cable_texts",
    "cable_toml",
    "content_name",
    "described",
    "field_of",
    "filled_use",
    "folder_of",
    "form_of",
    "is_lot",
    "lay_out",
    "load_bench",
    "load_cable",
    "load_care",
    "load_lot",
    "load_profiles",
    "load_question",
    "load_studies",
    "load_study",
    "load_takes",
    "load_tones",
    "load_uses",
    "lot_texts",
    "open_shop",
    "paper_name",
    "plan_bytes",
    "read_bench_folder",
    "read_built",
    "read_cable_texts",
    "read_care_files",
    "read_folder",
    "read_laid_out",
    "read_lot_folder",
    "read_lot_texts",
    "read_plan_json",
    "read_question_text",
    "read_study_folder",
    "read_tones_text",
    "read_touchstone",
    "record_files",
    "revise",
    "safe_name",
    "settings_bytes",
    "sha_of",
    "sheet_bytes",
    "shop_bytes",
    "tested",
    "tone_field",
    "tone_form",
    "tones_text",
    "typed_uses",
    "with_history",
    "with_paper",
    "write_file",
    "write_files",
    "write_new_files",
    "write_new_study",
    "write_question",
    "write_touchstone",
    "write_tree",
    "write_zip",
    "written_sheet",
    "written_test",
]
